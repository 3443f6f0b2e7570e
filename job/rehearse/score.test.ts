/** Oracle: hand-made cases with answers counted by hand from the rules in the doc block of score.ts. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Call, findsOf, type HoleOutcome, isCaught, isFalse, isFoundBy, score, voidedHoles } from './score.ts'
import type { TrueFlaw } from './truth.ts'

const flaw = (angle_deg: number, z0_mm: number, z1_mm: number, more: Partial<TrueFlaw> = {}): TrueFlaw => ({
  kind: 'crack',
  place: 'mid-bore',
  depth_mm: 0.6,
  length_mm: z1_mm - z0_mm,
  angle_deg,
  z0_mm,
  z1_mm,
  ...more
})

const call = (angle_deg: number, z_mm: number, more: Partial<Call> = {}): Call => ({
  verdict: 'relevant',
  angle_deg,
  z_mm,
  size: { kind: 'withheld' },
  ...more
})

const hole = (more: Partial<HoleOutcome> & { flaws?: readonly TrueFlaw[] } = {}): HoleOutcome => ({
  hole: 'A',
  truth: { flaws: more.flaws ?? [], nuisances: [], fault: 'none' },
  calls: [],
  notExamined: [],
  ...more
})

const rules = { ranges: { corner: { least_mm: 0.3, most_mm: 1 }, 'mid-bore': { least_mm: 0.5, most_mm: 1.5 } } }

describe('found and false, at their limits', () => {
  const one = flaw(350, 3, 4)
  const truth = { flaws: [one], nuisances: [], fault: 'none' } as const

  it.each<[string, Call, boolean, boolean]>([
    ['at the flaw', call(350, 3.5), true, false],
    ['25° on, over the seam', call(15, 3.5), true, false],
    ['26° on', call(16, 3.5), false, false],
    ['45° on', call(35, 3.5), false, false],
    ['46° on', call(36, 3.5), false, true],
    ['45° back', call(305, 3.5), false, false],
    ['0.8 mm above', call(350, 2.2), true, false],
    ['0.9 mm above', call(350, 2.1), false, false],
    ['1.5 mm below', call(350, 5.5), false, false],
    ['1.6 mm below', call(350, 5.6), false, true],
    ['undecided at the flaw', call(350, 3.5, { verdict: 'undecided' }), true, false],
    ['damage at the flaw', call(350, 3.5, { verdict: 'damage' }), false, true]
  ])('%s', (_, made, found, isItFalse) => {
    expect(isFoundBy(one, made)).toBe(found)
    expect(isFalse(made, truth)).toBe(isItFalse)
  })

  it.each(['galled patch', 'pit', 'fretting', 'burr'] as const)(
    'damage at a %s is right, a call there is false',
    (kind) => {
      const there = { ...truth, flaws: [], nuisances: [{ kind, angle_deg: 100, z0_mm: 2, z1_mm: 3 }] }
      expect(isFalse(call(100, 2.5, { verdict: 'damage' }), there)).toBe(false)
      expect(isFalse(call(100, 2.5, { verdict: 'undecided' }), there)).toBe(true)
      expect(isFalse(call(200, 2.5, { verdict: 'damage' }), there)).toBe(true)
    }
  )

  it.each(['split line', 'bushing', 'sealant'] as const)('damage at a %s is false', (kind) => {
    const there = { ...truth, flaws: [], nuisances: [{ kind, z0_mm: 2, z1_mm: 3 }] }
    expect(isFalse(call(100, 2.5, { verdict: 'damage' }), there)).toBe(true)
  })

  it('damage is false but where damage is', () => {
    const scratched = (more: object) => ({ ...truth, nuisances: [{ kind: 'scratch' as const, ...more }] })
    const damage = call(100, 2, { verdict: 'damage' })
    expect(isFalse(damage, scratched({ angle_deg: 145, z0_mm: 3.5, z1_mm: 6 }))).toBe(false)
    expect(isFalse(damage, scratched({ angle_deg: 146, z0_mm: 3.5, z1_mm: 6 }))).toBe(true)
    expect(isFalse(damage, scratched({ angle_deg: 145, z0_mm: 3.6, z1_mm: 6 }))).toBe(true)
    expect(isFalse(damage, scratched({ angle_deg: 100 }))).toBe(false)
    expect(isFalse(damage, { ...truth, nuisances: [{ kind: 'chatter' }] })).toBe(false)
    expect(isFalse(damage, { ...truth, nuisances: [{ kind: 'loose particle' }] })).toBe(true)
  })

  it('a crack called at a scratch is false all the same', () => {
    const scratched = { flaws: [], nuisances: [{ kind: 'scratch' as const, angle_deg: 100 }], fault: 'none' as const }
    expect(isFalse(call(100, 2), scratched)).toBe(true)
  })
})

describe('one call finds one flaw', () => {
  const two = [flaw(10, 1, 2), flaw(40, 1, 2)]
  it('one call between two flaws finds one', () => {
    expect(findsOf(hole({ flaws: two, calls: [call(25, 1.5)] })).length).toBe(1)
  })
  it('two calls find both, even where the nearest of each is the same', () => {
    // 22° is nearest to either flaw; −10° reaches only the first, so the second has to have the other
    const finds = findsOf(hole({ flaws: [two[1]!, two[0]!], calls: [call(22, 1.5), call(350, 1.5)] }))
    expect(finds.map(({ flaw: { angle_deg }, call: made }) => [angle_deg, made.angle_deg]).sort()).toEqual([
      [10, 350],
      [40, 22]
    ])
  })
  it('of two calls the nearer one counts', () => {
    const finds = findsOf(hole({ flaws: [flaw(10, 1, 2)], calls: [call(20, 1.5), call(12, 1.5)] }))
    expect(finds.map(({ call: made }) => made.angle_deg)).toEqual([12])
  })
  it('never more flaws than calls, whatever the calls; the order does not matter', () => {
    const calls = fc.array(fc.tuple(fc.integer({ min: 0, max: 359 }), fc.double({ min: 0, max: 4, noNaN: true })))
    fc.assert(
      fc.property(calls, (made) => {
        const list = made.map(([angle, z]) => call(angle, z))
        const forth = findsOf(hole({ flaws: two, calls: list }))
        const back = findsOf(hole({ flaws: [...two].reverse(), calls: [...list].reverse() }))
        expect(forth.length).toBeLessThanOrEqual(Math.min(2, list.length))
        expect(back.length).toBe(forth.length)
        expect(new Set(forth.map(({ call: one }) => one)).size).toBe(forth.length)
      })
    )
  })
})

describe('the score of a job', () => {
  const outcomes: readonly HoleOutcome[] = [
    // found, value 0.5 mm in range: error 0.1; length error 0.2
    hole({
      hole: '1',
      flaws: [flaw(10, 1, 2)],
      calls: [call(12, 1.5, { size: { kind: 'value', depth_mm: 0.5 }, length_mm: 1.2 })]
    }),
    // found, value 1.2 in range: error 0.2; a true bound on the second (0.2 <= 0.3); an undecided one elsewhere
    hole({
      hole: '2',
      flaws: [flaw(90, 1, 2, { depth_mm: 1 }), flaw(180, 0, 0.2, { place: 'corner', depth_mm: 0.2 })],
      calls: [
        call(90, 1, { size: { kind: 'value', depth_mm: 1.2 } }),
        call(170, 0, { size: { kind: 'bounds', most_mm: 0.3 }, verdict: 'undecided' }),
        call(300, 5, { verdict: 'undecided' })
      ]
    }),
    // deeper than its notches, given as a value: a bound that is not true; a bound that is wrong (0.6 is not >= 1)
    hole({
      hole: '3',
      flaws: [flaw(0, 4, 5, { depth_mm: 2 }), flaw(120, 4, 5)],
      calls: [
        call(0, 4, { size: { kind: 'value', depth_mm: 2 } }),
        call(120, 4, { size: { kind: 'bounds', least_mm: 1 }, length_mm: 1.4 })
      ]
    }),
    // a blank hole, nothing called; one that was not examined though nothing was wrong
    hole({ hole: '4' }),
    hole({ hole: '5', notExamined: ['noise'] }),
    // missed
    hole({ hole: '6', flaws: [flaw(200, 3, 4)] }),
    // faults: caught; not caught; caught for a reason that does not fit; calls in them are not counted
    hole({ hole: '7', truth: { flaws: [], nuisances: [], fault: 'in air' }, notExamined: ['no contact'] }),
    hole({ hole: '8', truth: { flaws: [], nuisances: [], fault: 'gain change' }, calls: [call(1, 1)] }),
    hole({ hole: '9', truth: { flaws: [], nuisances: [], fault: 'clipped' }, notExamined: ['noise', 'other'] })
  ]

  it('is as counted by hand', () => {
    const { depthMae_mm, lengthMae_mm, ...rest } = score(outcomes, rules)
    expect(rest).toEqual({
      flaws: 6,
      found: 5,
      holes: 6,
      falselyCalledHoles: 1,
      falselyCalled: ['2'],
      undecidedElsewhere: 1,
      soundNotExamined: ['5'],
      faults: 3,
      faultsCaught: 1,
      depthScored: 2,
      lengthScored: 2,
      bounds: 3,
      boundsTrue: 1
    })
    expect(depthMae_mm).toBeCloseTo(0.15, 12)
    expect(lengthMae_mm).toBeCloseTo(0.3, 12)
  })

  it('has no mean error over nothing', () => {
    expect(score([hole()], rules)).not.toHaveProperty('depthMae_mm')
    expect(score([hole()], rules)).not.toHaveProperty('lengthMae_mm')
  })

  it('a sound hole has no fault to catch', () => {
    expect(isCaught(hole({ notExamined: ['no contact'] }))).toBe(false)
  })
})

describe('voided holes', () => {
  const steps = (text: string) =>
    text.split(' ').map((word) => {
      if (word === 'S') return { kind: 'standardized' as const }
      if (word === '+' || word === '-') return { kind: 'recheck' as const, good: word === '+' }
      return { kind: 'hole' as const, hole: word }
    })

  it.each([
    ['S a b + c d +', []],
    ['S a b + c d -', ['c', 'd']],
    ['S a b - c d +', ['a', 'b', 'c', 'd']],
    ['S a - S b + c', ['a']],
    ['S a - b S c -', ['a', 'b', 'c']],
    ['S - - a', ['a']]
  ])('%s', (text, voided) => expect(voidedHoles(steps(text))).toEqual(voided))
})
