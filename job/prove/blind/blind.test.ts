/**
 * Oracles: 60 sizes of which the bound by propagation is known from R and 40-digit arithmetic (hit-miss.json of
 * ground/numerics); the exact bound of 60 signals by R (reference/signal.json); counts of permutations; the hash of the answers by Node's own SHA-256.
 */
import { createHash } from 'node:crypto'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import signals from '../reference/signal.json' with { type: 'json' }
import { checkTrial, trialWarnings } from './check.ts'
import { closeTrial } from './close.ts'
import { proposedCounts } from './counts.ts'
import { ordered } from './order.ts'
import { outlookOf } from './outlook.ts'
import { reachOf, spreadSizes } from './reach.ts'
import reference from './reference/reach.json' with { type: 'json' }
import { signalReachOf } from './signal-reach.ts'
import { buildTrial, type TrialInput, type TrialResult, trialInputSchema } from './trial.ts'

const hash = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex')

function input(change: Partial<TrialInput> = {}): TrialInput {
  const site = (number: number, size_mm: number) =>
    ({ site: `P${number}`, kind: 'corner', size_mm, by: 'invented' }) as const
  return {
    trueloop: 'blind-trial/1',
    name: 'trial of the test (invented)',
    procedure: { id: 'P', revision: 'A' },
    size_is: 'depth',
    specimens: 'real',
    analysis: { corner: 'hit/miss' },
    inspectors: ['A', 'B'],
    seed: 7,
    sites: [
      ...spreadSizes(0.2, 2, 8).map((size, at) => site(at, size)),
      ...Array.from({ length: 24 }, (_, at) => site(100 + at, 0))
    ],
    ...change
  }
}

describe('a blind order', () => {
  it('has every place once, is the same for a seed and another for another inspector', () => {
    const { running } = buildTrial(input(), hash)
    const [first, second] = running.orders
    expect([...first!.sites].sort()).toEqual(
      input()
        .sites.map(({ site }) => site)
        .sort()
    )
    expect(first!.sites).not.toEqual(second!.sites)
    expect(buildTrial(input(), hash).running.orders).toEqual(running.orders)
    expect(buildTrial(input({ seed: 8 }), hash).running.orders).not.toEqual(running.orders)
  })

  it('does not depend on the order in which the places were named', () => {
    const turned = input({ sites: [...input().sites].reverse() })
    expect(buildTrial(turned, hash)).toEqual(buildTrial(input(), hash))
  })

  it('makes each order of four about as often as any other: chi-square over 24 below its 99.9 % value, 49.7', () => {
    const counts = new Map<string, number>()
    const draws = 4800
    for (let k = 0; k < draws; k++) {
      const key = ordered(['a', 'b', 'c', 'd'], `${k}`).join('')
      counts.set(key, (counts.get(key) ?? 0) + 1)
    }
    const chi = [...counts.values()].reduce((sum, count) => sum + (count - draws / 24) ** 2 / (draws / 24), 0)
    expect(counts.size).toBe(24)
    expect(chi).toBeLessThan(49.7)
  })
})

describe('a running trial', () => {
  it('holds no size, not even in its JSON, and the hash of the answers', () => {
    const { running, answers } = buildTrial(input(), hash)
    const text = JSON.stringify(running)
    for (const { size_mm } of input().sites) if (size_mm > 0) expect(text).not.toContain(String(size_mm))
    expect(text).not.toContain('size_mm')
    expect(running.answers_sha256).toMatch(/^[0-9a-f]{64}$/)
    expect(answers.sites).toHaveLength(32)
  })

  it('is read from plain data, and a key that nobody knows is refused', () => {
    expect(trialInputSchema.safeParse(input()).success).toBe(true)
    expect(trialInputSchema.safeParse({ ...input(), extra: 1 }).success).toBe(false)
  })
})

describe('closing', () => {
  const { running, answers } = buildTrial(input(), hash)
  const all: readonly TrialResult[] = running.orders.flatMap(({ inspector, sites }) =>
    sites.map((site) => ({ inspector, site, called: site.length === 2 }))
  )
  const codesOf = (results: readonly TrialResult[], with_ = answers) => {
    const closed = closeTrial({ running, answers: with_, results }, hash)
    return 'refusals' in closed ? closed.refusals.map(({ code }) => code) : []
  }

  it('brings sizes and calls together, and what was not examined is neither hit nor miss', () => {
    const closed = closeTrial({ running, answers, results: all.slice(1) }, hash)
    if ('refusals' in closed) throw new Error(closed.refusals[0]!.found)
    expect(closed.not_examined).toEqual([{ inspector: all[0]!.inspector, site: all[0]!.site }])
    expect(closed.kinds.map(({ kind }) => kind)).toEqual(['corner'])
    expect(closed.kinds[0]!.rows).toHaveLength(63)
    for (const { site, size_mm } of closed.kinds[0]!.rows)
      expect(size_mm).toBe(input().sites.find((one) => one.site === site)!.size_mm)
    expect(closed.proves).toBe(true)
  })

  it('proves no capability with notches or simulation', () => {
    const built = buildTrial(input({ specimens: 'simulated' }), hash)
    const closed = closeTrial({ ...built, results: [] }, hash)
    expect('refusals' in closed || closed.proves).toBe(false)
  })

  it('refuses other answers, whichever size was changed', () => {
    fc.assert(
      fc.property(fc.nat(31), (at) => {
        const sites = answers.sites.map((site, k) => (k === at ? { ...site, size_mm: site.size_mm + 0.1 } : site))
        expect(codesOf(all, { ...answers, sites })).toEqual(['prove/other-answers'])
      })
    )
  })

  it('refuses results of strangers, for strangers, and twice', () => {
    const [one] = all
    expect(codesOf([{ ...one!, site: 'Q1' }])).toEqual(['prove/no-such-site'])
    expect(codesOf([{ ...one!, inspector: 'C' }])).toEqual(['prove/no-such-inspector'])
    expect(codesOf([one!, { ...one!, called: !one!.called }])).toEqual(['prove/result-twice'])
  })
})

