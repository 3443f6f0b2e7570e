import { z } from 'zod'
import { day, parameter, text } from './parameter.ts'

/** Reference standards: what is cut into them, where, and who says so. Immutable documents. */

const mm = (help: string, most: number) =>
  parameter({ unit: 'mm', least: 0, most, help, why: 'larger than any reference standard of this kind' })

/** What became of the magnetism that handling, machining or magnetic clamps leave in a ferromagnetic metal. */
export const demagnetizedSchema = z
  .union([
    z.strictObject({
      by: text('Who demagnetized it'),
      on: day('Day on which it was demagnetized')
    }),
    z
      .string()
      .max(500)
      .regex(/^not needed: \S/, 'a reason is written as "not needed: …"')
  ])
  .describe('Who demagnetized it and when, or "not needed: " and the reason; needed where a metal is ferromagnetic')

export const notchSchema = z.strictObject({
  id: text('Name of the notch, for example "mid-bore 0.5 mm"'),
  place: z.enum(['entry corner', 'mid-bore', 'exit corner', 'through']),
  depth_mm: mm('Depth from the wall of the hole', 20),
  length_mm: mm('Length along the hole', 60),
  angle_deg: parameter({
    unit: 'deg',
    least: 0,
    most: 360,
    help: 'Angle of its center from the datum of the standard, in the sense of rotation',
    why: 'one turn'
  }),
  z0_mm: mm('Where it begins, from the entry face', 200),
  z1_mm: mm('Where it ends, from the entry face', 200)
})

export const holeStandardSchema = z.strictObject({
  id: text('Serial number of the reference standard'),
  metal: text('Metal of the reference standard'),
  certificate: text('Number of its certificate').optional(),
  demagnetized: demagnetizedSchema.optional(),
  heat_treatment: text('Heat treatment of its metal; needed where it is ferromagnetic').optional(),
  hole_diameter_mm: mm('Diameter of its hole', 100),
  hole_tolerance_mm: mm(
    'How far that diameter may be off, by its certificate; holes that are wider by no more count as no wider',
    1
  ).optional(),
  thickness_mm: mm('Thickness', 200),
  interfaces_mm: z.array(mm('Depth of a joint between layers', 200)).default([]),
  angle_datum: z
    .enum(['index pulse', 'unknown'])
    .default('index pulse')
    .describe('Whether the notch angles count from the index pulse, or only their differences are known'),
  notches: z.array(notchSchema).min(1).max(64)
})

export const slotSchema = z.strictObject({
  id: text('Name of the slot, for example "1.0 mm"'),
  depth_mm: mm('Depth of the slot', 20),
  position_mm: parameter({
    unit: 'mm',
    least: -10_000,
    most: 10_000,
    help: 'Position of the slot along the track over the block',
    why: 'length of a block'
  })
})

export const weldStandardSchema = z.strictObject({
  id: text('Serial number of the reference block'),
  metal: text('Metal of the block'),
  certificate: text('Number of its certificate').optional(),
  slots: z.array(slotSchema).min(1).max(64)
})

export type Demagnetized = z.output<typeof demagnetizedSchema>
export type Notch = z.output<typeof notchSchema>
export type HoleStandard = z.output<typeof holeStandardSchema>
export type Slot = z.output<typeof slotSchema>
export type WeldStandard = z.output<typeof weldStandardSchema>
