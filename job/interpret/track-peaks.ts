/**
 * A peak is the mean over a quarter of the length, at most over one field and at least over a quarter of it: what noise
 * and the band add to single points is not in it, and a short flaw keeps its top.
 */
const TOP = { length: 0.25, most: 1, least: 0.25 } as const

/** Elements that are looked at, half open, and the width of the field in elements. */
export interface Between {
  readonly from: number
  readonly to: number
  readonly field: number
}

export interface Top {
  readonly level: number
  readonly peak: number
  /** −6 dB points, between elements */
  readonly half: { readonly from: number; readonly to: number }
}

/** The top of what stands above its null between two elements, and where it passes half of that. */
export function topBetween(above: readonly number[], { from, to, field }: Between): Top {
  const first = topOf(above, { from, to, half: halfOf(TOP.least * field) })
  const rough = halfEnds(above, { from, to, half: 0.5 * first.level })
  const wide = Math.min(TOP.most * field, Math.max(TOP.least * field, TOP.length * (rough.to - rough.from)))
  const { level, peak } = topOf(above, { from, to, half: halfOf(wide) })
  return { level, peak, half: halfEnds(above, { from, to, half: 0.5 * level }) }
}

const halfOf = (width: number): number => Math.max(1, Math.round(0.5 * width))

function topOf(
  above: readonly number[],
  { from, to, half }: { readonly from: number; readonly to: number; readonly half: number }
): { readonly level: number; readonly peak: number } {
  let [level, peak] = [Number.NEGATIVE_INFINITY, from]
  for (let i = from; i < to; i++) {
    const top = meanOf(above, i, half)
    if (top > level) [level, peak] = [top, i]
  }
  return { level, peak }
}

function meanOf(values: readonly number[], at: number, half: number): number {
  let [sum, count] = [0, 0]
  for (let i = Math.max(0, at - half); i <= at + half && i < values.length; i++) {
    sum += values[i]!
    count++
  }
  return sum / count
}

/** Where the level passes half its height: first and last time, linear between points. */
function halfEnds(
  y: readonly number[],
  { from, to, half }: { readonly from: number; readonly to: number; readonly half: number }
): { readonly from: number; readonly to: number } {
  const inside = (i: number) => i >= from && i < to && y[i]! >= half
  let first = from
  while (first < to - 1 && !inside(first)) first++
  let last = to - 1
  while (last > from && !inside(last)) last--
  const share = (inner: number, outer: number | undefined) =>
    outer === undefined || outer >= half ? 0 : (inner - half) / (inner - outer)
  return { from: first - share(y[first]!, y[first - 1]), to: last + share(y[last]!, y[last + 1]) }
}
