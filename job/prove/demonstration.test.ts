import { createHash } from 'node:crypto'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  chanceOfPassing,
  type DemonstrationPlan,
  demonstrationTable,
  fewestFlaws,
  judgeDemonstration,
  planDemonstration,
  planHash,
  shownBy,
  type Trial
} from './index.ts'
import reference from './reference/hit-miss.json' with { type: 'json' }

/** Oracle: exact binomial tables and chances of R 4.2.2 (reference/hit-miss.json); 29 of 29 and 45 of 46 as everybody prints them. */

const hash = (text: string): string => createHash('sha256').update(text).digest('hex')

const by = { hash, program: 'test 1' }

const near = (got: number, expected: number, within = 1e-12): void =>
  expect(Math.abs(got / expected - 1), `${got} for ${expected}`).toBeLessThanOrEqual(within)

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const flaws = (count: number, letter: string) =>
  Array.from({ length: count }, (_, i) => ({ site: `${letter}${i}`, size_m: 0.00127 }))

const plan: DemonstrationPlan = {
  ...{
    kind: 'demonstration-plan',
    version: 1,
    name: 'first',
    technique: 'T1 rev A',
    conditions: 'invented',
    flaws_are: 'real'
  },
  ...{ share: 0.9, confidence: 0.95, trials: 29, misses: 0, smallest_m: 0.0012, largest_m: 0.0013 },
  flaws: flaws(29, 'A')
}

const code = (value: unknown): string => {
  if (!isRefusal(value)) return 'answered'
  for (const part of [value.found, value.needed, value.remedy]) expect(part.length).toBeGreaterThan(3)
  return value.code
}

describe('tables of demonstrations', () => {
  for (const [name, rows] of Object.entries(reference.smallest))
    it(name, () => {
      const [share = 0, confidence = 0] = name
        .slice(1)
        .split('_')
        .map((part) => Number(part) / 100)
      const table = demonstrationTable({ share, confidence }, rows.length - 1)
      expect(table.map(({ misses, trials }) => [misses, trials])).toEqual(rows.map(([misses, n]) => [misses, n]))
      for (const [i, row] of rows.entries()) near(table[i]!.shown, row[2]!)
      for (const { misses, trials } of table)
        expect(shownBy({ trials: trials - 1, misses }, confidence)).toBeLessThan(share)
    })
  it('chances of passing', () => {
    for (const [share, none, one, two] of reference.passing) {
      near(chanceOfPassing({ trials: 29, misses: 0 }, share!), none!)
      near(chanceOfPassing({ trials: 46, misses: 1 }, share!), one!)
      near(chanceOfPassing({ trials: 61, misses: 2 }, share!), two!)
    }
  })
  it('29 of 29 and 45 of 46 at 90 % and 95 %', () => {
    expect([0, 1].map((misses) => fewestFlaws({ share: 0.9, confidence: 0.95 }, misses))).toEqual([29, 46])
    for (const misses of [-1, 0.5])
      expect(() => fewestFlaws({ share: 0.9, confidence: 0.95 }, misses)).toThrow(RangeError)
    expect(() => fewestFlaws({ share: 1, confidence: 0.95 }, 0)).toThrow(RangeError)
  })
})

describe('a plan', () => {
  it('says before the trial what it will show and how often a good technique passes', () => {
    const { shown, passing, byLuck, sha256 } = sound(planDemonstration(plan, [], hash))
    near(shown, 0.901855372322704)
    near(byLuck, 0.9 ** 29)
    expect(passing.map(({ chance }) => chance.toFixed(3))).toEqual(['0.047', '0.226', '0.557', '0.747', '0.865'])
    expect(sha256).toBe(planHash(plan, hash))
  })
  it('is refused where it can not show its goal or does not name its flaws', () => {
    const asked = (change: Record<string, unknown>) => planDemonstration({ ...plan, ...change }, [], hash)
    const few = asked({ trials: 28, flaws: flaws(28, 'A') }) as Refusal
    expect(few.code).toBe('prove/bad-plan')
    expect(few.needed).toContain('29 flaws')
    expect((asked({ misses: 1 }) as Refusal).needed).toContain('46 flaws')
    for (const change of [
      { flaws: flaws(28, 'A') },
      { flaws: [...flaws(28, 'A'), { site: 'A0', size_m: 0.00127 }] },
      { largest_m: 0.00125 },
      { trials: undefined },
      { share: 2 }
    ])
      expect(code(asked(change))).toBe('prove/bad-plan')
    const missing = asked({ conditions: undefined }) as Refusal
    expect(missing).toMatchObject({ code: 'prove/bad-plan', where: { path: 'conditions' } })
  })
})

