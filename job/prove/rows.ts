import { parseQuantity } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'

/**
 * One site looked at once, as a table or a record gives it; nothing is trusted yet. A size of 0 is a blank: a site
 * known to hold no flaw. `flaw` names the flaw on its specimen where there are several.
 */
export interface GivenRow {
  /** where it stands: a line of a table, an entry of a record */
  readonly row: string
  readonly size: unknown
  readonly unit: unknown
  /** true or 1: called; false or 0: examined and not called. A site that was not examined has neither. */
  readonly hit: unknown
  readonly specimen: unknown
  readonly flaw?: unknown
  readonly inspector?: unknown
}

export interface StudyRow {
  readonly row: string
  readonly size_m: number
  readonly hit: boolean
  readonly site: string
  readonly inspector: string
}

/** A row that is not used, and why. */
export interface Exclusion {
  readonly row: string
  readonly why: Refusal
}

export interface SortedRows {
  readonly flaws: readonly StudyRow[]
  readonly blanks: readonly StudyRow[]
  readonly exclusions: readonly Exclusion[]
}

/** A person takes a row out of the study, with a reason. */
export interface TakenOut {
  readonly row: string
  readonly reason: string
  readonly by: string
}

export interface SortingRules {
  readonly inspectors: 'one' | 'apart'
  readonly excluded: readonly TakenOut[]
}

/**
 * Rows sorted into flaws, blanks and excluded ones. A size or result that is missing excludes its row with the reason;
 * a fault of the table as a whole refuses it: no figure comes from rows whose meaning is in doubt.
 * Refuses: prove/no-rows, prove/one-row, prove/no-flaw-name, prove/hits-as-text, prove/unknown-unit, prove/mixed-units,
 * prove/flaw-of-two-sizes, prove/repeats-as-rows, prove/no-such-row; in exclusions: prove/no-size, prove/negative-size,
 * prove/no-result, and what a person took out as prove/no-result with their reason.
 */
export function sortRows(given: readonly GivenRow[], rules: SortingRules): Result<SortedRows, Code> {
  const fault = tableFault(given) ?? strayExclusion(given, rules)
  if (fault !== undefined) return fault
  const out = new Map(rules.excluded.map((one) => [one.row, one]))
  const meters = meterOf(given)
  if (isRefusal(meters)) return meters
  const judged = given.map((row) => ({ row, why: takenOut(out.get(row.row)) ?? rowFault(row) }))
  const rows = judged.flatMap(({ row, why }) => (why === undefined ? [sound(row, meters)] : []))
  const fault2 = twoSizes(rows) ?? repeated(rows, rules)
  if (fault2 !== undefined) return fault2
  return {
    flaws: rows.filter(({ size_m }) => size_m > 0),
    blanks: rows.filter(({ size_m }) => size_m === 0),
    exclusions: judged.flatMap(({ row, why }) => (why === undefined ? [] : [{ row: row.row, why }]))
  }
}

const sound = ({ row, size, hit, specimen, flaw, inspector }: GivenRow, meters: number): StudyRow => ({
  row,
  size_m: (size as number) * meters,
  hit: hit === true || hit === 1,
  site: named(flaw) ? `${String(specimen)}/${String(flaw)}` : String(specimen),
  inspector: named(inspector) ? String(inspector) : ''
})

const named = (value: unknown): value is string | number =>
  (typeof value === 'string' && value.trim() !== '') || (typeof value === 'number' && Number.isFinite(value))

function tableFault(given: readonly GivenRow[]): Refusal<Code> | undefined {
  if (given.length === 0) return fewRows('prove/no-rows', 'no row')
  if (given.length === 1) return fewRows('prove/one-row', 'one row')
  const nameless = given.find(({ specimen }) => !named(specimen))
  if (nameless !== undefined) return noName(nameless)
  const text = given.find(
    ({ hit }) => typeof hit === 'string' || (typeof hit === 'number' && hit !== 0 && hit !== 1 && !Number.isNaN(hit))
  )
  return text === undefined ? undefined : hitsAsText(text)
}

/** Meters in the one unit of the table. */
function meterOf(given: readonly GivenRow[]): Result<number, Code> {
  const units = [...new Set(given.map(({ unit }) => String(unit ?? '')))]
  if (units.length > 1) return mixedUnits(units)
  const meters = parseQuantity(`1 ${units[0] ?? ''}`, 'm')
  return isRefusal(meters) ? unknownUnit(units[0] ?? '') : meters
}

function rowFault({ row, size, hit }: GivenRow): Refusal<Code> | undefined {
  if (typeof size !== 'number' || !Number.isFinite(size)) return noSize(row, size)
  if (size < 0) return negativeSize(row, size)
  return typeof hit === 'boolean' || hit === 0 || hit === 1 ? undefined : noResult(row, `a result of ${String(hit)}`)
}

