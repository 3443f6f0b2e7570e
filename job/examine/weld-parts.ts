import type { Stretch } from '../interpret/index.ts'

/** A flaw-like part of a stretch; places as ruler points, levels above the null of the track, 1 = the named slot. */
export interface Part {
  readonly from: number
  readonly to: number
  readonly peak: number
  readonly level: number
  /** level of the surroundings at the peak */
  readonly base: number
  /** signal from ruler point `drawnFrom` on: the part and some surroundings */
  readonly drawnFrom: number
  readonly x: readonly number[]
  readonly y: readonly number[]
}

export interface PartRule {
  readonly null_: number
  /** width of the field in ruler points */
  readonly field: number
  readonly screen: number
  readonly alarm: number
  readonly least: number
}

/** Surroundings reach this many field widths to each side: a change slower than that is the plate or its coating. */
const AROUND_FIELDS = 20
const DRAWN_FIELDS = 4

/**
 * Parts of a stretch that stand out of their surroundings by `least`, and every part that crosses the alarm whether it
 * does or not: the technique's level rules. The surroundings of a point are the higher one of the least levels on its two
 * sides, so that a slow change of the plate is none of its own, and two flaws on one slope are two.
 */
export function partsOf(stretch: Stretch, rule: PartRule): readonly Part[] {
  const y = stretch.y.map((level) => level - rule.null_)
  const base = surroundings(y, AROUND_FIELDS * rule.field)
  const stands = y.map((level, i) => level - base[i]! >= rule.screen || level >= rule.alarm)
  const parts: Part[] = []
  for (let i = 0; i < y.length; i++) {
    if (!stands[i]) continue
    let end = i + 1
    while (end < y.length && stands[end]) end++
    const part = partBetween(stretch, { y, base, from: i, to: end }, rule)
    if (part.level >= rule.alarm || part.level - part.base >= rule.least) parts.push(part)
    i = end
  }
  return parts
}

interface Run {
  readonly y: readonly number[]
  readonly base: readonly number[]
  readonly from: number
  readonly to: number
}

function partBetween(stretch: Stretch, { y, base, from, to }: Run, { field }: PartRule): Part {
  let peak = from
  for (let i = from; i < to; i++) if (y[i]! > y[peak]!) peak = i
  const a = Math.max(0, from - DRAWN_FIELDS * field)
  const b = Math.min(y.length, to + DRAWN_FIELDS * field)
  return {
    from: stretch.from + from,
    to: stretch.from + to - 1,
    peak: stretch.from + peak,
    level: y[peak]!,
    base: base[peak]!,
    drawnFrom: stretch.from + a,
    x: stretch.x.slice(a, b),
    y: y.slice(a, b)
  }
}

/** For each point the higher one of the least levels within `reach` points before and after it; beyond the stretch: 0. */
function surroundings(y: readonly number[], reach: number): readonly number[] {
  const before = leastBehind(y, reach)
  const after = leastBehind([...y].reverse(), reach).reverse()
  return y.map((_, i) => Math.max(0, before[i]!, after[i]!))
}

function leastBehind(y: readonly number[], reach: number): number[] {
  return y.map((_, i) => {
    if (i < reach) return 0
    let least = y[i]!
    for (let k = i - reach; k < i; k++) least = Math.min(least, y[k]!)
    return least
  })
}
