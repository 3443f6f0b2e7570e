/** Contract of all causes along a weld. Oracle: tracks whose cause is known by how they were painted (testing/cases.ts). */
import { describe, expect, it } from 'vitest'
import { PRACTICE } from '../causes/index.ts'
import { JUDGING } from '../judge.ts'
import { valuesOf } from '../parameters.ts'
import { judgeTrack } from '../track-judge.ts'
import { type TrackCause, trackCause, trackCauses } from './index.ts'
import { type Case, cases, type Painted, seen } from './testing/cases.ts'

const everything = trackCauses.map(({ name }) => name)
const scoreOf = (one: TrackCause, painted: Painted): number => one.weigh(seen(painted), valuesOf(one.numbers)).score

/** What is wrong with a cause, in words; nothing for one that keeps the contract. */
function complaints(one: TrackCause, { shows, lookAlike }: Case): readonly string[] {
  const { name } = one
  const taken = judgeTrack(seen(shows), { crossedAlarm: true, mayClass: everything })
  const unlisted = judgeTrack(seen(shows), { crossedAlarm: true, mayClass: [] })
  const mistaken = judgeTrack(seen(lookAlike), { crossedAlarm: true, mayClass: everything })
  const { reasons } = one.weigh(seen(shows), valuesOf(one.numbers))
  return [
    ...(scoreOf(one, shows) >= JUDGING.clear.value ? [] : [`${name} does not fit what shows it`]),
    ...(taken.class === one.class ? [] : [`what shows ${name} is taken for ${taken.class} (${taken.cause})`]),
    ...(['relevant', 'undecided'].includes(unlisted.class) ? [] : [`${name} takes without the technique`]),
    ...(mistaken.class === 'relevant'
      ? []
      : [`what only looks like ${name} is taken for ${mistaken.class} (${mistaken.cause})`]),
    ...(one.class === 'relevant' || scoreOf(one, lookAlike) < scoreOf(one, shows)
      ? []
      : [`${name} fits its look-alike better`]),
    ...(reasons.every(({ sentence }) => /\d|does not come back|comes back|Run the track again/.test(sentence))
      ? []
      : [`${name} has a reason without a figure`]),
    ...(one.class !== 'false' || reasons.some(({ sentence }) => /Run the track again first/.test(sentence))
      ? []
      : [`${name} does not ask for a second run`])
  ]
}

describe.each(trackCauses.map((one) => [one.name, one] as const))('%s', (name, one) => {
  it('says what it is, where that comes from, and why each of its numbers is as it is', () => {
    expect(one.looks).toMatch(/^[A-Z].{20,}\.$/)
    expect(one.source).toBe(PRACTICE)
    for (const { value, unit, reason } of Object.values(one.numbers)) {
      expect(Number.isFinite(value)).toBe(true)
      expect(unit.length).toBeGreaterThan(0)
      expect(reason.length).toBeGreaterThan(5)
    }
  })

  it('keeps the contract: shows, look-alike, technique, reasons', () => {
    expect(cases[name], `a case of ${name}`).toBeDefined()
    expect(complaints(one, cases[name]!)).toEqual([])
  })
})

describe('the causes along a weld', () => {
  it('have each name once, and a case for each and no other', () => {
    const names = trackCauses.flatMap(({ name, alsoCalled }) => [name, ...alsoCalled])
    expect(new Set(names).size).toBe(names.length)
    expect(Object.keys(cases).sort()).toEqual(trackCauses.map(({ name }) => name).sort())
  })

  it('a cause that takes everything breaks the contract', () => {
    const greedy = trackCause({
      name: 'spatter',
      alsoCalled: [],
      class: 'nonrelevant',
      looks: 'Like anything that there is along a weld.',
      source: PRACTICE,
      numbers: {},
      weigh: () => ({ score: 1, reasons: [{ what: 'all', sentence: 'It is there.', speaks: 'for' }] })
    }) as TrackCause
    expect(complaints(greedy, cases.spatter!).length).toBeGreaterThan(1)
  })

  it('below the alarm nothing is relevant, and nothing is dropped', () => {
    const faint = judgeTrack(seen(cases.crack!.shows), { crossedAlarm: false, mayClass: [] })
    expect(faint.class).toBe('undecided')
  })
})
