import { exp, log } from '@trueloop/ground/numerics'
import { meters, type Quantity } from '@trueloop/ground/quantity'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from './codes.ts'

/** A probe in a hole that need not be as wide as that of its reference standard. Diameters in m. */
export interface ProbeInHole {
  /** largest diameter of the hole, and by how much the smallest is smaller */
  readonly holeDiameter: Quantity<'m'>
  readonly outOfRound: Quantity<'m'>
  readonly standardDiameter: Quantity<'m'>
  /** by how much the difference of the two diameters may be larger than it was measured */
  readonly doubt: Quantity<'m'>
  readonly meanCoilRadius: Quantity<'m'>
  /** sprung against the wall; or of one diameter, so that it may stand centered or lean on one side */
  readonly probe: 'follows the wall' | 'fixed diameter'
}

/** What an oversize hole takes from the answer of a flaw, against the same flaw in the hole of the standard. */
export interface OversizeLoss {
  /** how much farther the coil stands from the wall, m: centered, and at most, opposite to where the probe leans */
  readonly gap: { readonly centered: Quantity<'m'>; readonly most: Quantity<'m'> }
  /** answer as a share of that in the standard's hole: at the largest gap, centered, and where the probe leans on the flaw */
  readonly share: { readonly least: number; readonly centered: number; readonly most: number }
}

/**
 * Mean coil radii over which an answer falls by e^-3: the middle of what was computed for closed cracks (2.6 to 3.7), and
 * the steepest of it, a crack shorter than the coil. A rule for plausibility: no published table was found.
 */
const FALL = { middle: 3, most: 3.7 }

/**
 * Share of an answer that is left where the coil stands farther off: exp(-3 h / r), h the further distance, r the mean
 * coil radius, both m; with the steepest fall met, exp(-3.7 h / r). The probe is taken to fit the hole of the standard: what
 * play it has there is in the standardization, and only the difference of the diameters, S, is counted. Fixed diameter:
 * centered it stands S/2 farther off, S of the mean diameter; leaning, from 0 to all of S, S of the largest diameter and its
 * doubt. A probe that follows the wall loses nothing. A hole that is no larger loses nothing either.
 * Refuses: fields/bad-diameter, fields/bad-out-of-round, fields/bad-coil.
 */
export function oversizeLoss(hole: ProbeInHole): Result<OversizeLoss, FieldsCode> {
  const bad = diameterComplaint(hole) ?? coilComplaint(hole)
  if (bad !== undefined) return bad
  const { holeDiameter, standardDiameter, outOfRound, doubt, meanCoilRadius, probe } = hole
  const wider = Math.max(0, holeDiameter - standardDiameter)
  const [centered, most] =
    probe === 'follows the wall' || wider === 0
      ? [0, 0]
      : [0.5 * Math.max(0, wider - 0.5 * outOfRound), wider + Number(doubt)]
  return {
    gap: { centered: meters(centered), most: meters(most) },
    share: {
      least: exp((-FALL.most * most) / meanCoilRadius),
      centered: exp((-FALL.middle * centered) / meanCoilRadius),
      most: 1
    }
  }
}

/** A share of an amplitude as the loss that it is, dB: -20 log10. */
export const lossInDecibels = (share: number): number => (share === 1 ? 0 : (-20 * log(share)) / log(10))

const isLength = (value: number): boolean => value >= 0 && Number.isFinite(value)

function diameterComplaint(hole: ProbeInHole): Refusal<FieldsCode> | undefined {
  const { holeDiameter, standardDiameter, outOfRound, doubt } = hole
  if (
    !(
      isLength(holeDiameter) &&
      isLength(standardDiameter) &&
      holeDiameter > 0 &&
      standardDiameter > 0 &&
      isLength(doubt)
    )
  )
    return refuse('fields/bad-diameter', {
      found: `diameters of ${holeDiameter} m and ${standardDiameter} m, known to ${doubt} m`,
      needed: 'diameters above zero, and a doubt of zero or more',
      remedy: 'measure the hole again, or correct the certificate of the standard'
    })
  if (isLength(outOfRound) && outOfRound < holeDiameter) return undefined
  return refuse('fields/bad-out-of-round', {
    found: `a hole of ${holeDiameter} m that is ${outOfRound} m out of round`,
    needed: 'the largest diameter less the smallest: zero or more, and less than the largest',
    remedy: 'measure the hole again'
  })
}

function coilComplaint({ meanCoilRadius }: ProbeInHole): Refusal<FieldsCode> | undefined {
  if (meanCoilRadius > 0 && Number.isFinite(meanCoilRadius)) return undefined
  return refuse('fields/bad-coil', {
    found: `a mean coil radius of ${meanCoilRadius} m`,
    needed: 'a radius above zero',
    remedy: 'take it from the drawing or the maker of the probe'
  })
}
