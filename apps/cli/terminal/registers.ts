import { type Due, dueOn, heldOn, namesIn, type RegisterName, type Registers, standingsOn } from '@trueloop/job/plan'
import { table } from './say.ts'

/** The registers for a terminal: what has expired or falls due first, then everything that stands there. */

/** One thing of the registers on a day. */
export interface Line {
  readonly what: RegisterName
  readonly name: string
  readonly standing: string
  /** the last day on which all of it holds, or the first on which it does not, in words */
  readonly until: string
  readonly document: string | null
  readonly row: object | null
}

export interface ListData {
  readonly on: string
  readonly due: readonly Due[]
  readonly registers: readonly Line[]
}

export const listData = (registers: Registers, on: string): ListData => ({
  on,
  due: dueOn(registers, on),
  registers: namesIn(registers).map((entered) => lineOf(registers, entered, on))
})

function lineOf(registers: Registers, { what, name }: Pick<Line, 'what' | 'name'>, on: string): Line {
  const held = heldOn(registers, { what, name }, on)
  const common = { what, name, standing: held.state }
  if (!('registered' in held)) return { ...common, until: '', document: null, row: null }
  const { row, document } = held.registered
  const lasts = standingsOn(row, on).flatMap(({ of, until, ends }) =>
    until === undefined ? [] : [`${of} ${ends === true ? 'before' : 'to'} ${until}`]
  )
  return { ...common, until: lasts.length === 0 ? 'no end stated' : lasts.join(', '), document, row }
}

export function listText({ on, due, registers }: ListData): readonly string[] {
  if (registers.length === 0) {
    return ['no registers in this archive: people and equipment are what the job sheets say', howToBegin]
  }
  return [
    ...(due.length === 0 ? [`on ${on} nothing has expired or falls due within 30 days`] : dueText(on, due)),
    '',
    ...table([['register', 'name', 'state', 'until'], ...registers.map(cells)])
  ]
}

const howToBegin = 'to begin: trueloop register FILE --as NAME; the operator guide has a file to begin with'

const cells = ({ what, name, standing, until }: Line): readonly string[] => [what, name, standing, until]

const dueText = (on: string, due: readonly Due[]): readonly string[] => [
  `on ${on}:`,
  ...due.map(({ what, name, of, standing, until, ends, left_days }) => {
    const last = ends === true ? `not from ${until} on` : `last day ${until}`
    return `  ${standing === 'expired' ? 'EXPIRED' : 'falls due'}: ${of} of ${what} ${name}, ${last} (${daysText(left_days)})`
  })
]

const daysText = (left: number): string =>
  left === 0
    ? 'today'
    : left > 0
      ? `in ${left} ${left === 1 ? 'day' : 'days'}`
      : `${-left} ${left === -1 ? 'day' : 'days'} ago`
