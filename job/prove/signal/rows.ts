import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { type Exclusion, type GivenRow, type StudyRow, sortRows } from '../rows.ts'
import type { SignalStudy } from './study.ts'

/** One signal of one site, as a table or a record gives it; nothing is trusted yet. A size of 0 is a blank. */
export interface GivenSignalRow extends Omit<GivenRow, 'hit'> {
  readonly signal: unknown
  readonly signal_unit: unknown
  /** 'below' or 'above' where the table says that the signal lies beyond a limit; such a row may lack its signal */
  readonly limit?: unknown
}

/** A signal that was read, or that is known to lie at `signal` or beyond: -1 below, +1 above. */
export interface SignalRow {
  readonly row: string
  readonly size_m: number
  readonly site: string
  readonly inspector: string
  readonly signal: number
  readonly side: -1 | 0 | 1
}

export interface SortedSignals {
  readonly flaws: readonly SignalRow[]
  readonly blanks: readonly SignalRow[]
  readonly exclusions: readonly Exclusion[]
}

type Rules = Pick<SignalStudy, 'floor' | 'saturation' | 'threshold' | 'response' | 'inspectors' | 'excluded'>

/**
 * Rows sorted into flaws, blanks and excluded ones, each signal on its side of the limits.
 * Refuses what `sortRows` refuses (prove/repeats-as-rows where one row a flaw is asked), and: prove/mixed-units (of the
 * signal), prove/limits-crossed, prove/threshold-beyond-limits, prove/limit-wrong-side, prove/signal-not-positive; in
 * exclusions also prove/no-signal.
 */
export function sortSignals(given: readonly GivenSignalRow[], rules: Rules): Result<SortedSignals, Code> {
  const fault = rulesFault(rules) ?? mixedSignals(given)
  if (fault !== undefined) return fault
  const sorted = sortRows(
    given.map((row) => withoutSignal(row, rules)),
    {
      inspectors: rules.inspectors === 'one' ? 'one' : 'apart',
      excluded: rules.excluded
    }
  )
  if (isRefusal(sorted)) return sorted
  const of = new Map(given.map((row) => [row.row, row]))
  const read = (row: StudyRow): Read => ({ ...row, given: of.get(row.row)! })
  const [flaws, blanks] = [sorted.flaws.map(read), sorted.blanks.map(read)]
  const missing = [...flaws, ...blanks].filter(({ given: row }) => isMissing(row))
  const placed = [flaws, blanks].map((rows) =>
    rows.filter(({ given: row }) => !isMissing(row)).map((row) => placedRow(row, rules))
  )
  const wrong = placed.flat().find((row): row is Refusal<Code> => isRefusal(row))
  if (wrong !== undefined) return wrong
  const sound = (rows: readonly Result<SignalRow, Code>[] = []): readonly SignalRow[] =>
    rows.filter((row): row is SignalRow => !isRefusal(row))
  const unread = missing.map(({ row, given: { signal } }) => ({ row, why: noSignal(row, signal) }))
  return { flaws: sound(placed[0]), blanks: sound(placed[1]), exclusions: [...sorted.exclusions, ...unread] }
}

/** The flaws that a study uses, for pictures; none where it refuses its rows. */
export function signalsUsed(given: readonly GivenSignalRow[], rules: Rules): readonly SignalRow[] {
  const sorted = sortSignals(given, rules)
  return isRefusal(sorted) ? [] : sorted.flaws
}

interface Read extends StudyRow {
  readonly given: GivenSignalRow
}

/** For the sorting of sizes; where repeats are asked for every row counts as looked at by itself. */
const withoutSignal = (
  { signal: _s, signal_unit: _u, limit: _l, ...rest }: GivenSignalRow,
  rules: Rules
): GivenRow => ({
  ...rest,
  hit: true,
  ...(rules.inspectors === 'one' ? {} : { inspector: rest.row })
})

const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value)

const hasMark = ({ limit }: GivenSignalRow): boolean => limit !== undefined && limit !== null && limit !== ''

const isMissing = (row: GivenSignalRow): boolean => !isNumber(row.signal) && !hasMark(row)

