import { z } from 'zod'
import { hashSchema, headSchema, subjectSchema } from './parts.ts'

export const zoneOutcome = z.strictObject({
  zone: z.string(),
  state: z.enum(['examined', 'not examined']),
  covered: z.number().min(0).max(1),
  why: z.array(z.string())
})

export const indicationOutcome = z.strictObject({
  id: z.string(),
  zone: z.string(),
  class: z.enum(['false', 'nonrelevant', 'damage, not a crack', 'relevant', 'undecided']),
  crossedAlarm: z.boolean(),
  amplitude: z.number(),
  sizeWithheld: z.boolean(),
  /** what it is taken for; this and its place are absent where they are not known, and in entries of earlier programs */
  cause: z.string().optional(),
  angle_rad: z.number().optional(),
  z_m: z.number().optional(),
  z0_m: z.number().optional(),
  z1_m: z.number().optional()
})

/** One recording has been examined. The whole of it is the document; what states are counted from is repeated here. */
export const examined = z.strictObject({
  kind: z.literal('examined'),
  version: z.literal(1),
  ...headSchema,
  examination: hashSchema,
  subject: subjectSchema,
  recording: hashSchema,
  standardization: z.union([hashSchema, z.literal('none')]),
  method: z.number().int(),
  zones: z.array(zoneOutcome),
  indications: z.array(indicationOutcome),
  refusals: z.array(z.string())
})

export type ZoneOutcome = z.output<typeof zoneOutcome>
export type IndicationOutcome = z.output<typeof indicationOutcome>
