import { z } from 'zod'
import { hashSchema, headSchema, signatureSchema } from './parts.ts'

/**
 * Which places of the job were practice all along, and what was there: the answers whose hash stood in the record from its
 * beginning. From then on they count for nothing of the part.
 */
export const practiceMarked = z.strictObject({
  kind: z.literal('practice-marked'),
  version: z.literal(1),
  ...headSchema,
  /** SHA-256 of the answers as canonical JSON; they are a document of the archive */
  answers: hashSchema,
  places: z
    .array(z.strictObject({ name: z.string().min(1), flawed: z.boolean(), what: z.string().min(1).max(500) }))
    .min(1)
    .max(20),
  signed: signatureSchema
})
