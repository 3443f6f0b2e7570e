import { UNIT } from '../../signal/index.ts'
import type { Sheet } from '../sheet.ts'
import { elementOf } from './loop.ts'
import { type Complex, type Metric, polar, weightsAlong } from './metric.ts'
import type { FeatureValues } from './numbers.ts'
import { isOn, sizeAt } from './size.ts'
import { vertex } from './vertex.ts'

export interface RidgeRow {
  /** ruler point of the strongest place of this revolution */
  readonly at: number
  /** least-noise fitted size along the ridge's own direction, 1 = the named notch */
  readonly size: number
}

/** The ridge of the fitted size through a peak, from revolution to revolution, in ruler order. */
export interface Ridge {
  readonly rows: readonly RidgeRow[]
  /** the peak's own row, and the first and last one at half the peak or more that hang together with it */
  readonly peak: number
  readonly first: number
  readonly last: number
  /** direction of the ridge, length 1: mean fitted size over its strong revolutions, each as much as it is strong */
  readonly direction: Complex
  /** Σ over those revolutions of size², and |Σ size · c|: what makes the doubt of the direction out of the noise */
  readonly weight: { readonly square: number; readonly length: number }
  /** ruler points of the −6 dB ends, linear between revolutions */
  readonly from: number
  readonly to: number
  /** the sheet ends before the ridge falls to half: that end is only as far as was seen */
  readonly cutBefore: boolean
  readonly cutAfter: boolean
}

/** Distance of the notch's lobes, ruler points (what a ridge may wander a revolution goes with it). */
export interface RidgeRule {
  readonly spacing: number
  readonly metric: Metric
  readonly values: FeatureValues
}

/** By which sizes are read, and elements to both sides of the last place in which the next one is looked for. */
interface Looking {
  readonly weights: Complex
  readonly reach: number
}

/** The ridge of c through the peak at or near a point: its size along its own direction, followed to both sides. */
export function ridgeAt(sheet: Sheet, at: number, { spacing, metric, values }: RidgeRule): Ridge {
  const reach = Math.max(1, Math.round((values.follow * spacing) / sheet.step))
  const first = { weights: weightsAlong(metric, polar(threeAround(sheet, at)).direction), reach }
  const rough = along(sheet, climbed(sheet, at, { ...first, most: Math.round(values.climb) }), { ...first, values })
  const sum = mean(sheet, rough, values)
  const weights = weightsAlong(metric, sum.direction)
  const rows: RidgeRow[] = []
  for (const row of rough.rows) rows.push({ at: row.at, size: read(sizeAt(sheet, row.at), weights) })
  return { ...withEnds(rows, { peak: rough.peak, sheet, half: values.half }), ...sum }
}

const read = ({ x, y }: Complex, weights: Complex): number => weights.x * x + weights.y * y

/** c at a point with half of it on the revolutions beside: noise along one direction does not set the direction alone. */
function threeAround(sheet: Sheet, at: number): Complex {
  let { x, y } = sizeAt(sheet, at)
  for (let sense = -1; sense <= 1; sense += 2) {
    if (!isOn(sheet, at + sense * UNIT)) continue
    const beside = sizeAt(sheet, at + sense * UNIT)
    x += 0.5 * beside.x
    y += 0.5 * beside.y
  }
  return { x, y }
}

/** The top of the ridge near a point: as long as a neighboring revolution answers more along the same direction. */
function climbed(sheet: Sheet, at: number, { most, ...looking }: Looking & { readonly most: number }): RidgeRow {
  let top = strongest(sheet, at, looking) ?? { at, size: read(sizeAt(sheet, at), looking.weights) }
  for (let moves = 0; moves < most; moves++) {
    const before = strongest(sheet, top.at - UNIT, looking)
    const after = strongest(sheet, top.at + UNIT, looking)
    let higher = top
    if (before !== undefined && before.size > higher.size) higher = before
    if (after !== undefined && after.size > higher.size) higher = after
    if (higher === top) break
    top = higher
  }
  return top
}

interface Rough {
  readonly rows: readonly RidgeRow[]
  readonly peak: number
}

