import { z } from 'zod'
import { day, parameter, text } from './parameter.ts'
import { pickUpsSchema, windingSchema } from './winding.ts'

/** What is done to a hole before the probe goes in, and what the technique says of holes that are too wide for its probe. */

const mm = (help: string, most: number, why: string) => parameter({ unit: 'mm', least: 0, most, help, why })

const doneBy = (what: string) => z.strictObject({ by: text(`Who ${what} it`), on: day(`Day on which it was ${what}`) })

/** Shape alone; what goes with what, and which diameters can be true, the whole sheet shows (`checkPreparation`). */
export const preparationSchema = z
  .strictObject({
    cleaned: doneBy('cleaned'),
    deburred: z
      .enum(['yes', 'not needed', 'not allowed'])
      .describe('Whether burrs were taken off, needed no taking off, or the procedure does not allow it'),
    visual: text('What was seen before the scan, in words; "nothing" is an answer'),
    photo: text('File of a photo, from the folder of the job sheet').optional(),
    measured_diameter_mm: parameter({
      unit: 'mm',
      least: 0.5,
      most: 100,
      help: 'Largest diameter that the gauge showed',
      why: 'smaller or larger than any hole of this kind'
    }).optional(),
    out_of_round_mm: mm(
      'Largest diameter less the smallest',
      5,
      'what is farther out of round than this is no hole for a rotating probe'
    ).optional(),
    gauge: text('Gauge that the diameter was measured with, with its serial number').optional(),
    gauge_uncertainty_mm: mm(
      'How far a diameter of this gauge may be off, either way',
      0.5,
      'coarser than this nothing is measured of a fit'
    ).optional(),
    measured: doneBy('measured').optional()
  })
  .describe('What was done to the hole before the probe went in')

/** The probe as far as it decides what a hole that is too wide costs. */
export const holeProbeSchema = z
  .strictObject({
    mean_coil_radius_mm: parameter({
      unit: 'mm',
      least: 0.05,
      most: 20,
      help: 'Mean radius of the coil winding that drives the wall: half of inner and outer radius together',
      why: 'smaller or larger than any coil for holes'
    }),
    fit: z
      .enum(['follows the wall', 'fixed diameter'])
      .describe(
        'Sprung, so that the coil stays on the wall of a wider hole too; or of one diameter: it may stand off and lean'
      ),
    winding: windingSchema.optional(),
    pick_ups: pickUpsSchema.optional()
  })
  .describe('The probe as far as it decides what a hole that is wider than that of the reference standard costs')

/** By how much wider a hole may be than that of the reference standard. No value of its own: the procedure states it. */
export const oversizeSchema = z
  .strictObject({
    max_loss_dB: parameter({
      unit: 'dB',
      least: 0,
      most: 20,
      help: 'Largest loss of sensitivity, at worst, with which a hole is still examined',
      why: 'with a tenth of the amplitude left nothing is examined'
    }).optional(),
    shown_harmless_to_mm: mm(
      'By how much wider a hole may be that an oversize reference hole has shown to be harmless',
      5,
      'beyond it the probe hardly touches'
    ).optional(),
    source: text('Which oversize reference hole showed it: serial number, record or report').optional()
  })
  .describe(
    'By how much wider a hole may be than that of the reference standard: a loss, or a difference shown to be harmless; without it no hole may'
  )

export type Preparation = z.output<typeof preparationSchema>
export type OversizeLimit = z.output<typeof oversizeSchema>

/** What a gauge said of a hole. */
export interface MeasuredHole {
  /** largest diameter, and by how much the smallest is smaller */
  readonly measured_diameter_mm: number
  readonly out_of_round_mm: number
  readonly gauge: string
  readonly gauge_uncertainty_mm: number
  readonly measured: { readonly by: string; readonly on: string }
}

/** The five values of a measurement; undefined where the hole was not measured. A checked sheet has all of them or none. */
export function measuredOf(preparation: Partial<Preparation> | undefined): MeasuredHole | undefined {
  const { measured_diameter_mm, out_of_round_mm, gauge, gauge_uncertainty_mm, measured } = preparation ?? {}
  if (measured_diameter_mm === undefined || out_of_round_mm === undefined || gauge === undefined) return undefined
  if (gauge_uncertainty_mm === undefined || measured === undefined) return undefined
  return { measured_diameter_mm, out_of_round_mm, gauge, gauge_uncertainty_mm, measured }
}
