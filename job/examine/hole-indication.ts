import { PI } from '@trueloop/ground/numerics'
import { proposalOf, sizeOf } from '../evaluate/index.ts'
import type { Interpreted, Row, Threshold } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'
import { longestChord, matchedWeights } from '../standardize/index.ts'
import type { Indication } from './examination.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import { foreignLayers } from './setup.ts'
import { type Zone, zoneAt } from './zones.ts'

export interface Context {
  readonly input: HoleExamination
  readonly place: Located | undefined
  readonly zones: readonly Zone[]
  readonly threshold: Threshold
  readonly withheld: readonly string[]
  readonly number: number
}

/** The indication as it enters the Examination: measured, placed, classed, sized as far as the notches allow. */
export function indicationOf(one: Interpreted, context: Context): Indication {
  const { candidate } = one
  const { place, input } = context
  const peak = candidate.peak + between(candidate.matched, one, input)
  const chord = longestChord(candidate.x, candidate.y, { from: 0, to: candidate.x.length })
  const extent = extentOf(candidate.rows, candidate.matched)
  const at = (point: number) => (place === undefined ? ('unknown' as const) : place.depth.at(point))
  const z0_m = at(extent.from)
  const z1_m = at(extent.to)
  const z_m = z0_m === 'unknown' || z1_m === 'unknown' ? ('unknown' as const) : 0.5 * (z0_m + z1_m)
  const zone = z_m === 'unknown' ? undefined : zoneAt(context.zones, z_m)
  const withheld = [
    ...context.withheld,
    ...(place === undefined ? ['no axial position'] : []),
    ...(zone === undefined ? [] : foreignMetal(zone, input))
  ]
  const measured = {
    amplitude: chord.length,
    place: zone?.place ?? ('mid-bore' as const),
    ...(z0_m === 'unknown' || z1_m === 'unknown' ? {} : { extent_m: z1_m - z0_m })
  }
  return {
    id: `${input.hole.id}/${context.number}`,
    zone: zone?.name ?? 'unknown',
    layer: zone === undefined ? 0 : zone.layer + 1,
    place: zone?.place ?? 'unknown',
    amplitude: chord.length,
    matched: candidate.matched,
    phase_rad: one.features.phase_rad,
    lobeOrder: candidate.sign,
    angle_rad: 2 * PI * (peak / UNIT - Math.floor(peak / UNIT)),
    z_m,
    z0_m,
    z1_m,
    ruler: peak / UNIT,
    revolutions: one.features.rows,
    signalToNoise: context.threshold.noise > 0 ? candidate.matched / context.threshold.noise : 0,
    crossedAlarm: one.crossedAlarm,
    class: one.class,
    evidence: one.evidence,
    size: sizeOf(measured, input.standardization.notches, withheld),
    proposal: proposalOf(one.class, withheld),
    snippet: {
      step: (2 * PI) / UNIT,
      stepUnit: 'rad',
      x: [...candidate.x],
      y: [...candidate.y],
      along: candidate.rows.map((row) => row.matched),
      alongFrom: candidate.rows[0]!.at / UNIT
    }
  }
}

/** What holds for one metal says nothing of another. */
function foreignMetal({ layer }: Zone, { standardization, hole }: HoleExamination): readonly string[] {
  const foreign = foreignLayers(standardization, hole).includes(layer)
  return foreign ? [`no standardization for ${hole.layers?.[layer]}`] : []
}

/** Fraction of a point by which the true peak lies beside the strongest point: vertex of a parabola. */
function between(middle: number, { candidate }: Interpreted, { standardization }: HoleExamination): number {
  const weights = matchedWeights(standardization.form)
  const half = standardization.form.half
  const side = (shift: number) => {
    let sum = 0
    for (let k = -half; k <= half; k++) sum += weights[k + half]! * (candidate.y[half + k + shift] ?? 0)
    return Math.abs(sum)
  }
  const bend = side(-1) - 2 * middle + side(1)
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (side(-1) - side(1))) / bend)) : 0
}

/** Ruler points between which the matched output stays above half its peak, linear between revolutions. */
function extentOf(rows: readonly Row[], peak: number): { readonly from: number; readonly to: number } {
  const half = 0.5 * peak
  const first = rows.findIndex((row) => row.matched >= half)
  const last = rows.findLastIndex((row) => row.matched >= half)
  return { from: crossing(rows[first - 1], rows[first]!, half, -1), to: crossing(rows[last + 1], rows[last]!, half, 1) }
}

/** Where the output falls to `half` between the last strong row and its weaker neighbor, in whole revolutions of angle. */
function crossing(weak: Row | undefined, strong: Row, half: number, sense: 1 | -1): number {
  const below = weak?.matched ?? 0
  const share = (strong.matched - half) / (strong.matched - below)
  return strong.at + sense * UNIT * Math.min(1, share)
}
