import { z } from 'zod'
import { day, parameter, text } from '../parameter.ts'

/** The plan of a weld: what it is, what lies over it, where and which way it is run over, and with which probe. */

const mm = (help: string, most: number, why: string) => parameter({ unit: 'mm', least: 0, most, help, why })

const coatingSchema = z.strictObject({
  kind: z
    .enum(['none', 'paint', 'epoxy', 'plastic', 'rubber', 'galvanized', 'metallized', 'metal-filled paint'])
    .describe('Kind of coating; the last three conduct'),
  thickness_mm: mm('Thickest coating that is expected', 20, 'no coating on a weld is thicker'),
  on_reference: z
    .boolean()
    .optional()
    .describe('Whether the reference block carries the same coating; a conductive one is refused without')
})

export const laneSchema = z.strictObject({
  id: text('Name of the lane or group of lanes'),
  over: z.enum(['cap', 'toe A', 'toe B', 'parent A', 'parent B']).describe('What it runs over'),
  run: z.enum(['along', 'across']).describe('Which way it is run, against the weld'),
  probe_deg: parameter({
    unit: 'deg',
    least: 0,
    most: 180,
    help: 'Direction of the probe against the run',
    why: 'a probe turned by half a turn is the same'
  }),
  from_mm: parameter({
    unit: 'mm',
    least: -1000,
    most: 1000,
    help: 'Where the group begins, across from the middle of the weld, side B positive',
    why: 'wider than any weld with its parent metal'
  }),
  to_mm: parameter({
    unit: 'mm',
    least: -1000,
    most: 1000,
    help: 'Where the group ends, across from the middle of the weld',
    why: 'wider than any weld with its parent metal'
  }),
  step_mm: mm('Distance of neighboring runs', 100, 'wider than any field').optional(),
  out_of_reach: z
    .array(
      z.strictObject({
        from_mm: mm('From, along the weld', 1e6, 'longer than any weld'),
        to_mm: mm('To, along the weld', 1e6, 'longer than any weld'),
        why: text('Why the probe does not get there')
      })
    )
    .max(200)
    .optional()
})

export const weldPlanSchema = z.strictObject({
  joint: z.enum(['butt', 'fillet', 'T', 'lap', 'corner', 'repair']).describe('Joint'),
  length_mm: mm('Length of the weld', 1e6, 'longer than any weld'),
  thickness_mm: mm('Thickness of the parent plate', 500, 'thicker than any plate'),
  cap_mm: mm('Width of the weld cap, toe to toe', 500, 'wider than any cap'),
  parent_mm: mm('Parent metal that is examined on each side', 500, 'wider than any zone'),
  coating: coatingSchema,
  flaw_directions: z
    .array(z.enum(['along', 'across', 'any']))
    .min(1)
    .max(3)
    .describe('Directions of the flaws sought, against the weld'),
  lanes: z.array(laneSchema).min(1).max(500),
  field_mm: z.strictObject({
    along: mm('Width of the field along the run', 50, 'wider than any field'),
    across: mm('Width of the field across the run', 50, 'wider than any field')
  })
})

/** A check of the probe on the block, as a procedure for welds asks for it. */
export const probeFitnessSchema = z.strictObject({
  probe: text('Serial number of the probe'),
  on: day('Day of the check'),
  by: text('Name of the person'),
  index_point_mm: mm('Largest distance of the index points from the center lines', 20, 'wider than any probe'),
  field_width_mm: z.strictObject({
    along: mm('Width of the field along the coils', 50, 'wider than any field'),
    across: mm('Width of the field across the coils', 50, 'wider than any field')
  }),
  tilt_deg: z.strictObject({
    one: parameter({
      unit: 'deg',
      least: 0,
      most: 90,
      help: 'Tilt to one side at which half of the signal is lost',
      why: 'a right angle'
    }),
    other: parameter({
      unit: 'deg',
      least: 0,
      most: 90,
      help: 'Tilt to the other side at which half of the signal is lost',
      why: 'a right angle'
    })
  }),
  lift_off_share: parameter({
    unit: '1',
    least: 0,
    most: 5,
    help: 'Lift-off signal as a share of the 1.0 mm slot',
    why: 'a share'
  }),
  wear_cover: z.boolean().describe('Whether the wear cover was on, as it will be at work')
})

export type WeldPlan = z.output<typeof weldPlanSchema>
export type Lane = z.output<typeof laneSchema>
export type ProbeFitness = z.output<typeof probeFitnessSchema>
