import { describe, expect, it } from 'vitest'
import { normalSurvival } from './distribution.ts'
import { coneExtent, type Extent, eulerOfField, orthant, type Rows } from './euler.ts'
import { exceedanceOfField, levelForEstimatedScale, levelForExceedance, type ScaledFieldSet } from './field.ts'
import reference from './reference/field.json' with { type: 'json' }

interface Case {
  readonly name: string
  readonly extents: readonly Extent[]
  readonly rows?: Rows
  readonly cone_rad?: number
  readonly dof?: number
  readonly levels: readonly (readonly number[])[]
}

const cases = reference.cases as readonly Case[]

const setOf = ({ extents, rows, cone_rad, dof }: Case): ScaledFieldSet => ({
  extents: cone_rad === undefined ? extents : [...extents, coneExtent(cone_rad)],
  ...(rows === undefined ? {} : { rows }),
  ...(dof === undefined ? {} : { scaleDof: dof })
})

const open = (length: number): Extent => ({ length, closed: false })
const closed = (length: number): Extent => ({ length, closed: true })
const phi = (u: number): number => Math.exp(-0.5 * u * u)

describe('exceedanceOfField', () => {
  for (const one of cases) {
    it(`agrees with simulated fields: ${one.name}`, () => {
      expect(one.levels.length).toBeGreaterThan(3)
      for (const [u, p, error] of one.levels as [number, number, number][]) {
        const found = exceedanceOfField(u, setOf(one))
        expect(Math.abs(found - p), `u = ${u}: ${found} for ${p}`).toBeLessThan(reference.tolerance * p + 3 * error)
      }
    })
  }

  it('is the normal tail for a single place, and nearly its multiple for places far apart', () => {
    for (const u of [-1, 0.5, 3, 6]) {
      expect(exceedanceOfField(u, { extents: [] }) / normalSurvival(u)).toBeCloseTo(1, 12)
      expect(exceedanceOfField(u, { extents: [open(0)] }) / normalSurvival(Math.max(0, u))).toBeCloseTo(1, 12)
    }
    const rows = { count: 20, correlation: 0 }
    const exact = 1 - (1 - normalSurvival(4)) ** 20
    expect(exceedanceOfField(4, { extents: [], rows }) / exact).toBeCloseTo(1, 3)
  })

  it('falls with the level, grows with the set, and never leaves 0 to 1', () => {
    for (const correlation of [-0.9, -0.3, 0, 0.5, 0.9, 0.99, 0.9999]) {
      for (const extents of [[], [open(3)], [closed(30)], [closed(30), open(8)], [open(0.1), open(0.2)]]) {
        let last = 1
        for (let u = -3; u < 9; u += 0.1) {
          const p = exceedanceOfField(u, { extents, rows: { count: 5, correlation } })
          expect(p).toBeGreaterThanOrEqual(0)
          expect(p, `${correlation} ${extents.length} ${u}`).toBeLessThanOrEqual(last * (1 + 1e-9))
          last = p
        }
      }
    }
    const set = { extents: [closed(30), open(8)], rows: { count: 5, correlation: 0.5 } }
    expect(exceedanceOfField(4, { extents: [open(9)] })).toBeGreaterThan(exceedanceOfField(4, { extents: [open(8)] }))
    expect(exceedanceOfField(Number.NaN, set)).toBeNaN()
  })

  it('has a heavier tail where the scale was estimated, and that of Student for a single place', () => {
    for (const [u, nu, t] of reference.estimated) {
      if (u! < 1) continue
      const p = exceedanceOfField(t!, { extents: [], scaleDof: nu! })
      expect(p / normalSurvival(u!), `${u} ${nu}`).toBeCloseTo(1, 9)
    }
  })

  it('throws for sets that make no sense', () => {
    const bad = (set: ScaledFieldSet) => expect(() => exceedanceOfField(3, set)).toThrow(RangeError)
    bad({ extents: [open(-1)] })
    bad({ extents: [open(Number.NaN)] })
    bad({ extents: [open(1), open(1), open(1), open(1)] })
    bad({ extents: [open(1), open(1), open(1)], rows: { count: 2, correlation: 0.5 } })
    bad({ extents: [], rows: { count: 0, correlation: 0.5 } })
    bad({ extents: [], rows: { count: 1.5, correlation: 0.5 } })
    bad({ extents: [], rows: { count: 2, correlation: 1 } })
    bad({ extents: [], scaleDof: 0 })
    expect(() => coneExtent(-0.1)).toThrow(RangeError)
  })
})

