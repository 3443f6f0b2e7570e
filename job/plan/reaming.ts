import { z } from 'zod'
import { parameter } from './parameter.ts'

/**
 * What the approved procedure says of clean-up reaming. Nothing of it has a default: a value that nobody entered would
 * decide how much metal goes.
 */

const diameter = (help: string) =>
  parameter({ unit: 'mm', least: 0.5, most: 100, help, why: 'larger than any hole of this kind' })

const tolerance = (help: string) =>
  parameter({ unit: 'mm', least: 0, most: 1, help, why: 'wider than the tolerance of any fastener hole' })

export const permittedSizeSchema = z
  .strictObject({
    diameter_mm: diameter('Diameter of a hole of this size'),
    over_mm: tolerance('How far a hole of this size may be above that diameter').optional(),
    under_mm: tolerance('How far a hole of this size may be below that diameter').optional()
  })
  .describe('A size that the hole may be reamed to, with its tolerance where the procedure gives one')

export const reamRulesSchema = z
  .strictObject({
    permitted_sizes_mm: z
      .array(permittedSizeSchema)
      .min(1)
      .max(100)
      .describe('Sizes that the procedure permits, the smallest first'),
    max_diameter_mm: diameter('Largest diameter that the hole may have after any cut'),
    min_edge_margin: parameter({
      unit: '1',
      least: 0.5,
      most: 20,
      help: 'Least distance from the center of the hole to the edge of the part, over the diameter after the cut (e/D)',
      why: 'at a half the hole cuts the edge; the procedure or the design states it'
    }),
    min_hole_spacing: parameter({
      unit: '1',
      least: 0.5,
      most: 50,
      help: 'Least distance between the centers of the hole and the nearest other hole, over the diameter after the cut',
      why: 'at a half the hole cuts the center of the other; the procedure or the design states it'
    }).optional(),
    depth_allowance_mm: parameter({
      unit: 'mm',
      least: 0,
      most: 10,
      help: 'Allowance for what a depth may be larger than its stated upper end',
      why: 'from the procedure or a study of the own probes, metals and kinds of crack; there is no common value'
    }),
    eccentricity_mm: parameter({
      unit: 'mm',
      least: 0,
      most: 2,
      help: 'Largest distance between the axis of the cut and the axis of the hole before it',
      why: 'from the guide of the reamer; one side of the hole loses so much less metal'
    }),
    further_cut_mm: parameter({
      unit: 'mm',
      least: 0.01,
      most: 5,
      help: 'Least further increase of the diameter after an examination that shows no trace any more, where the procedure asks for one',
      why: 'the procedure states it; with tolerances a step of the list must still be able to meet it'
    }).optional(),
    most_cuts: parameter({
      unit: '1',
      least: 1,
      most: 50,
      help: 'Most cuts in one hole, further cuts counted too',
      why: 'the procedure states it where it limits them'
    })
      .int()
      .optional(),
    diameter_class_mm: parameter({
      unit: 'mm',
      least: 0.001,
      most: 5,
      help: 'Largest difference between the diameter of the hole and that of the reference standard for which a standardization holds',
      why: 'the fit of the probe changes with it; the technique states it'
    })
  })
  .describe('What the procedure says of clean-up reaming; without it the program states no figure for a cut')

export type PermittedSize = z.output<typeof permittedSizeSchema>
export type ReamRules = z.output<typeof reamRulesSchema>
