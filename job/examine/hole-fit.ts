import { meters } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { lossInDecibels, type OversizeLoss, oversizeLoss } from '@trueloop/metal/fields'
import { type MeasuredHole, measuredOf } from '../plan/index.ts'
import type { Oversize } from './examination.ts'
import type { HoleExamination } from './hole-input.ts'
import { oversizeBeyondHarmless, oversizeBeyondLoss, oversizeWithoutLimit } from './hole-refusals.ts'

/** How the probe fits the hole as it was measured, and what that takes from the answer of a flaw. */
export interface Fit {
  /** answer as a share of that in the standard's hole; all 1 where the hole is no wider, or was not measured */
  readonly share: OversizeLoss['share']
  /** why the whole hole counts as not examined */
  readonly refused: readonly Refusal[]
  /** what is told of it; absent where the hole is no wider than its measurement can tell, or was not measured */
  readonly told?: Oversize
}

const NO_LOSS: Fit['share'] = { least: 1, centered: 1, most: 1 }

/** Figures carry the rounding of a difference of decimals. */
const ROUNDING_mm = 1e-9

/**
 * A hole that is wider than that of the standard by more than both diameters may be off is examined within the limit of the
 * technique, with the loss that it costs; without a limit, or beyond it, it is not examined. A measured diameter that is
 * smaller gains nothing: amplitudes are larger there, and stay as they are.
 */
export function fitOf(input: HoleExamination): Fit {
  const measured = measuredOf(input.hole.preparation)
  if (measured === undefined) return { share: NO_LOSS, refused: [] }
  const wider_mm = measured.measured_diameter_mm - input.standardization.diameter_mm
  const doubt_mm = measured.gauge_uncertainty_mm + (input.standardTolerance_mm ?? 0)
  if (wider_mm <= doubt_mm + ROUNDING_mm) return { share: NO_LOSS, refused: [] }
  return fitOfWider({ input, measured, wider_mm, doubt_mm })
}

interface Wider {
  readonly input: HoleExamination
  readonly measured: MeasuredHole
  readonly wider_mm: number
  readonly doubt_mm: number
}

function fitOfWider(wider: Wider): Fit {
  const loss = lossOf(wider)
  if (isRefusal(loss)) return { share: NO_LOSS, refused: [loss] }
  const { oversize: limit } = wider.input.technique
  const worst_mm = wider.wider_mm + wider.doubt_mm
  const harmless = limit?.shown_harmless_to_mm
  if (harmless !== undefined && worst_mm <= harmless + ROUNDING_mm) {
    const basis = `up to ${harmless} mm shown to be harmless: ${limit?.source ?? 'no source'}`
    return { share: NO_LOSS, refused: [], told: toldOf(wider, { basis }) }
  }
  const refused = againstLimit(wider, loss)
  const basis = loss === undefined ? 'loss not known: the technique says nothing of the coil' : basisOf(wider)
  return { share: loss?.share ?? NO_LOSS, refused, told: toldOf(wider, { basis, loss }) }
}

/** Undefined where the technique says nothing of the coil. */
function lossOf({ input: { technique, standardization }, measured, doubt_mm }: Wider) {
  const { probe } = technique
  if (probe === undefined) return undefined
  return oversizeLoss({
    holeDiameter: meters(1e-3 * measured.measured_diameter_mm),
    outOfRound: meters(1e-3 * measured.out_of_round_mm),
    standardDiameter: meters(1e-3 * standardization.diameter_mm),
    doubt: meters(1e-3 * doubt_mm),
    meanCoilRadius: meters(1e-3 * probe.mean_coil_radius_mm),
    probe: probe.fit
  })
}

function againstLimit(
  { input: { technique }, wider_mm, doubt_mm }: Wider,
  loss: OversizeLoss | undefined
): readonly Refusal[] {
  const { oversize: limit } = technique
  const how = { wider_mm, doubt_mm, worst_dB: loss === undefined ? undefined : lossInDecibels(loss.share.least) }
  if (limit === undefined) return [oversizeWithoutLimit(how)]
  const { max_loss_dB: most, shown_harmless_to_mm: harmless } = limit
  if (most === undefined) return [oversizeBeyondHarmless(how, harmless ?? 0)]
  return how.worst_dB !== undefined && how.worst_dB <= most ? [] : [oversizeBeyondLoss(how, most)]
}

const basisOf = ({ input: { technique } }: Wider): string => {
  const { mean_coil_radius_mm: radius, fit } = technique.probe!
  return `probe that ${fit === 'follows the wall' ? 'follows the wall' : 'has a fixed diameter and may lean'}, mean coil radius ${radius} mm; rule for plausibility, from computed cracks`
}

function toldOf(
  { input: { technique, standardization }, measured, wider_mm, doubt_mm }: Wider,
  { basis, loss }: { readonly basis: string; readonly loss?: OversizeLoss | undefined }
): Oversize {
  const common = {
    diameter_m: 1e-3 * measured.measured_diameter_mm,
    outOfRound_m: 1e-3 * measured.out_of_round_mm,
    standard_m: 1e-3 * standardization.diameter_mm,
    wider_m: 1e-3 * wider_mm,
    doubt_m: 1e-3 * doubt_mm,
    gauge: measured.gauge,
    basis
  }
  if (loss === undefined) return common
  const { gap, share } = loss
  return {
    ...common,
    gap_m: { centered: Number(gap.centered), most: Number(gap.most) },
    loss_dB: { centered: lossInDecibels(share.centered), most: lossInDecibels(share.least) },
    alarm: technique.alarm.share * share.least
  }
}

/** The loss in words, for notes and evidence; undefined where nothing is taken from an amplitude. */
export function lossInWords({ share, told }: Fit): string | undefined {
  if (share.least === 1 || told?.loss_dB === undefined) return undefined
  const { centered, most } = told.loss_dB
  return `the hole is ${(1e3 * told.wider_m).toFixed(3)} mm wider than that of the standard: answers are weaker by ${centered.toFixed(1)} dB (0.0 to ${most.toFixed(1)} dB)`
}

/** What an oversize hole changes, said once for the whole hole. */
export function fitNotes(fit: Fit): readonly string[] {
  const { told } = fit
  if (told === undefined) return []
  const words = lossInWords(fit)
  const measured = `${told.gauge}: ${(1e3 * told.diameter_m).toFixed(3)} mm at most, ${(1e3 * told.outOfRound_m).toFixed(3)} mm out of round`
  if (words === undefined) return [`oversize (${measured}): amplitudes are left as they are; ${told.basis}`]
  const alarm = `the alarm level is lowered to ${(told.alarm ?? 0).toFixed(3)} of the named notch`
  return [
    `oversize (${measured}): ${words}; ${alarm}, and sizes are told with all of that loss and with none; ${told.basis}`
  ]
}
