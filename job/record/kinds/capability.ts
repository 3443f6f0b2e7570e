import { z } from 'zod'
import { hashSchema, headSchema, signatureSchema } from './parts.ts'

/**
 * A Level III attaches what has been demonstrated for a set-up. It is printed only as long as its conditions are those of
 * the job: technique and method.
 */
export const capabilityAttached = z.strictObject({
  kind: z.literal('capability-attached'),
  version: z.literal(1),
  ...headSchema,
  /** what was demonstrated, in words, with its figures */
  words: z.string().min(1).max(5000),
  /** report of the demonstration */
  source: z.string().min(1).max(500),
  conditions: z.strictObject({ technique: hashSchema, method: z.number().int() }),
  signed: signatureSchema
})