function placedRow({ row, size_m, site, given }: Read, rules: Rules): Result<SignalRow, Code> {
  const inspector = given.inspector === undefined ? '' : String(given.inspector)
  const placed = sideOf(given, rules)
  if (isRefusal(placed)) return placed
  if (placed.side === 0 && rules.response === 'ln signal' && !(placed.signal > 0))
    return notPositive(row, placed.signal)
  return { row, size_m, site, inspector, ...placed }
}

type Placed = Pick<SignalRow, 'signal' | 'side'>

function sideOf(given: GivenSignalRow, { floor, saturation }: Rules): Result<Placed, Code> {
  const signal = isNumber(given.signal) ? given.signal : undefined
  const isBelow = floor !== null && (signal === undefined ? given.limit === 'below' : signal <= floor)
  const isAbove = saturation !== null && (signal === undefined ? given.limit === 'above' : signal >= saturation)
  const told = isBelow ? 'below' : isAbove ? 'above' : undefined
  if (hasMark(given) && given.limit !== told) return wrongSide(given, { floor, saturation })
  if (isBelow) return { signal: floor, side: -1 }
  return isAbove ? { signal: saturation, side: 1 } : { signal: signal!, side: 0 }
}

function rulesFault({ floor, saturation, threshold, response }: Rules): Refusal<Code> | undefined {
  const [low, high] = [floor ?? Number.NEGATIVE_INFINITY, saturation ?? Number.POSITIVE_INFINITY]
  if (!(low < high)) return crossed(low, high)
  if (!(threshold >= low && threshold <= high)) return beyondLimits(threshold, low, high)
  if (response !== 'ln signal') return undefined
  const wrong = [threshold, floor, saturation].find((value) => value !== null && !(value > 0))
  return wrong === undefined || wrong === null ? undefined : notPositive('of the question', wrong)
}

function mixedSignals(given: readonly GivenSignalRow[]): Refusal<Code> | undefined {
  const units = [...new Set(given.map(({ signal_unit }) => String(signal_unit ?? '')))]
  if (units.length < 2) return undefined
  return refuse('prove/mixed-units', {
    found: `signals in ${units.map((unit) => (unit === '' ? 'no unit' : unit)).join(', ')}`,
    needed: 'one unit for all signals',
    remedy: 'bring all signals to one gain and unit at their source'
  })
}

const noSignal = (row: string, signal: unknown): Refusal<Code> =>
  refuse('prove/no-signal', {
    found: typeof signal === 'string' ? `the text "${signal}" as a signal` : `a signal of ${String(signal)}`,
    needed: 'a number, or the mark that it lies below or above a limit',
    remedy: 'a signal that was not recorded is none at the noise; read it again, or leave the row out knowingly',
    where: { path: row }
  })

const notPositive = (row: string, signal: number): Refusal<Code> =>
  refuse('prove/signal-not-positive', {
    found: `a signal of ${signal} in row ${row}`,
    needed: 'signals, threshold and limits above zero for a response in ln signal',
    remedy: 'state the floor below which nothing is read, so that such a row counts as below it'
  })

const wrongSide = (
  { row, signal, limit }: GivenSignalRow,
  { floor, saturation }: Pick<Rules, 'floor' | 'saturation'>
): Refusal<Code> =>
  refuse('prove/limit-wrong-side', {
    found: `a signal of ${String(signal)} marked "${String(limit)}", with a floor of ${floor ?? 'none'} and a saturation of ${saturation ?? 'none'}`,
    needed: 'marks "below" at or below the floor and "above" at or above the saturation, nothing else',
    remedy: 'check which limit is which, and that both are in the unit of the signals',
    where: { path: row }
  })

const crossed = (floor: number, saturation: number): Refusal<Code> =>
  refuse('prove/limits-crossed', {
    found: `a floor of ${floor} and a saturation of ${saturation}`,
    needed: 'a floor below the saturation',
    remedy: 'check which limit is which, and their unit'
  })

const beyondLimits = (threshold: number, floor: number, saturation: number): Refusal<Code> =>
  refuse('prove/threshold-beyond-limits', {
    found: `a threshold of ${threshold}`,
    needed: `a threshold from ${floor} to ${saturation}, where signals are read`,
    remedy: 'choose a threshold that the recording can show, or record with another gain'
  })