describe('trying again after a trial that failed', () => {
  const bigger = { ...plan, name: 'second', trials: 46, misses: 1 }
  const failed = [{ plan, verdict: 'not demonstrated' as const }]
  it('29, then 46: neither with the old flaws nor with new ones', () => {
    const old = { ...bigger, flaws: [...plan.flaws, ...flaws(17, 'B')] }
    expect(code(planDemonstration({ ...old, changed: 'probe' }, failed, hash))).toBe('prove/flaws-used-before')
    const fresh = { ...bigger, flaws: flaws(46, 'C') }
    expect(code(planDemonstration(fresh, failed, hash))).toBe('prove/nothing-changed')
    expect(code(planDemonstration(fresh, [{ plan, verdict: 'not ended' }], hash))).toBe('prove/nothing-changed')
    expect(code(planDemonstration(fresh, [{ plan, verdict: 'demonstrated' }], hash))).toBe('answered')
  })
  it('with flaws of its own and a change that is named; what luck can do in both is said', () => {
    const fresh = { ...bigger, flaws: flaws(46, 'C'), changed: 'probe with a smaller coil' }
    const { byLuck } = sound(planDemonstration(fresh, failed, hash))
    const [first, second] = [0.0471012869724625, 0.0480037996244824]
    near(byLuck, 1 - (1 - first) * (1 - second), 1e-10)
  })
  it('another technique, or a larger size, is another claim', () => {
    const other = { ...plan, technique: 'T2 rev A' }
    expect(code(planDemonstration(other, failed, hash))).toBe('answered')
    const larger = { ...plan, largest_m: 0.003, flaws: flaws(29, 'D') }
    expect(code(planDemonstration(larger, failed, hash))).toBe('answered')
  })
})

describe('the verdict', () => {
  const sha256 = planHash(plan, hash)
  const rows = plan.flaws.map(({ site }) => ({ site, hit: true, at: '2026-03-02T10:00:00Z' }))
  const trial: Trial = { plan: sha256, stored: '2026-03-01T10:00:00Z', rows, judged: [] }
  const judged = (change: Partial<Trial>) => judgeDemonstration(plan, { ...trial, ...change }, by)
  const missed = (count: number) => rows.map((row, i) => (i < count ? { ...row, hit: false } : row))
  it('by the plan, with the exact bound', () => {
    const passed = sound(judged({}))
    expect(passed).toMatchObject({ verdict: 'demonstrated', hits: 29, examined: 29, size_m: 0.0013 })
    near(passed.lower ?? 0, 0.901855372322704)
    const lost = sound(judged({ rows: missed(1) }))
    expect(lost).toMatchObject({ verdict: 'not demonstrated', hits: 28 })
    // Beta quantile of SciPy 1.17.1
    near(lost.lower ?? 0, 0.8466079754738173)
  })
  it('a trial is lost with the miss that is too many, and then has no bound; else all flaws are examined', () => {
    const broken = sound(judged({ rows: missed(1).slice(0, 5) }))
    expect(broken.verdict).toBe('not demonstrated')
    expect(broken.lower).toBeUndefined()
    expect(code(judged({ rows: rows.slice(0, 28) }))).toBe('prove/trial-incomplete')
    expect(code(judged({ rows: [] }))).toBe('prove/trial-incomplete')
  })
  it('only of the plan that was stored before, of its own flaws, once', () => {
    expect(code(judged({ plan: 'other' }))).toBe('prove/other-plan')
    expect(code(judgeDemonstration({ ...plan, misses: 1 }, trial, by))).toBe('prove/other-plan')
    expect(code(judged({ judged: [sha256] }))).toBe('prove/already-judged')
    for (const stored of ['2026-03-02T10:00:00Z', '2026-03-02T09:00:00-05:00', '2026-03-01T10:00:00', 'yesterday'])
      expect(code(judged({ stored }))).toBe('prove/plan-after-trial')
    expect(code(judged({ rows: [...rows.slice(1), { ...rows[0]!, site: 'X' }] }))).toBe('prove/other-flaws')
    expect(code(judged({ rows: [...rows, { ...rows[0]!, hit: true }] }))).toBe('prove/repeats-as-rows')
  })
})
