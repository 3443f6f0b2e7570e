import { z } from 'zod'
import { hashSchema, headSchema, signatureSchema } from './parts.ts'

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

/** The computer's clock was wrong. Entries after this one may be earlier than those before it. */
export const clockCorrected = z.strictObject({
  kind: z.literal('clock-corrected'),
  version: z.literal(1),
  ...headSchema,
  reason: z.string().min(1).max(2000),
  signed: signatureSchema
})

/**
 * Two devices worked on this job apart. Both chains are kept: the other's rows are the document, named by its hash; its
 * entries follow this one in their order. Both heads are cited.
 */
export const merged = z.strictObject({
  kind: z.literal('merged'),
  version: z.literal(1),
  ...headSchema,
  common: z.number().int().min(1),
  ours: z.strictObject({ count: z.number().int().min(1), head: hashSchema }),
  theirs: z.strictObject({ count: z.number().int().min(1), head: hashSchema, rows: hashSchema }),
  signed: signatureSchema
})
