import { z } from 'zod'
import { hashSchema, headSchema } from './parts.ts'

/** A reference scan has become a standardization. */
export const standardized = z.strictObject({
  kind: z.literal('standardized'),
  version: z.literal(1),
  ...headSchema,
  standardization: hashSchema,
  recording: hashSchema,
  method: z.number().int(),
  /** of the hole of its reference standard; absent in entries of earlier programs, and where there is no hole */
  diameter_mm: z.number().positive().optional(),
  /** runs over the same block under its shims, `recording` among them; absent where it was one */
  shims: z
    .array(z.strictObject({ recording: hashSchema, shim_mm: z.number().min(0) }))
    .min(1)
    .optional()
})

/** How far one notch has moved since the standardization. */
export const driftSchema = z.strictObject({
  notch: z.string().min(1),
  /** amplitude now over then, less 1 */
  amplitude: z.number(),
  angle_deg: z.number(),
  met: z.boolean()
})

/** The set-up was looked at again. What a failed one voids follows from the order of the scans, and is said here too. */
export const recheck = z.strictObject({
  kind: z.literal('recheck'),
  version: z.literal(1),
  ...headSchema,
  recording: hashSchema,
  standardization: hashSchema,
  passed: z.boolean(),
  allowed: z.strictObject({
    amplitude: z.number(),
    angle_deg: z.number(),
    noise: z.number().optional(),
    /** absent: a notch that answers more strongly than allowed fails too */
    gain_of_sensitivity: z.literal('is noted').optional()
  }),
  drifts: z.array(driftSchema).min(1),
  /** noise of the wall of the standard now over then, less 1; absent where the recheck could not be read */
  noise: z.strictObject({ growth: z.number(), met: z.boolean() }).optional(),
  /** pairs of notches of which the weaker has become the stronger */
  reversed: z
    .array(z.tuple([z.string(), z.string()]))
    .min(1)
    .optional(),
  voids: z.array(hashSchema)
})

export type DriftRow = z.output<typeof driftSchema>
