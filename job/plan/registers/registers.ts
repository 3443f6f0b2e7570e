import { daysFrom } from '../calendar.ts'
import { editionOfRow, nameOfRow, type RegisterName, type RegisterRow, spansOfRow } from './rows.ts'
import { type SpanStanding, type StandingName, standingOf, standingsOn } from './standing.ts'

/** The registers of a shop as its record has them: rows in the order in which they came, and what was struck off. */

export interface Registered {
  readonly row: RegisterRow
  /** name of its document */
  readonly document: string
  readonly seq: number
}

export interface StruckOff {
  readonly what: RegisterName
  readonly name: string
  /** the first day on which it no longer stands in the register */
  readonly from: string
  readonly reason: string
  readonly seq: number
}

export interface Registers {
  readonly registered: readonly Registered[]
  readonly struckOff: readonly StruckOff[]
}

export const noRegisters: Registers = { registered: [], struckOff: [] }

/** What is asked for: a person by name, a thing by its serial number, a procedure by its number. */
export interface Entered {
  readonly what: RegisterName
  readonly name: string
}

/** How something stands in the registers on a day. */
export type Held =
  | { readonly state: StandingName; readonly registered: Registered }
  | { readonly state: 'struck off'; readonly struckOff: StruckOff }
  | { readonly state: 'not registered' }

/**
 * The row that rules on a day, and how it stands. A row takes the place of an earlier one of the same edition (the same
 * certificate, the same revision); of several editions that have begun, the one that began last rules. What was struck
 * off is out from its day on, whatever was registered before.
 */
export function heldOn(registers: Registers, entered: Entered, day: string): Held {
  const alive = editionsOn(registers, entered, day)
  const ruling = rulingOn(alive, day)
  if (ruling !== undefined) return { state: standingOf(ruling.row, day), registered: ruling }
  const struckOff = registers.struckOff.findLast((one) => isOf(one, entered) && one.from <= day)
  return struckOff === undefined ? { state: 'not registered' } : { state: 'struck off', struckOff }
}

const isOf = (one: Entered, { what, name }: Entered): boolean => one.what === what && one.name === name

const rowIsOf = ({ row }: Registered, { what, name }: Entered): boolean =>
  row.register === what && nameOfRow(row) === name

/** The latest row of every edition that is not struck off on a day. */
function editionsOn({ registered, struckOff }: Registers, entered: Entered, day: string): readonly Registered[] {
  const out = struckOff.filter((one) => isOf(one, entered) && one.from <= day)
  const editions = new Map<string, Registered>()
  for (const one of registered) {
    if (rowIsOf(one, entered) && out.every(({ seq }) => seq <= one.seq)) editions.set(editionOfRow(one.row), one)
  }
  return [...editions.values()]
}

/** The day on which all of a row has begun; before all days where it states none. */
const startOf = (row: RegisterRow): string =>
  spansOfRow(row).reduce((latest, { from }) => (from !== undefined && from.day > latest ? from.day : latest), '')

/** Of those that have begun, the one that began last; before any has, the one that begins first. */
function rulingOn(alive: readonly Registered[], day: string): Registered | undefined {
  const ordered = alive
    .map((one) => ({ one, start: startOf(one.row) }))
    .sort((a, b) => (a.start < b.start ? -1 : a.start > b.start ? 1 : a.one.seq - b.one.seq))
  return (ordered.findLast(({ start }) => start <= day) ?? ordered[0])?.one
}

/** Everything that was ever registered, by name, in the order of the registers and their rows. */
export function namesIn({ registered }: Registers): readonly Entered[] {
  const all = new Map<string, Entered>()
  for (const { row } of registered) {
    const entered = { what: row.register, name: nameOfRow(row) }
    all.set(`${entered.what} ${entered.name}`, entered)
  }
  return [...all.values()]
}

/** All rows of one name, the first first. */
export const historyOf = ({ registered }: Registers, entered: Entered): readonly Registered[] =>
  registered.filter((one) => rowIsOf(one, entered))

/** Something that has expired or falls due. */
export interface Due extends Entered, SpanStanding {
  readonly standing: 'expired' | 'falls due'
  readonly until: string
  readonly left_days: number
}

/**
 * What has expired or falls due on a day, of all that rules then: what expired first, then by the day on which it falls
 * due. What another row follows without a gap is not listed.
 */
export function dueOn(registers: Registers, day: string): readonly Due[] {
  const all = namesIn(registers).flatMap((entered) => dueOf(registers, entered, day))
  return all.sort((a, b) => a.left_days - b.left_days)
}

function dueOf(registers: Registers, entered: Entered, day: string): readonly Due[] {
  const held = heldOn(registers, entered, day)
  if (!('registered' in held)) return []
  const later = editionsOn(registers, entered, day).filter(({ row }) => startOf(row) > day)
  return standingsOn(held.registered.row, day)
    .filter(isDue)
    .flatMap((one) =>
      one.standing === 'falls due' && later.some((other) => follows(other, one)) ? [] : [{ ...entered, ...one }]
    )
}

const isDue = (one: SpanStanding): one is SpanStanding & Due =>
  one.standing === 'expired' || one.standing === 'falls due'

/** Begins no later than the day after the other's last. */
const follows = ({ row }: Registered, { until, ends = false }: Pick<Due, 'until' | 'ends'>): boolean =>
  daysFrom(until, startOf(row)) <= (ends ? 0 : 1)
