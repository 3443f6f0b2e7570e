import { z } from 'zod'
import { happeningNames } from '../../plan/index.ts'
import { equipmentSchema, hashSchema, headSchema, personSchema, signedSchema } from './parts.ts'

/** What a report is asked for and only a person can say; absent where nobody has. */
const told = {
  laboratory: z.string().optional(),
  client: z.string().optional(),
  condition: z.string().optional(),
  surface: z.string().optional(),
  standard_followed: z.string().optional(),
  data_review: z.string().optional(),
  deviations: z.string().optional(),
  retention: z.strictObject({ years: z.number(), basis: z.string().optional() }).optional()
}

/** The facts of the job sheet with which a job begins. */
export const jobOpened = z.strictObject({
  kind: z.literal('job-opened'),
  version: z.literal(1),
  ...headSchema,
  job: z.strictObject({
    id: z.string().min(1),
    component: z.string().min(1),
    task: z.string().optional(),
    place: z.string().optional(),
    ...told,
    opened: z.string(),
    demonstration: z.boolean()
  }),
  application: z.enum(['fastener hole', 'weld', 'loop']),
  people: z.array(personSchema),
  examinedBy: z.string().min(1),
  equipment: equipmentSchema.optional(),
  /** from the first entry on, what a person states is signed with their key; absent where no registers were there */
  signing: z.literal('required').optional(),
  /** what another person has to look at before a place is closed, by the technique */
  secondLook: z.enum(['every place', 'what was found']).optional(),
  /** the technique asks for a person's class before the proposal is shown */
  classFirst: z.literal(true).optional(),
  /** when the set-up has to be checked again, by the technique; without `after` everything that can happen asks for it */
  rechecks: z
    .strictObject({ interval_min: z.number().optional(), after: z.array(z.enum(happeningNames)).optional() })
    .optional(),
  /** how many of the places are practice, and the hash of the answers that say which */
  practice: z.strictObject({ count: z.number().int().min(1), answers: hashSchema }).optional(),
  /** what is to be examined, in the order of the sheet: a list to count against */
  places: z
    .array(
      z.strictObject({
        of: z.enum(['hole', 'track', 'loop']),
        name: z.string().min(1),
        diameter_mm: z.number().optional(),
        grip_mm: z.number().optional(),
        edge_distance_mm: z.number().optional(),
        nearest_hole_mm: z.number().optional(),
        at: z.strictObject({ x_mm: z.number(), y_mm: z.number() }).optional(),
        interfaces_mm: z.array(z.number()).optional(),
        layers: z.array(z.string()).optional(),
        /** zones that the technique asks for, whatever is examined */
        zones: z.array(z.string()).optional(),
        length_mm: z.number().optional(),
        /** of a track: coating as a person states it, and whether the plate ends where the track does */
        coating_mm: z.number().optional(),
        ends_with_plate: z.boolean().optional(),
        surface: z.string().optional(),
        oversize_step: z.string().optional(),
        demagnetized: z.union([z.strictObject({ by: z.string().min(1), on: z.string() }), z.string()]).optional(),
        heat_treatment: z.union([z.string(), z.array(z.string())]).optional()
      })
    )
    .min(1)
})

/** A named person stands for a technique. Unsigned only where the archive has no registers. */
export const techniqueConfirmed = z.strictObject({
  kind: z.literal('technique-confirmed'),
  version: z.literal(1),
  ...headSchema,
  technique: hashSchema,
  name: z.string().min(1),
  level: z.enum(['I', 'II', 'III']),
  on: z.string(),
  /** number of the method of examination that is accepted with it */
  method: z.number().int().optional(),
  /** documents that are approved with it, by the same person */
  documents: z.array(hashSchema).min(1).optional(),
  signed: signedSchema
})