function along(sheet: Sheet, top: RidgeRow, looking: Looking & { readonly values: FeatureValues }): Rough {
  const walk = { ...looking, fade: looking.values.fade * top.size }
  const before = walked(sheet, top.at, { ...walk, sense: -1 }).reverse()
  return { rows: [...before, top, ...walked(sheet, top.at, { ...walk, sense: 1 })], peak: before.length }
}

function walked(
  sheet: Sheet,
  at: number,
  { sense, fade, ...looking }: Looking & { readonly sense: 1 | -1; readonly fade: number }
): RidgeRow[] {
  const rows: RidgeRow[] = []
  for (let point = at; ; ) {
    const row = strongest(sheet, point + sense * UNIT, looking)
    if (row === undefined || !(row.size > 0)) return rows
    rows.push(row)
    if (row.size < fade) return rows
    point = row.at
  }
}

/** The strongest place within `reach` elements of a point; none where the point is not on the sheet. */
function strongest(sheet: Sheet, point: number, { weights, reach }: Looking): RidgeRow | undefined {
  const middle = Math.round(elementOf(sheet, point))
  if (middle < 0 || middle >= sheet.length) return undefined
  const from = Math.max(0, middle - reach - 1)
  const to = Math.min(sheet.length, middle + reach + 2)
  const column = new Float64Array(to - from)
  for (let i = from; i < to; i++) column[i - from] = weights.x * sheet.cx[i]! + weights.y * sheet.cy[i]!
  let best = middle - from
  const last = Math.min(column.length - 1, middle + reach - from)
  for (let i = Math.max(0, middle - reach - from); i <= last; i++) if (column[i]! > column[best]!) best = i
  const isTop = column[best]! >= (column[best - 1] ?? 0) && column[best]! >= (column[best + 1] ?? 0)
  const top = isTop ? vertex(column, best) : { at: best, value: column[best]! }
  return { at: sheet.first + (from + top.at) * sheet.step, size: top.value }
}

/** The mean of c over the strong revolutions nearest to the peak, each weighted by its size. */
function mean(sheet: Sheet, { rows, peak }: Rough, { half, mean: most }: FeatureValues) {
  const { first, last } = strongRun(rows, peak, half)
  const reach = Math.max(0, Math.round(0.5 * (most - 1)))
  let [x, y, square] = [0, 0, 0]
  for (const { at, size } of rows.slice(Math.max(first, peak - reach), Math.min(last, peak + reach) + 1)) {
    const c = sizeAt(sheet, at)
    x += size * c.x
    y += size * c.y
    square += size * size
  }
  const { size: length, direction } = polar({ x, y })
  return { direction, weight: { square, length } }
}

function strongRun(rows: readonly RidgeRow[], peak: number, half: number) {
  const level = half * rows[peak]!.size
  let first = peak
  let last = peak
  while (first > 0 && rows[first - 1]!.size >= level) first--
  while (last < rows.length - 1 && rows[last + 1]!.size >= level) last++
  return { first, last, level }
}

function withEnds(
  rows: readonly RidgeRow[],
  { peak, sheet, half }: { readonly peak: number; readonly sheet: Sheet; readonly half: number }
) {
  const { first, last, level } = strongRun(rows, peak, half)
  const cutBefore = first === 0 && !isOn(sheet, rows[first]!.at - UNIT)
  const cutAfter = last === rows.length - 1 && !isOn(sheet, rows[last]!.at + UNIT)
  const from = cutBefore ? rows[first]!.at : end(rows[first]!, rows[first - 1], { level, sense: -1 })
  const to = cutAfter ? rows[last]!.at : end(rows[last]!, rows[last + 1], { level, sense: 1 })
  return { rows, peak, first, last, from, to, cutBefore, cutAfter }
}

/** Where the size falls to the level between the last strong row and its weaker neighbor (nothing counts as 0). */
function end(
  strong: RidgeRow,
  weak: RidgeRow | undefined,
  { level, sense }: { readonly level: number; readonly sense: 1 | -1 }
): number {
  const below = weak?.size ?? 0
  const away = weak === undefined ? sense * UNIT : weak.at - strong.at
  return strong.size > below ? strong.at + away * Math.min(1, (strong.size - level) / (strong.size - below)) : strong.at
}
