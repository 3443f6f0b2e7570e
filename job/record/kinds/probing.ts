import { z } from 'zod'
import { headSchema } from './parts.ts'

/** A probe for welds was checked on the block, as its procedure asks for it. Unsigned: the job sheet has brought it. */
export const probeChecked = z.strictObject({
  kind: z.literal('probe-checked'),
  version: z.literal(1),
  ...headSchema,
  check: z.strictObject({
    probe: z.string().min(1),
    on: z.string(),
    by: z.string().min(1),
    index_point_mm: z.number(),
    field_width_mm: z.strictObject({ along: z.number(), across: z.number() }),
    tilt_deg: z.strictObject({ one: z.number(), other: z.number() }),
    lift_off_share: z.number(),
    wear_cover: z.boolean()
  }),
  signed: z.literal(false)
})