describe('a trial is checked', () => {
  const codes = (change: Partial<TrialInput>) => checkTrial(input(change)).map(({ code }) => code)

  it('before it begins', () => {
    expect(codes({})).toEqual([])
    expect(codes({ sites: [...input().sites, input().sites[0]!] })).toEqual(['prove/site-twice'])
    expect(codes({ inspectors: ['A', 'A'] })).toEqual(['prove/inspector-twice'])
    expect(codes({ analysis: { corner: 'hit/miss', through: 'hit/miss' } })).toEqual(['prove/kind-not-planned'])
    expect(codes({ sites: input().sites.filter(({ size_mm }) => size_mm > 0) })).toEqual(['prove/no-blanks'])
  })

  it('against what is proposed: 60, 40, 29 of 29', () => {
    expect(trialWarnings(input()).map(({ found }) => found)).toEqual([
      '8 flaws; 60 are proposed for hit/miss: MIL-HDBK-1823A, from memory'
    ])
    expect(proposedCounts('signal response').flaws).toBe(40)
    expect(proposedCounts('demonstration').flaws).toBe(29)
    const narrow = input({ sites: input().sites.map((site) => ({ ...site, size_mm: site.size_mm > 0 ? 1 : 0 })) })
    expect(trialWarnings(narrow).map(({ found }) => found)).toContain('sizes from 1 to 1 mm: less than 3 times apart')
  })
})

describe('what a trial will be able to show', () => {
  it('is what 60 known sizes showed: a90/95 by propagation, to ten digits', () => {
    const { sizes_mm, a50_mm, a90_mm, a90_95_mm } = reference
    const reach = reachOf(sizes_mm, { a50_mm, a90_mm })!
    expect(reach.bound_over_a90 * a90_mm).toBeCloseTo(a90_95_mm, 8)
  })

  it('grows with the number of flaws, and is nothing for one size or a curve that does not rise', () => {
    const expected = { a50_mm: 0.5, a90_mm: 1 }
    const bounds = [20, 60, 200].map((count) => reachOf(spreadSizes(0.2, 2, count), expected)!.bound_over_a90)
    expect(bounds[0]!).toBeGreaterThan(bounds[1]!)
    expect(bounds[1]!).toBeGreaterThan(bounds[2]!)
    expect(reachOf([1, 1, 1], expected)).toBeUndefined()
    expect(reachOf([0.5, 1], { a50_mm: 1, a90_mm: 1 })).toBeUndefined()
  })

  it('spreads sizes in equal ratios', () => {
    expect(spreadSizes(1, 8, 4).map((size) => Number(size.toFixed(9)))).toEqual([1, 2, 4, 8])
  })
})

describe('what a trial by signals will show', () => {
  const { cases, tables } = signals
  const found = cases.find(
    ({ data, scale, response }) => data === 'ahat1' && scale === 'ln size' && response === 'ln signal'
  )!

  it('is the exact bound of R where what is expected is what came out', () => {
    const expected = { a50_mm: found.a50, a90_mm: found.byDof! }
    expect((signalReachOf(tables.ahat1.size, expected)! * found.byDof!) / found.exact!).toBeCloseTo(1, 10)
  })

  it('comes nearer with more flaws, and is nothing for two flaws or one size', () => {
    const asked = { a50_mm: 0.5, a90_mm: 0.9, least_mm: 0.2, most_mm: 2 }
    const { rows, blanks, demonstrations } = outlookOf(asked)
    for (const of of ['hits_mm', 'signals_mm'] as const) {
      const sizes = rows.map((row) => row[of] ?? Number.POSITIVE_INFINITY)
      expect(sizes.toSorted((a, b) => b - a)).toEqual(sizes)
      expect(sizes.at(-1)).toBeGreaterThan(0.9)
    }
    expect(blanks[0]?.upper).toBeCloseTo(1 - 0.05 ** (1 / 30), 12)
    expect(demonstrations.map(({ flaws }) => flaws)).toEqual([29, 46, 61, 76, 89])
    expect(demonstrations[0]?.passes).toBeCloseTo(0.98 ** 29, 12)
    expect(signalReachOf([0.5, 1], asked)).toBeUndefined()
    expect(signalReachOf([1, 1, 1, 1], asked)).toBeUndefined()
  })
})
