import { UNIT } from '../signal/index.ts'
import type { Depth } from './depth.ts'
import type { Zone } from './zones.ts'

/** A stretch of the ruler, in revolutions, that does not count as examined, and why. */
export interface Unusable {
  readonly from: number
  readonly to: number
  readonly reason: string
}

export interface ZoneCoverage {
  readonly zone: Zone
  readonly covered: number
  readonly why: readonly string[]
}

/** Judges one zone: the share of it that usable revolutions passed over, and every reason for which it is not enough. */
export function coverageOf(
  zone: Zone,
  {
    depth,
    unusable,
    range,
    maxPitch_m
  }: {
    readonly depth: Depth
    readonly unusable: readonly Unusable[]
    /** ruler points that were conditioned */
    readonly range: { readonly from: number; readonly to: number }
    readonly maxPitch_m: number
  }
): ZoneCoverage {
  const from = depth.pointAt(zone.z0_m) / UNIT
  const to = depth.pointAt(zone.z1_m) / UNIT
  const why: string[] = []
  const gaps = merged(unusable, from, to)
  for (const gap of gaps) {
    const width = (gap.to - gap.from + 1) * depth.pitch_m
    if (width > maxPitch_m) why.push(`${gap.reason}, over ${(1e3 * (gap.to - gap.from) * depth.pitch_m).toFixed(2)} mm`)
  }
  const missing = gaps.reduce((sum, gap) => sum + Math.min(gap.to, to) - Math.max(gap.from, from), 0)
  const outside = Math.max(0, range.from / UNIT - from) + Math.max(0, to - range.to / UNIT)
  if (outside > 0) why.push('the recording does not reach over it')
  const covered = Math.max(0, 1 - (missing + outside) / (to - from))
  return { zone, covered, why }
}

/** Stretches that meet [from, to), joined where they touch. */
function merged(unusable: readonly Unusable[], from: number, to: number): readonly Unusable[] {
  const inside = unusable.filter((one) => one.to > from && one.from < to).sort((a, b) => a.from - b.from)
  const joined: { from: number; to: number; reason: string }[] = []
  for (const one of inside) {
    const last = joined.at(-1)
    if (last === undefined || one.from > last.to) joined.push({ ...one })
    else {
      last.to = Math.max(last.to, one.to)
      if (!last.reason.includes(one.reason)) last.reason += `; ${one.reason}`
    }
  }
  return joined
}
