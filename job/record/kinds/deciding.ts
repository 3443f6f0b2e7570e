import { z } from 'zod'
import { hashSchema, headSchema, signatureSchema, subjectSchema } from './parts.ts'

/** What a person decides. Proposed and decided are different facts: each of these is signed, and no program makes one. */

/** An indication as one examination has it. */
const seenAs = z.strictObject({ examination: hashSchema, id: z.string().min(1) })

/** A class by a person, for one indication in all the scans that have seen it so far. What sees it later reopens it. */
export const interpreted = z.strictObject({
  kind: z.literal('interpreted'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  seen: z.array(seenAs).min(1),
  class: z.enum(['false', 'nonrelevant', 'damage, not a crack', 'relevant']),
  /** stated before the person was shown what the program proposes; absent: after it, or nobody knows */
  before_proposal: z.literal(true).optional(),
  reason: z.string().min(1).max(2000).optional(),
  signed: signatureSchema
})

export const dispositionSchema = z.enum(['no recordable indication', 'clean-up ream', 'reject', 'refer'])

/**
 * What is done about a place. "No recordable indication" holds at or above the level and in the examined zones only.
 * `ream` is the arithmetic that the person had before their eyes.
 */
export const disposed = z.strictObject({
  kind: z.literal('disposed'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  disposition: dispositionSchema,
  seen: z.array(seenAs),
  reason: z.string().min(1).max(2000).optional(),
  ream: z.record(z.string(), z.json()).optional(),
  signed: signatureSchema
})

/** Another person has looked at what an entry decided. One that disagrees takes the decision out of force. */
export const secondLook = z.strictObject({
  kind: z.literal('second-look'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  of: z.string().min(1),
  agrees: z.boolean(),
  reason: z.string().min(1).max(2000).optional(),
  signed: signatureSchema
})

/** A hole was cut. What was scanned before is of another wall: it stays in the record, and counts for nothing after. */
export const reamed = z.strictObject({
  kind: z.literal('reamed'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  aimed_mm: z.number().positive(),
  tool: z.string().min(1).optional(),
  signed: signatureSchema
})

/** What a person wants to be read beside a place. It decides nothing. */
export const noted = z.strictObject({
  kind: z.literal('noted'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  text: z.string().min(1).max(2000),
  signed: signatureSchema
})

export type Disposition = z.output<typeof dispositionSchema>
export type SeenAs = z.output<typeof seenAs>
