import { z } from 'zod'
import { hashSchema, headSchema, subjectSchema } from './parts.ts'

const doneBy = z.strictObject({ by: z.string().min(1), on: z.string() })

/**
 * What was done to a place before it was scanned. Of a place that was prepared again the later entry counts for what is kept
 * after it. Unsigned: keys come with a later version of this kind.
 */
export const placePrepared = z.strictObject({
  kind: z.literal('place-prepared'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  cleaned: doneBy,
  deburred: z.enum(['yes', 'not needed', 'not allowed']),
  visual: z.string().min(1),
  /** content of a photo that is kept as an original */
  photo: hashSchema.optional(),
  /** largest diameter, and the largest less the smallest; absent, all five, where it was not measured */
  measured_diameter_mm: z.number().positive().optional(),
  out_of_round_mm: z.number().min(0).optional(),
  gauge: z.string().min(1).optional(),
  gauge_uncertainty_mm: z.number().min(0).optional(),
  measured: doneBy.optional(),
  signed: z.literal(false)
})
