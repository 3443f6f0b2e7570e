/** Oracles: the counts that the issue asks for; the rules that the same name gives the same holes, one at a time. */
import { describe, expect, it } from 'vitest'
import { nuisanceKinds } from './draw/nuisance.ts'
import { trials } from './trials.ts'

describe('the generated trials', () => {
  it('size 1 000 notch-like flaws over 20 set-ups', () => {
    const parts = [...trials('sizing')]
    expect(parts.length).toBe(20)
    expect(parts.reduce((sum, { flaws }) => sum + flaws, 0)).toBe(1000)
    for (const { holes, flaws, count } of parts) {
      const all = [...holes]
      expect(all.length).toBe(count)
      const true_ = all.flatMap(({ truth }) => truth.flaws)
      expect(true_.length).toBe(flaws)
      expect(true_.every(({ kind, depth_mm }) => kind === 'notch' && depth_mm >= 0.3 && depth_mm <= 1.5)).toBe(true)
    }
  })

  it('grade 60 small flaws or more a set-up from below 0.1 to 0.8 mm, and 50 holes without or more', () => {
    for (const { holes } of trials('smallest')) {
      const all = [...holes]
      const depths = all.flatMap(({ truth }) => truth.flaws.map(({ depth_mm }) => depth_mm)).sort((a, b) => a - b)
      expect(depths.length).toBeGreaterThanOrEqual(60)
      expect(all.filter(({ truth }) => truth.flaws.length === 0).length).toBeGreaterThanOrEqual(50)
      expect(depths[0]).toBeLessThan(0.11)
      expect(depths.at(-1)).toBeGreaterThan(0.78)
      const steps = depths.slice(1).map((depth, k) => depth / depths[k]!)
      expect(Math.max(...steps)).toBeLessThan(1.031)
    }
  })

  it('have 20 000 holes without a flaw, made as they are asked for', () => {
    const parts = [...trials('blanks')]
    expect(parts.reduce((sum, { count }) => sum + count, 0)).toBe(20_000)
    const [first] = parts[3]!.holes
    expect(first!.truth.flaws).toEqual([])
    const some = [...trials('blanks', { setups: [3, 1], holes: 20 })][0]!
    expect([...some.holes][0]).toEqual(first)
    expect(new Set([...some.holes].map(({ seed }) => seed)).size).toBe(20)
  })

  it('give no two holes the same noise, in one set-up or in two', () => {
    const seeds = [...trials('blanks', { holes: 60 })].flatMap((part) => [...part.holes].map(({ seed }) => seed))
    expect(new Set(seeds).size).toBe(20 * 60)
  })

  it('class every kind several times over several set-ups', () => {
    const holes = [...trials('classing')].flatMap((part) => [...part.holes])
    const count = (kind: string) =>
      holes.filter(({ truth }) => [...truth.flaws, ...truth.nuisances].some((one) => one.kind === kind)).length
    for (const kind of [...nuisanceKinds, 'notch', 'crack']) expect(count(kind), kind).toBeGreaterThanOrEqual(8)
    expect([...trials('classing')].map(({ setup }) => setup.family)).toEqual(
      expect.arrayContaining(['aluminum', 'titanium', 'stainless steel'])
    )
  })

  it('are the same again, every hole with a name of its own', () => {
    const once = [...trials('classing')].flatMap((part) => [...part.holes])
    const again = [...trials('classing')].flatMap((part) => [...part.holes])
    expect(again).toEqual(once)
    expect(new Set(once.map(({ id }) => id)).size).toBe(once.length)
  })
})
