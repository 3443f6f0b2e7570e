import { rangeLaw } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Code } from '../codes.ts'
import { noScatter } from './components.ts'
import { cellsOf, type Readings } from './rows.ts'

/** Figures of a gauge study by ranges, as its form has them. */
export interface RangeFigures {
  readonly meanRange: number
  readonly operatorRange: number
  readonly partRange: number
  /** one over the expected range, to four places as the tables print them */
  readonly factors: { readonly repeat: number; readonly operator: number; readonly part: number }
  readonly repeat: number
  readonly operator: number
  readonly gauge: number
  readonly part: number
  readonly total: number
}

const toFour = (value: number): number => Math.round(1e4 / value) / 1e4

const range = (values: readonly number[]): number =>
  values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b))

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

/**
 * Standard deviations by ranges: repeat = mean range K1; operator = sqrt((range of operators' means K2)^2 - repeat^2/(p r)),
 * zero where that is negative; part = range of the parts' means K3. It has no interaction, and no interval is given.
 * Refuses: prove/unbalanced, prove/too-few-repeats, prove/no-scatter. source: aiag-msa-2010
 */
export function byRanges(readings: Readings): Result<RangeFigures, Code> {
  const cells = cellsOf(readings)
  if (isRefusal(cells)) return cells
  const [p, o, r] = [cells.length, cells[0]!.length, cells[0]![0]!.length]
  const factors = {
    repeat: toFour(rangeLaw(r).mean),
    operator: toFour(rangeLaw(o).rootMeanSquare),
    part: toFour(rangeLaw(p).rootMeanSquare)
  }
  const meanRange = mean(cells.flatMap((row) => row.map(range)))
  if (!(meanRange > 0)) return noScatter()
  const operatorRange = range(cells[0]!.map((_, j) => mean(cells.flatMap((row) => row[j]!))))
  const partRange = range(cells.map((row) => mean(row.flat())))
  const repeat = meanRange * factors.repeat
  const square = operatorRange * factors.operator * (operatorRange * factors.operator) - (repeat * repeat) / (p * r)
  const operator = Math.sqrt(Math.max(0, square))
  const gauge = Math.sqrt(repeat * repeat + operator * operator)
  const part = partRange * factors.part
  const total = Math.sqrt(gauge * gauge + part * part)
  return { meanRange, operatorRange, partRange, factors, repeat, operator, gauge, part, total }
}