const takenOut = (out: TakenOut | undefined): Refusal<Code> | undefined =>
  out === undefined ? undefined : noResult(out.row, `a row taken out by ${out.by}: ${out.reason}`)

function strayExclusion(given: readonly GivenRow[], { excluded }: SortingRules): Refusal<Code> | undefined {
  const known = new Set(given.map(({ row }) => row))
  const stray = excluded.find(({ row }) => !known.has(row))
  if (stray === undefined) return undefined
  return refuse('prove/no-such-row', {
    found: `row ${stray.row} to be taken out`,
    needed: 'a row of this table',
    remedy: 'correct the name of the row'
  })
}

function twoSizes(rows: readonly StudyRow[]): Refusal<Code> | undefined {
  const sizes = new Map<string, StudyRow>()
  for (const row of rows) {
    const before = sizes.get(row.site)
    if (before !== undefined && before.size_m !== row.size_m) return flawOfTwoSizes(before, row)
    sizes.set(row.site, before ?? row)
  }
  return undefined
}

function repeated(rows: readonly StudyRow[], { inspectors }: SortingRules): Refusal<Code> | undefined {
  const seen = new Map<string, StudyRow>()
  for (const row of rows) {
    const key = inspectors === 'apart' ? `${row.inspector} at ${row.site}` : row.site
    const before = seen.get(key)
    if (before !== undefined) return repeats(before, row)
    seen.set(key, row)
  }
  return undefined
}

const fewRows = (code: 'prove/no-rows' | 'prove/one-row', found: string): Refusal<Code> =>
  refuse(code, {
    found,
    needed: 'a row for each flaw and each blank that was examined',
    remedy: 'give the whole table of the trial'
  })

const noName = ({ row }: GivenRow): Refusal<Code> =>
  refuse('prove/no-flaw-name', {
    found: `row ${row} without a specimen`,
    needed: 'the specimen, and the flaw on it where there are several, in every row',
    remedy: 'name them: one flaw seen twice is not two flaws, and only names tell',
    where: { path: row }
  })

const hitsAsText = ({ row, hit }: GivenRow): Refusal<Code> =>
  refuse('prove/hits-as-text', {
    found: `${typeof hit === 'string' ? `the text "${hit}"` : String(hit)} as the result of row ${row}`,
    needed: '1 where the flaw was called, 0 where the site was examined and not called',
    remedy: 'state what each word of the table means; a size or a signal is no hit',
    where: { path: row }
  })

const mixedUnits = (units: readonly string[]): Refusal<Code> =>
  refuse('prove/mixed-units', {
    found: `sizes in ${units.map((unit) => (unit === '' ? 'no unit' : unit)).join(', ')}`,
    needed: 'one unit for all sizes',
    remedy: 'convert the sizes of one column at their source, and look for rows that were converted twice'
  })

const unknownUnit = (unit: string): Refusal<Code> =>
  refuse('prove/unknown-unit', {
    found: unit === '' ? 'sizes without a unit' : `sizes in "${unit}"`,
    needed: 'a unit of length, such as mm or in',
    remedy: 'state the unit of the sizes'
  })

const noSize = (row: string, size: unknown): Refusal<Code> =>
  refuse('prove/no-size', {
    found: typeof size === 'string' ? `the text "${size}" as a size` : `a size of ${String(size)}`,
    needed: 'a number above 0 for a flaw, 0 for a blank',
    remedy: 'measure the flaw, or leave the row out knowingly',
    where: { path: row }
  })

const negativeSize = (row: string, size: number): Refusal<Code> =>
  refuse('prove/negative-size', {
    found: `a size of ${size}`,
    needed: 'a number above 0 for a flaw, 0 for a blank',
    remedy: 'correct the size; a sign in front of it may be a slip or a code of somebody',
    where: { path: row }
  })

const noResult = (row: string, found: string): Refusal<Code> =>
  refuse('prove/no-result', {
    found,
    needed: 'a result: called, or examined and not called',
    remedy: 'a site that was not examined is neither hit nor miss; examine it, or leave it out',
    where: { path: row }
  })

const flawOfTwoSizes = (one: StudyRow, other: StudyRow): Refusal<Code> =>
  refuse('prove/flaw-of-two-sizes', {
    found: `${one.site} of ${one.size_m} m in row ${one.row} and of ${other.size_m} m in row ${other.row}`,
    needed: 'one size for one flaw',
    remedy: 'correct the size, or name the second flaw of the specimen'
  })

const repeats = (one: StudyRow, other: StudyRow): Refusal<Code> =>
  refuse('prove/repeats-as-rows', {
    found: `${one.site} in row ${one.row} and again in row ${other.row}${one.inspector === other.inspector ? ' by the same inspector' : ' by another inspector'}`,
    needed: 'each flaw once for each inspector: looking twice at one flaw does not make it two',
    remedy:
      'fit several inspectors apart; of repeats by one inspector take the one that counts, chosen before the trial'
  })
