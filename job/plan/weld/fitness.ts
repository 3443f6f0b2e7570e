import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { ProbeFitness } from './schema.ts'

/** A limit that a probe for welds has to meet, and how it was met. */
export interface FitnessLimit {
  readonly limit: string
  readonly needed: string
  readonly found: string
  readonly met: boolean
}

/** Limits of a field procedure for welds; ISO 17643 has them by memory: proposed values, a person confirms them. */
export const FITNESS = {
  index_point_mm: 2,
  field_width_mm: 5,
  tilt_deg: 25,
  tilt_apart_deg: 5,
  lift_off_share: 0.2
} as const

export function fitnessLimits(check: ProbeFitness): readonly FitnessLimit[] {
  const { index_point_mm, field_width_mm, tilt_deg, lift_off_share, wear_cover } = check
  const narrow = Math.min(field_width_mm.along, field_width_mm.across)
  const tilt = Math.min(tilt_deg.one, tilt_deg.other)
  const apart = Math.abs(tilt_deg.one - tilt_deg.other)
  return [
    {
      limit: 'index points from the center lines',
      needed: `at most ${FITNESS.index_point_mm.toFixed(1)} mm`,
      found: `${index_point_mm.toFixed(1)} mm`,
      met: index_point_mm <= FITNESS.index_point_mm
    },
    {
      limit: 'width of the field, both ways',
      needed: `at least ${FITNESS.field_width_mm.toFixed(1)} mm`,
      found: `${narrow.toFixed(1)} mm`,
      met: narrow >= FITNESS.field_width_mm
    },
    {
      limit: 'tilt at which half of the signal is lost',
      needed: `at least ${FITNESS.tilt_deg}°`,
      found: `${tilt.toFixed(0)}°`,
      met: tilt >= FITNESS.tilt_deg
    },
    {
      limit: 'tilt to both sides',
      needed: `within ${FITNESS.tilt_apart_deg}° of each other`,
      found: `${apart.toFixed(0)}° apart`,
      met: apart <= FITNESS.tilt_apart_deg
    },
    {
      limit: 'lift-off signal',
      needed: `at most ${100 * FITNESS.lift_off_share} % of the 1.0 mm slot`,
      found: `${(100 * lift_off_share).toFixed(0)} %`,
      met: lift_off_share <= FITNESS.lift_off_share
    },
    { limit: 'wear cover', needed: 'on, as at work', found: wear_cover ? 'on' : 'off', met: wear_cover }
  ]
}

/** Refuses `plan/probe-not-fit`, once for each limit that was not met. */
export const unfit = (check: ProbeFitness): readonly Refusal[] =>
  fitnessLimits(check)
    .filter(({ met }) => !met)
    .map(({ limit, needed, found }) =>
      refuse('plan/probe-not-fit', {
        found: `probe ${check.probe}, ${limit}: ${found}`,
        needed,
        remedy: 'take another probe, or renew its cover, and check it on the block again'
      })
    )

export interface FitnessTrend {
  readonly limit: 'index point' | 'field width' | 'tilt' | 'lift-off'
  readonly unit: string
  readonly rows: readonly { readonly on: string; readonly value: number }[]
  /** last value less the first */
  readonly change: number
}

/** How a probe changed from check to check, in the order of their days. */
export function fitnessTrend(checks: readonly ProbeFitness[]): readonly FitnessTrend[] {
  const sorted = [...checks].sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
  const of = (limit: FitnessTrend['limit'], unit: string, value: (check: ProbeFitness) => number): FitnessTrend => {
    const rows = sorted.map((check) => ({ on: check.on, value: value(check) }))
    return { limit, unit, rows, change: rows.length === 0 ? 0 : rows.at(-1)!.value - rows[0]!.value }
  }
  return [
    of('index point', 'mm', ({ index_point_mm }) => index_point_mm),
    of('field width', 'mm', ({ field_width_mm }) => Math.min(field_width_mm.along, field_width_mm.across)),
    of('tilt', 'deg', ({ tilt_deg }) => Math.min(tilt_deg.one, tilt_deg.other)),
    of('lift-off', 'share of the 1.0 mm slot', ({ lift_off_share }) => lift_off_share)
  ]
}
