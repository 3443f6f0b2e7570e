import { z } from 'zod'
import { hashSchema, headSchema, signatureSchema, signedSchema } from './parts.ts'

/** Work handed from one shift to the next: the one who goes signs what is open, the one who comes signs to have it. */

export const handedOver = z.strictObject({
  kind: z.literal('handed-over'),
  version: z.literal(1),
  ...headSchema,
  to: z.string().min(1).max(200),
  note: z.string().min(1).max(5000),
  signed: signatureSchema
})

export const takenOver = z.strictObject({
  kind: z.literal('taken-over'),
  version: z.literal(1),
  ...headSchema,
  /** id of the entry by which it was handed over */
  of: z.string().min(1),
  signed: signatureSchema
})

/**
 * The computer's clock was wrong. Entries after this one may be earlier than those before it. Unsigned only where the
 * archive has no registers.
 */
export const clockCorrected = z.strictObject({
  kind: z.literal('clock-corrected'),
  version: z.literal(1),
  ...headSchema,
  reason: z.string().min(1).max(2000),
  signed: signedSchema
})

/**
 * Two devices worked on this job apart. Both chains are kept: the rows of the other one, from the first that differs, are
 * the document `theirs.rows`; its entries that this record did not have stand just before this one, in their order. Both
 * heads are cited, and the person has signed over ours.
 */
export const merged = z.strictObject({
  kind: z.literal('merged'),
  version: z.literal(1),
  ...headSchema,
  /** entries that both have, from the first on */
  common: z.number().int().min(1),
  ours: z.strictObject({ count: z.number().int().min(1), head: hashSchema }),
  theirs: z.strictObject({ count: z.number().int().min(1), head: hashSchema, rows: hashSchema }),
  /** ids of the entries that come in, in the order of the other chain, and of the one that stands before the first there */
  brings: z.array(z.string().min(1)).min(1),
  after: z.string().min(1),
  /** entries that both made under one id, saying different things: which members differ */
  differs: z.array(z.strictObject({ id: z.string().min(1), members: z.array(z.string().min(1)).min(1) })),
  reason: z.string().min(1).max(2000),
  /** by how much the clocks of the two can have differed at most, where the person knows it, s */
  clocks_agree_s: z.number().min(0).max(86_400).optional(),
  signed: signatureSchema
})
