import { log } from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import type { GaugeStudy } from './study.ts'

/** One reading as a table gives it; nothing is trusted yet. */
export interface GivenReading {
  readonly row: string
  readonly part: unknown
  readonly operator: unknown
  readonly reading: unknown
  readonly unit: unknown
}

export interface Readings {
  readonly parts: readonly string[]
  readonly operators: readonly string[]
  /** in the order given; part and operator as places in their lists */
  readonly rows: readonly { readonly part: number; readonly operator: number; readonly y: number }[]
}

/**
 * Readings with their names. A reading that is none refuses the table: a gauge study with holes is another study.
 * Refuses: prove/no-rows, prove/no-part-name, prove/no-reading, prove/mixed-units, prove/signal-not-positive.
 */
export function sortReadings(
  given: readonly GivenReading[],
  { scale }: Pick<GaugeStudy, 'scale'>
): Result<Readings, Code> {
  const fault = faultOf(given)
  if (fault !== undefined) return fault
  const values = given.map((row) => numberIn(row, scale))
  const wrong = values.find((value): value is Refusal<Code> => isRefusal(value))
  if (wrong !== undefined) return wrong
  const [parts, operators] = [namesOf(given.map(({ part }) => part)), namesOf(given.map(({ operator }) => operator))]
  const rows = given.map(({ part, operator }, i) => ({
    ...{ part: parts.indexOf(String(part)), operator: operators.indexOf(String(operator)) },
    y: values[i] as number
  }))
  return { parts, operators, rows }
}

const namesOf = (names: readonly unknown[]): readonly string[] => [...new Set(names.map(String))]

const isNamed = (name: unknown): boolean =>
  (typeof name === 'string' && name.trim() !== '') || (typeof name === 'number' && Number.isFinite(name))

function faultOf(given: readonly GivenReading[]): Refusal<Code> | undefined {
  if (given.length === 0) return noRows()
  const nameless = given.find(({ part, operator }) => !isNamed(part) || !isNamed(operator))
  if (nameless !== undefined) return noName(nameless.row)
  const units = [...new Set(given.map(({ unit }) => String(unit ?? '')))]
  return units.length > 1 ? mixedUnits(units) : undefined
}

function numberIn({ row, reading }: GivenReading, scale: GaugeStudy['scale']): Result<number, Code> {
  if (typeof reading !== 'number' || !Number.isFinite(reading)) return noReading(row, reading)
  if (scale === 'reading') return reading
  return reading > 0 ? log(reading) : notPositive(row, reading)
}

const noRows = (): Refusal<Code> =>
  refuse('prove/no-rows', {
    found: 'no reading',
    needed: 'readings of every part by every operator, repeated',
    remedy: 'give the whole table of the study'
  })

const noName = (row: string): Refusal<Code> =>
  refuse('prove/no-part-name', {
    found: `row ${row} without a part or an operator`,
    needed: 'both in every row',
    remedy: 'name them: what scatters between parts and what between operators is told by names alone',
    where: { path: row }
  })

const noReading = (row: string, reading: unknown): Refusal<Code> =>
  refuse('prove/no-reading', {
    found: typeof reading === 'string' ? `the text "${reading}" as a reading` : `a reading of ${String(reading)}`,
    needed: 'a number in every row',
    remedy: 'read it again; or leave the row out and use restricted likelihood, which takes unequal repeats',
    where: { path: row }
  })

const notPositive = (row: string, reading: number): Refusal<Code> =>
  refuse('prove/signal-not-positive', {
    found: `a reading of ${reading} in row ${row}`,
    needed: 'readings above zero for ln reading',
    remedy: 'use the reading itself, or look at how it was recorded'
  })

const mixedUnits = (units: readonly string[]): Refusal<Code> =>
  refuse('prove/mixed-units', {
    found: `readings in ${units.map((unit) => (unit === '' ? 'no unit' : unit)).join(', ')}`,
    needed: 'one unit for all readings',
    remedy: 'bring all readings to one gain and unit at their source'
  })

export type Cells = readonly (readonly (readonly number[])[])[]

/** Readings by part and operator, equally many in each cell. Refuses: prove/unbalanced, prove/too-few-repeats. */
export function cellsOf({ parts, operators, rows }: Readings): Result<Cells, Code> {
  const cells = parts.map((_, part) =>
    operators.map((_name, operator) =>
      rows.filter((row) => row.part === part && row.operator === operator).map(({ y }) => y)
    )
  )
  const counts = [...new Set(cells.flat().map((cell) => cell.length))]
  if (counts.length > 1) return unbalanced(counts)
  if (parts.length < 2 || operators.length < 2 || counts[0]! < 2)
    return tooFew(`${parts.length} parts, ${operators.length} operators, ${counts[0]} readings each`)
  return cells
}

const unbalanced = (counts: readonly number[]): Refusal<Code> =>
  refuse('prove/unbalanced', {
    found: `from ${counts.reduce((a, b) => Math.min(a, b))} to ${counts.reduce((a, b) => Math.max(a, b))} readings of a part by an operator`,
    needed: 'equally many, for mean squares and ranges',
    remedy: 'use restricted likelihood; to leave readings out until the rest is equal would be a choice of results'
  })

export const tooFew = (found: string): Refusal<Code> =>
  refuse('prove/too-few-repeats', {
    found,
    needed: 'two parts, two operators, and two readings of each part by each operator, at the least',
    remedy: 'read every part again, by every operator; ten parts by three operators two or three times are usual'
  })
