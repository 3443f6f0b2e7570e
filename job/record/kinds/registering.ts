import { z } from 'zod'
import { registerNames } from '../../plan/index.ts'
import { hashSchema, headSchema } from './parts.ts'

const day = z.string().regex(/^\d{4}-\d\d-\d\d$/)

const spanSchema = z.strictObject({
  /** what holds: certificate, near vision, revision */
  of: z.string().min(1),
  from: day.optional(),
  /** the last day on which it holds; with `ends`, the first on which it does not */
  until: day.optional(),
  ends: z.boolean().optional(),
  standing: z.enum(['in force', 'falls due'])
})

/**
 * What was used on a day stood in the register of the shop: instrument, probe, reference standard, gauge, procedure,
 * person. The job holds the document of each row, so that the record stands alone; `entry` is the hash of the entry of
 * the shop's record by which the row was registered, so that the two records can be held against each other.
 */
export const heldInRegister = z.strictObject({
  kind: z.literal('held-in-register'),
  version: z.literal(1),
  ...headSchema,
  day,
  /** the shop's record as it was read: its first entry says whose it is */
  shop: z.strictObject({ first: hashSchema, count: z.number().int().min(1), head: hashSchema }),
  rows: z
    .array(
      z.strictObject({
        what: z.enum(registerNames as [string, ...string[]] as [(typeof registerNames)[number]]),
        name: z.string().min(1).max(500),
        /** number of the certificate, revision; empty where the row has none */
        edition: z.string().max(500),
        document: hashSchema,
        seq: z.number().int().min(0),
        entry: hashSchema,
        spans: z.array(spanSchema)
      })
    )
    .min(1)
})

export type HeldRow = z.output<typeof heldInRegister>['rows'][number]