describe('eulerOfField', () => {
  it('is the published sum: rectangle, cylinder, length of a vector', () => {
    const [u, a, b] = [3.3, 4, 7]
    const line = phi(u) / (2 * Math.PI)
    const area = (u * phi(u)) / (2 * Math.PI) ** 1.5
    const close = (found: number, expected: number) => expect(found / expected).toBeCloseTo(1, 12)
    close(eulerOfField(u, { extents: [open(a), open(b)] }), normalSurvival(u) + (a + b) * line + a * b * area)
    close(eulerOfField(u, { extents: [open(a), closed(b)] }), b * line + a * b * area)
    close(eulerOfField(u, { extents: [closed(a), closed(b)] }), a * b * area)
    // P(|V| > u) = exp(-u^2/2) exactly: 1 direction of 2 pi.
    close(eulerOfField(u, { extents: [coneExtent(Math.PI)] }), phi(u))
    close(
      eulerOfField(u, { extents: [open(a), open(b), open(2)] }),
      normalSurvival(u) +
        (a + b + 2) * line +
        (a * b + 2 * a + 2 * b) * area +
        (a * b * 2 * (u * u - 1) * phi(u)) / (2 * Math.PI) ** 2
    )
  })

  it('tends to the continuous direction as rows come close: covariance exp(-d^2/2) across', () => {
    const extents = [closed(20), coneExtent(0.5)]
    const whole = eulerOfField(4, { extents: [...extents, open(3)] })
    const off = [10, 100, 1000].map((gaps) => {
      const rows = { count: gaps + 1, correlation: Math.exp(-0.5 * (3 / gaps) ** 2) }
      return Math.abs(eulerOfField(4, { extents, rows }) / whole - 1)
    })
    expect(off[0]).toBeLessThan(0.1)
    expect(off[1]).toBeLessThan(1e-3)
    expect(off[2]).toBeLessThan(1e-5)
  })

  it('knows the orthants of the bivariate normal as mpmath does', () => {
    for (const [u, r, share] of reference.orthants) {
      expect(orthant(u!, Math.sqrt((1 - r!) / (1 + r!))) / share!, `${u} ${r}`).toBeCloseTo(1, 6)
    }
    expect(orthant(-1, 1)).toBeCloseTo(normalSurvival(-1) ** 2, 10)
    // At u = 0 a quarter and asin(r)/(2 pi) (Sheppard); on both sides of the change of method the same.
    for (const r of [-0.95, -0.4, 0.2, 0.99]) {
      const slope = Math.sqrt((1 - r) / (1 + r))
      for (const u of [0, 1e-9, -1e-9]) {
        expect(orthant(u, slope)).toBeCloseTo(0.25 + Math.asin(r) / (2 * Math.PI), 7)
      }
      expect(orthant(0.5, slope) / orthant(0.5 - 1e-12, slope)).toBeCloseTo(1, 6)
    }
  })
})

describe('levelForExceedance', () => {
  it('undoes exceedanceOfField', () => {
    for (const one of cases) {
      for (const p of [0.3, 0.01, 1e-4, 1e-9]) {
        const u = levelForExceedance(p, setOf(one))
        expect(exceedanceOfField(u, setOf(one)) / p, `${one.name} ${p}`).toBeCloseTo(1, 7)
      }
    }
  })

  it('stays where the approximation holds, and takes probabilities only', () => {
    expect(levelForExceedance(0.2, { extents: [open(0.01), open(0.01)] })).toBe(1)
    expect(levelForExceedance(0.9, { extents: [] })).toBeCloseTo(-1.2815515655446004, 10) // SciPy: norm.isf(0.9)
    for (const p of [0, 1, -1, Number.NaN]) expect(() => levelForExceedance(p, { extents: [] })).toThrow(RangeError)
  })
})

describe('levelForEstimatedScale', () => {
  it('is the t level of the same tail, as SciPy finds it', () => {
    for (const [u, nu, t] of reference.estimated) expect(levelForEstimatedScale(u!, nu!) / t!).toBeCloseTo(1, 10)
    expect(levelForEstimatedScale(4, 1e9)).toBeCloseTo(4, 6)
  })
})
