import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { HappeningName } from '../plan/index.ts'
import { type Happening, standingsOf } from './brackets.ts'

/**
 * Oracle: ISO 15549, 10.2 and 10.3 (checks at the beginning, at the end, at stated intervals, when parts are exchanged and
 * when people change; after a failed one everything since the last good one counts as not examined), on orders written by
 * hand; and laws that hold for every order.
 */

type Step = string | readonly [string, Partial<Happening>]

const names = { R: 'reference', g: 'passed', F: 'failed', s: 'scan' } as const

/** "R s g": a reference scan, a scan, a good recheck. A step may name a second set-up: "R2". */
const happenings = (steps: readonly Step[]): readonly Happening[] => {
  const began = new Map<string, string>()
  return steps.map((step, at) => {
    const [letters, over] = typeof step === 'string' ? [step, {}] : step
    const what = names[letters[0] as keyof typeof names]
    const recording = `${letters}@${at}`
    if (what === 'reference') began.set(letters.slice(1), recording)
    return { what, recording, setUp: began.get(letters.slice(1)) ?? 'none', ...over }
  })
}
const said = (steps: readonly Step[], interval_min?: number) =>
  standingsOf(happenings(steps), interval_min === undefined ? {} : { interval_s: 60 * interval_min }).flatMap((one) =>
    one === undefined ? [] : [one.standing === 'certain' ? 'certain' : `${one.standing}: ${one.why}`]
  )
const after = (...since: HappeningName[]) => ({ since })
const at = (minute: number) => ({ seconds: 60 * minute })

describe('a change between two recordings', () => {
  it('asks for a recheck before the next scan counts, and the check speaks for what follows alone', () => {
    expect(said(['R', 's', ['s', after('tape')], 'g', 's', 'g'])).toEqual([
      'voided: no good recheck between it and a change of tape',
      'voided: scanned after a change of tape without a recheck',
      'certain'
    ])
  })
  it('of person, or a drop, leaves what came before it to the next good recheck', () =>
    expect(said(['R', 's', ['g', after('person')], 's', ['g', after('drop', 'temperature')]])).toEqual([
      'certain',
      'certain'
    ]))
  it('of a part is followed by a good recheck: the scans with the old part have none', () =>
    expect(said(['R', 's', 'g', 's', ['g', after('battery', 'cable')], 's', 'g'])).toEqual([
      'certain',
      'voided: no good recheck between it and a change of battery and a change of cable',
      'certain'
    ]))
  it('of one probe does not concern the other; of the instrument it does', () => {
    expect(said(['R', 'R2', 's', ['s2', after('tape')], 'g'])).toEqual([
      'certain',
      'voided: scanned after a change of tape without a recheck'
    ])
    expect(said(['R', 'R2', 's', ['s2', after('instrument')], 'g'])[0]).toBe(
      'voided: no good recheck between it and a change of instrument'
    )
  })
  it('is settled by a new reference scan', () =>
    expect(said(['R', 's', 'g', ['R2', after('probe')], 's2', 'g2'])).toEqual(['certain', 'certain']))
})

describe('an interval', () => {
  it('counts from the last good check to the scan, its last minute with it', () =>
    expect(
      said(
        [
          ['R', at(0)],
          ['s', at(60)],
          ['s', at(60.01)],
          ['g', at(61)],
          ['s', at(121)],
          ['g', at(122)]
        ],
        60
      )
    ).toEqual(['certain', 'voided: scanned 60.1 min after the last good recheck, where 60 min are allowed', 'certain']))
  it('that nobody can count is not kept', () =>
    expect(said([['R', at(0)], 's', ['g', at(1)]], 60)).toEqual([
      'voided: nobody knows how long after a good recheck it was scanned'
    ]))
})

describe('a scan whose place in the order is not sure', () => {
  const unsure = { isUnsure: true }
  it('counts only where nothing failed or changed all along, and a good check stands at the end', () => {
    expect(said(['R', ['s', unsure], 'g', 's', 'g'])).toEqual(['certain', 'certain'])
    expect(said(['R', ['s', unsure], 'g', 's'])[0]).toBe(
      'provisional: no good recheck after all that it may have come after'
    )
    expect(said(['R', 'g', ['s', unsure], 'g', 's', 'F'])[0]).toBe(
      'voided: a recheck failed, and nobody is sure on which side of it this was scanned'
    )
    expect(said(['R', ['s', unsure], 'g', ['g', after('drop')]])[0]).toBe(
      'voided: nobody is sure whether it was scanned after a drop'
    )
  })
})

const rank = { voided: 0, provisional: 1, certain: 2 } as const
const orders = fc
  .array(
    fc.tuple(
      fc.constantFrom('R', 's', 's', 's', 'g', 'F', 'R2', 's2', 'g2'),
      fc.constantFrom<HappeningName | 'none'>('none', 'none', 'none', 'tape', 'person', 'battery')
    ),
    {
      minLength: 1,
      maxLength: 14
    }
  )
  .map((steps) => steps.map(([step, name]): Step => [step, name === 'none' ? {} : after(name)]))
const ranks = (all: readonly Happening[]) =>
  standingsOf(all).map((one) => (one === undefined ? -1 : rank[one.standing]))

describe('laws of brackets', () => {
  it('a good recheck at the end never heals what was voided', () =>
    fc.assert(
      fc.property(orders, (steps) => {
        const before = standingsOf(happenings(steps))
        const later = standingsOf(happenings([...steps, 'g', 'g2']))
        before.forEach((one, at) => {
          if (one?.standing === 'voided') expect(later[at]).toEqual(one)
        })
      })
    ))
  it('a change, a doubt, a failed recheck never make a scan stand better', () =>
    fc.assert(
      fc.property(
        orders,
        fc.nat(),
        fc.constantFrom<Partial<Happening>>(after('tape'), after('drop'), { isUnsure: true }, { what: 'failed' }),
        (steps, where, worse) => {
          const all = happenings(steps)
          const at = where % all.length
          const one = all[at] as Happening
          fc.pre(worse.what === undefined || one.what === 'passed')
          const since = [...(one.since ?? []), ...(worse.since ?? [])]
          const changed = all.with(at, { ...one, ...worse, since })
          const [was, is] = [ranks(all), ranks(changed)]
          for (const [index, each] of was.entries()) expect(is[index]).toBeLessThanOrEqual(each)
        }
      )
    ))
  it('a scan counts only between a good check before it and one after it', () =>
    fc.assert(
      fc.property(orders, (steps) => {
        const all = happenings(steps)
        standingsOf(all).forEach((one, at) => {
          if (one?.standing !== 'certain') return
          const after = all.slice(at + 1)
          const isOwn = ({ setUp }: Happening) => setUp === all[at]?.setUp
          const isGood = ({ what }: Happening) => what === 'passed' || what === 'reference'
          expect(all.slice(0, at).some((before) => isOwn(before) && isGood(before))).toBe(true)
          const closing = after.findIndex((later) => isOwn(later) && later.what === 'passed')
          expect(closing).toBeGreaterThanOrEqual(0)
          // a failure of another set-up speaks for what was scanned since that set-up was last referenced, so not for
          // what was scanned before a reference scan of any
          const restart = after.findIndex(({ what }) => what === 'reference')
          const isAgainst = (later: Happening, index: number) =>
            later.what === 'failed' && (isOwn(later) || restart < 0 || index < restart)
          expect(after.slice(0, closing).some(isAgainst)).toBe(false)
        })
      })
    ))
})
