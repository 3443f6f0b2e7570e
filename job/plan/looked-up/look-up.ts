import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import {
  heldOn,
  type Registered,
  type Registers,
  type SpanStanding,
  type StruckOff,
  standingsOn
} from '../registers/index.ts'
import type { Sheet } from '../sheet.ts'
import { pathText } from '../where.ts'
import { differing } from './differing.ts'
import type { Use } from './uses.ts'

/** A use whose row in the register held on its day. */
export interface LookedUp extends Use {
  readonly registered: Registered
  /** how everything of the row that has a time stood on that day */
  readonly spans: readonly SpanStanding[]
}

/**
 * The row of the register that ruled on the day of a use. Refuses `plan/not-registered` (unknown, or struck off),
 * `plan/out-of-date` (expired, or not yet in force) and `plan/register-differs` (the sheet says otherwise than the row).
 */
export function lookUp(registers: Registers, sheet: Sheet, use: Use): Result<LookedUp, Code> {
  const held = heldOn(registers, use, use.day)
  if (!('registered' in held)) return notRegistered(use, 'struckOff' in held ? held.struckOff : undefined)
  const spans = standingsOn(held.registered.row, use.day)
  const out = spans.find(({ standing }) => standing === 'expired' || standing === 'not yet in force')
  if (out !== undefined) return outOfDate(use, out)
  return differing(sheet, use, held.registered.row) ?? { ...use, registered: held.registered, spans }
}

const nameOf = ({ what, name }: Use): string => `${what} "${name}"`

function notRegistered(use: Use, struckOff: StruckOff | undefined): Refusal<Code> {
  const out = struckOff === undefined ? '' : `, struck off from ${struckOff.from}: ${struckOff.reason}`
  return refuse('plan/not-registered', {
    found: `${nameOf(use)} for ${use.for}, on ${use.day}, which does not stand in the register${out}`,
    needed: `a ${use.what} of the register, named as it stands there`,
    remedy: 'correct the name in the job sheet; what is missing is registered first: register FILE',
    where: { path: pathText(use.steps) }
  })
}

const outOfDate = (use: Use, { of, from, until, ends, standing }: SpanStanding): Refusal<Code> =>
  refuse('plan/out-of-date', {
    found: `${of} of ${nameOf(use)}, ${standing} on ${use.day}, the day of ${use.for}`,
    needed: `a day on which it holds: ${from === undefined ? '' : `from ${from} `}${ends === true ? 'until before' : 'to'} ${until ?? 'on'}`,
    remedy: 'use one that holds; or have it renewed and register the renewal, then do again what was done without it',
    where: { path: pathText(use.steps) }
  })

/** What falls due, in words: one line for each thing, by its latest day. */
export function dueNotes(all: readonly LookedUp[]): readonly string[] {
  const notes = new Map<string, string>()
  for (const { what, name, day, spans } of [...all].sort((a, b) => (a.day < b.day ? -1 : 1))) {
    for (const { of, until, standing, left_days: left = 0 } of spans) {
      if (standing !== 'falls due') continue
      notes.set(`${what} ${name} ${of}`, `falls due: ${of} of ${what} ${name}, ${until}; ${left} days left on ${day}`)
    }
  }
  return [...notes.values()]
}
