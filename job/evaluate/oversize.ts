import type { Refusal } from '@trueloop/ground/refusal'
import type { Measured } from './measured.ts'
import { type DepthRange, lengthText, rangeOf, rangeText, rounded, type SizeStatement } from './statement.ts'

/** Sizes in a hole that is wider than that of the standard, where answers are weaker by an amount that is known by bounds. */

/** Answer of a flaw as a share of that in the standard's hole, each at most 1. */
export interface AnswerLeft {
  readonly least: number
  readonly centered: number
  readonly most: number
}

/**
 * The size that is told of what the flaw would have answered in the standard's hole: its value with the centered loss, its
 * interval from the lowest end to the highest that the largest loss, the centered one and none tell. Loss never makes a size
 * smaller. Where nothing is lost, the size as it is told without.
 */
export function sizeBehindLoss(
  measured: Measured,
  { least, centered, most }: AnswerLeft,
  sizeOf: (measured: Measured) => SizeStatement
): SizeStatement {
  const plain = sizeOf(undiminished(measured, most))
  if (least === most || plain.withheld.length > 0) return plain
  return widened({
    plain,
    likely: sizeOf(undiminished(measured, centered)),
    most: sizeOf(undiminished(measured, least))
  })
}

/** What the same flaw would have shown, had nothing of its answer been lost; its noise grows with it. */
function undiminished(measured: Measured, left: number): Measured {
  if (left === 1) return measured
  const { rows, noise } = measured
  const square = left * left
  return {
    ...measured,
    amplitude: measured.amplitude / left,
    ...(rows === undefined
      ? {}
      : { rows: { ...rows, x: rows.x.map((v) => v / left), y: rows.y.map((v) => v / left) } }),
    ...(noise === undefined ? {} : { noise: { ...noise, xx: noise.xx / square, yy: noise.yy / square } })
  }
}

/** A size by no loss, by the likely one and by the largest. */
interface Told {
  readonly plain: SizeStatement
  readonly likely: SizeStatement
  readonly most: SizeStatement
}

function widened(told: Told): SizeStatement {
  const { plain, likely } = told
  const range = over(told)
  const why = reasonsOf(told)
  const rest = without(likely, [...OF_DEPTH, ...OF_LENGTH, 'why'])
  const equivalent = equivalentOver(told)
  return {
    ...rest,
    ...rangeOf(range),
    depth: `${rangeText(range)}, with what the oversize hole may take from the answer; with nothing taken: ${plain.depth}`,
    ...(likely.basis === undefined ? {} : { basis: `${likely.basis}, loss in an oversize hole` }),
    ...(equivalent === undefined ? {} : { equivalent: rangeOf(equivalent) }),
    ...lengthOver(told),
    ...(why.length > 0 ? { why } : {})
  }
}

const OF_DEPTH = ['depth', 'depth_mm', 'lower_mm', 'upper_mm', 'equivalent'] as const
const OF_LENGTH = ['length', 'length_mm', 'length_lower_mm', 'length_upper_mm'] as const

const without = <Key extends keyof SizeStatement>(
  size: SizeStatement,
  keys: readonly Key[]
): Omit<SizeStatement, Key> =>
  Object.fromEntries(Object.entries(size).filter(([key]) => !keys.includes(key as Key))) as unknown as Omit<
    SizeStatement,
    Key
  >

const each = ({ plain, likely, most }: Told): readonly SizeStatement[] => [plain, likely, most]

/** An end that one of them leaves open is open. */
function over(told: {
  readonly plain: DepthRange
  readonly likely: DepthRange
  readonly most: DepthRange
}): DepthRange {
  const all = [told.plain, told.likely, told.most]
  const lower = ends(all.map(({ lower_mm }) => lower_mm))
  const upper = ends(all.map(({ upper_mm }) => upper_mm))
  const { depth_mm } = told.likely
  return {
    ...(depth_mm === undefined ? {} : { depth_mm: Math.max(depth_mm, told.plain.depth_mm ?? depth_mm) }),
    ...(lower === undefined ? {} : { lower_mm: lower.least }),
    ...(upper === undefined ? {} : { upper_mm: upper.most })
  }
}

function ends(values: readonly (number | undefined)[]): { readonly least: number; readonly most: number } | undefined {
  const there = values.filter((one) => one !== undefined)
  return there.length < values.length ? undefined : { least: Math.min(...there), most: Math.max(...there) }
}

function equivalentOver({ plain, likely, most }: Told): DepthRange | undefined {
  if (plain.equivalent === undefined || likely.equivalent === undefined || most.equivalent === undefined)
    return undefined
  return over({ plain: plain.equivalent, likely: likely.equivalent, most: most.equivalent })
}

/** Length hardly moves with the loss; where one of them has none of its own, none is stated. */
function lengthOver(told: Told): Partial<SizeStatement> {
  const upper = ends(each(told).map((one) => one.length_upper_mm))
  const lower = ends(each(told).map((one) => one.length_lower_mm))
  if (upper === undefined) return {}
  const { length_mm } = told.likely
  const range = {
    ...(length_mm === undefined || lower === undefined ? {} : { length_mm, lower_mm: lower.least }),
    upper_mm: upper.most
  }
  return {
    length: lengthText(range),
    ...(range.length_mm === undefined ? {} : { length_mm: range.length_mm }),
    ...(range.lower_mm === undefined ? {} : { length_lower_mm: rounded(range.lower_mm) }),
    length_upper_mm: rounded(range.upper_mm)
  }
}

/** What any of the three has to say, once. */
function reasonsOf(told: Told): readonly Refusal[] {
  const all = each(told).flatMap(({ why = [] }) => why)
  return all.filter((one, i) => all.findIndex(({ code, found }) => code === one.code && found === one.found) === i)
}
