import { z } from 'zod'
import { headSchema, signedSchema } from './parts.ts'

/**
 * An entry was wrong. It stays; this one points at it and says what holds instead: `becomes` is the whole body of the
 * entry as it should have been, or "withdrawn". What was measured or computed is not corrected, it is done again.
 */
export const corrected = z.strictObject({
  kind: z.literal('corrected'),
  version: z.literal(1),
  ...headSchema,
  corrects: z.string().min(1),
  reason: z.string().min(1),
  becomes: z.union([z.literal('withdrawn'), z.record(z.string(), z.json())]),
  /** absent in entries of archives without registers */
  signed: signedSchema.optional()
})
