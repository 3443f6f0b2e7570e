/**
 * Contract of all causes. Oracle: scenes painted from first principles, whose cause is known by how they were painted
 * (featuring/testing/paint.ts, testing/cases.ts); no recording and no generator of the product.
 */
import { describe, expect, it } from 'vitest'
import type { Features } from '../features.ts'
import { JUDGING, judge } from '../judge.ts'
import { valuesOf } from '../parameters.ts'
import { type Cause, cause, causes, PRACTICE } from './index.ts'
import { type Case, cases, crackAt, cracksOnScores, MIDDLE, type Scene, seen } from './testing/cases.ts'

const known = new Map<Scene, Features>()
function featuresOf(scene: Scene): Features {
  const before = known.get(scene)
  if (before !== undefined) return before
  const features = seen(scene)
  known.set(scene, features)
  return features
}

const scoreOf = (one: Cause, scene: Scene): number => one.weigh(featuresOf(scene), valuesOf(one.numbers)).score
const everything = causes.map(({ name }) => name)

/** What is wrong with a cause, in words; nothing for one that keeps the contract. */
function complaints(one: Cause, { shows, lookAlike }: Case, all: readonly Cause[] = causes): readonly string[] {
  const { name } = one
  const taken = judge(featuresOf(shows), { mayClass: [name], among: all })
  const mistaken = judge(featuresOf(lookAlike), { mayClass: [...everything, name], among: all })
  const unlisted = judge(featuresOf(shows), { mayClass: [], among: all })
  // what only the drawing can confirm may stay undecided beside damage that shows itself
  const wanted =
    one.never === undefined ? ('drawn' in one.numbers ? [one.class, 'undecided'] : [one.class]) : ['undecided']
  const { reasons } = one.weigh(featuresOf(shows), valuesOf(one.numbers))
  return [
    ...(scoreOf(one, shows) >= JUDGING.clear.value ? [] : [`${name} does not fit what shows it`]),
    ...(wanted.includes(taken.class)
      ? []
      : [`what shows ${name} is taken for ${taken.class} (${taken.cause}), not ${wanted.join(' or ')}`]),
    ...(['relevant', 'undecided'].includes(mistaken.class)
      ? []
      : [`what only looks like ${name} is taken for ${mistaken.class} (${mistaken.cause})`]),
    ...(['relevant', 'undecided'].includes(unlisted.class) ? [] : [`${name} takes without the technique`]),
    ...(one.class === 'relevant' || scoreOf(one, lookAlike) <= scoreOf(one, shows)
      ? []
      : [`${name} fits its look-alike better`]),
    ...(reasons.every(({ sentence }) => /\d|known|Clean|order|too short/.test(sentence))
      ? []
      : [`${name} has a reason without a figure`]),
    ...(one.class !== 'false' || reasons.some(({ sentence }) => /Clean .* rescan first/.test(sentence))
      ? []
      : [`${name} does not ask for cleaning and a second scan`])
  ]
}

describe.each(causes.map((one) => [one.name, one] as const))('%s', (name, one) => {
  it('says what it is, where that comes from, and why each of its numbers is as it is', () => {
    expect(one.looks).toMatch(/^[A-Z].{20,}\.$/)
    expect(one.source === PRACTICE || /^[a-z0-9-]+$/.test(one.source)).toBe(true)
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

describe('the registry', () => {
  it('has each name once, and a case for each and no other', () => {
    const names = causes.flatMap(({ name, alsoCalled }) => [name, ...alsoCalled])
    expect(new Set(names).size).toBe(names.length)
    expect(Object.keys(cases).sort()).toEqual(causes.map(({ name }) => name).sort())
  })

  it('knows the names that techniques list', () => {
    const known = new Set(causes.flatMap(({ name, alsoCalled }) => [name, ...alsoCalled]))
    const listed = ['scratch', 'chatter', 'loose particle', 'galled patch', 'edge', 'interface', 'ovality', 'wobble']
    expect([...listed, 'electrical noise'].filter((name) => !known.has(name))).toEqual([])
  })

  it('lets pit, fretting and a split line never below undecided', () =>
    expect(
      causes
        .filter(({ never }) => never !== undefined)
        .map(({ name }) => name)
        .sort()
    ).toEqual(['fretting', 'pit', 'split line of a sleeve']))
})

describe('the contract is shown to fail', () => {
  const wrong = (more: Partial<Cause>): Cause => ({
    ...causes.find(({ name }) => name === 'score')!,
    ...more,
    name: 'wrong'
  })

  it('for a cause that takes whatever is long, beside a crack that has to be short', () => {
    const long = wrong({
      weigh: ({ rows, expectedRows }) => ({ score: rows > 2 * expectedRows ? 1 : 0, reasons: [] })
    })
    const short: Cause = {
      ...causes.find(({ name }) => name === 'crack')!,
      weigh: ({ rows, expectedRows }) => ({ score: rows > 2 * expectedRows ? 0 : 1, reasons: [] })
    }
    expect(complaints(long, cases.score!, [short, long])).toContain(
      'what only looks like wrong is taken for damage, not a crack (wrong)'
    )
  })

  it('for one that fits nothing, one without figures, and a false one that asks for no second scan', () => {
    const said = complaints(
      wrong({
        class: 'false',
        weigh: () => ({ score: 0, reasons: [{ what: 'a', sentence: 'It seems so.', speaks: 'for' }] })
      }),
      cases.score!,
      [...causes]
    )
    expect(said).toEqual([
      'wrong does not fit what shows it',
      'what shows wrong is taken for undecided (score), not false',
      'wrong has a reason without a figure',
      'wrong does not ask for cleaning and a second scan'
    ])
  })
})

describe('a crack', () => {
  const judged = (scene: Scene) => judge(featuresOf(scene), { mayClass: everything })
  const others = ['false', 'nonrelevant', 'damage, not a crack']

  it.each([0.05, 0.06, 0.08, 0.15, 0.4, 1.5])('of %f notches is never taken for something else', (size) => {
    for (const reach of [0, 1, 4]) {
      const scene = { painters: [crackAt(MIDDLE, { size, reach, fall: 1 })], at: MIDDLE }
      expect(others).not.toContain(judged(scene).class)
    }
  })

  it('long, aslant, at the shallow or the deep end of the notches: is relevant', () => {
    for (const direction of [70, 80, 100])
      for (const helix of [0, 0.004]) {
        const listed = everything.filter((name) => name !== 'split line of a sleeve')
        const scene = { painters: [crackAt(MIDDLE, { direction, helix, reach: 7 })], at: MIDDLE }
        expect(judge(seen(scene), { mayClass: listed }).class).toBe('relevant')
      }
  })

  it('on a score is never damage alone', () => {
    for (const scene of cracksOnScores) expect(others).not.toContain(judged(scene).class)
  })

  it('is weighed with declared numbers only', () => {
    // @ts-expect-error a number that was not declared
    cause({ ...causes[0]!, numbers: {}, weigh: (_, { undeclared }) => ({ score: undeclared.value, reasons: [] }) })
  })
})
