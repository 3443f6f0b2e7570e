import { describe, expect, it } from 'vitest'
import { digamma, logGamma } from './gamma.ts'
import { betaOdds, betaShares, gammaPlace, gammaShares, type Tail } from './incomplete.ts'
import { noncentralTCumulative, noncentralTQuantile, noncentralTSurvival } from './noncentral.ts'
import reference from './reference/special.json' with { type: 'json' }
import * as s from './sampling.ts'

const near = (got: number, expected: number, tolerance: number, at: unknown): void => {
  const error = expected === 0 ? Math.abs(got) : Math.abs(got / expected - 1)
  expect(error, `at ${at}: ${got} for ${expected}`).toBeLessThanOrEqual(tolerance)
}

describe('gamma function against mpmath', () => {
  const { cases, tolerance } = reference.logGamma
  it('logarithm, also beside its zeros', () => {
    for (const [x, expected] of cases) near(logGamma(x!), expected!, tolerance, x)
    expect([logGamma(1), logGamma(2)]).toEqual([0, 0])
    expect(logGamma(Number.NaN)).toBeNaN()
    for (const x of [0, -1, -0.5]) expect(() => logGamma(x)).toThrow(RangeError)
  })
  it('digamma', () => {
    for (const [x, , expected] of cases)
      expect(Math.abs(digamma(x!) - expected!), `at ${x}`).toBeLessThanOrEqual(1e-14 * Math.max(1, Math.abs(expected!)))
    expect(digamma(Number.NaN)).toBeNaN()
    expect(() => digamma(0)).toThrow(RangeError)
  })
})

describe('incomplete gamma function against mpmath', () => {
  const { cases, tolerance } = reference.gamma
  it('both shares', () => {
    for (const [a, x, lower, upper] of cases) {
      const shares = gammaShares(a!, x!)
      near(shares.lower, lower!, tolerance, `lower ${a}, ${x}`)
      near(shares.upper, upper!, tolerance, `upper ${a}, ${x}`)
    }
  })
  it('its slope is the difference quotient of the share', () => {
    for (const [a, x] of [
      [0.3, 0.4],
      [0.3, 3],
      [7, 5],
      [7, 11]
    ] as const) {
      const step = 1e-5
      const rise = gammaShares(a, x * (1 + step)).lower - gammaShares(a, x * (1 - step)).lower
      near(gammaShares(a, x).slope, rise / (Math.log1p(step) - Math.log1p(-step)), 1e-8, [a, x])
    }
  })
  it('places of shares', () => {
    for (const [a, tail, share, x] of reference.gammaQuantile.cases as [number, Tail, number, number][])
      near(gammaPlace(a, { tail, share }), x, reference.gammaQuantile.tolerance, `${a} ${tail} ${share}`)
  })
  it('has its ends and throws for what is no argument', () => {
    expect(gammaShares(2, 0)).toEqual({ lower: 0, upper: 1, slope: 0 })
    expect(gammaShares(2, Number.POSITIVE_INFINITY)).toEqual({ lower: 1, upper: 0, slope: 0 })
    expect(gammaPlace(2, { tail: 'lower', share: 0 })).toBe(0)
    expect(gammaPlace(2, { tail: 'lower', share: 1 })).toBe(Number.POSITIVE_INFINITY)
    for (const a of [0, -1, Number.NaN, 1e11]) expect(() => gammaShares(a, 1)).toThrow(RangeError)
    for (const x of [-1, Number.NaN]) expect(() => gammaShares(1, x)).toThrow(RangeError)
    for (const share of [-0.1, 1.1, Number.NaN])
      expect(() => gammaPlace(1, { tail: 'upper', share })).toThrow(RangeError)
  })
})

describe('incomplete beta function against mpmath', () => {
  const { cases, tolerance } = reference.beta
  it('both shares, from odds', () => {
    for (const [a, b, odds, lower, upper] of cases) {
      const shares = betaShares({ a: a!, b: b! }, odds!)
      near(shares.lower, lower!, tolerance, `lower ${a}, ${b}, ${odds}`)
      near(shares.upper, upper!, tolerance, `upper ${a}, ${b}, ${odds}`)
    }
  })
  it('odds of shares lead back, by the tail that has the digits', () => {
    for (const [a, b, odds, lower, upper] of cases) {
      const shape = { a: a!, b: b! }
      const [tail, share] = lower! < upper! ? (['lower', lower!] as const) : (['upper', upper!] as const)
      // A share is known to 1e-16, the odds therefore to that over the slope of its logarithm.
      const blur = (1e-13 * share) / betaShares(shape, odds!).slope
      near(betaOdds(shape, { tail, share }), odds!, Math.max(tolerance, blur), `${a}, ${b}, ${odds}`)
    }
  })
  it('has its ends and throws for what is no argument', () => {
    const shape = { a: 2, b: 3 }
    expect(betaShares(shape, 0)).toEqual({ lower: 0, upper: 1, slope: 0 })
    expect(betaShares(shape, Number.POSITIVE_INFINITY)).toEqual({ lower: 1, upper: 0, slope: 0 })
    expect(betaOdds(shape, { tail: 'upper', share: 0 })).toBe(Number.POSITIVE_INFINITY)
    for (const a of [0, -2, Number.NaN]) {
      expect(() => betaShares({ a, b: 1 }, 1)).toThrow(RangeError)
      expect(() => betaOdds({ a: 1, b: a }, { tail: 'lower', share: 0.1 })).toThrow(RangeError)
    }
    for (const odds of [-1, Number.NaN]) expect(() => betaShares(shape, odds)).toThrow(RangeError)
  })
})

describe("Student's t against mpmath", () => {
  const { survival, upperQuantile, tolerance } = reference.student
  it('tails', () => {
    for (const [t, dof, expected] of survival) {
      near(s.studentSurvival(t!, dof!), expected!, tolerance, [t, dof])
      near(s.studentCumulative(-t!, dof!), expected!, tolerance, [t, dof])
      near(s.studentTwoSided(-t!, dof!), 2 * expected!, tolerance, [t, dof])
      near(s.studentCumulative(t!, dof!), 1 - expected!, tolerance, [t, dof])
    }
    expect([s.studentSurvival(0, 3), s.studentSurvival(Number.POSITIVE_INFINITY, 3)]).toEqual([0.5, 0])
  })
  it('quantiles', () => {
    for (const [q, dof, expected] of upperQuantile) {
      near(s.studentUpperQuantile(q!, dof!), expected!, tolerance, [q, dof])
      near(s.studentQuantile(q!, dof!), -expected!, tolerance, [q, dof])
    }
    expect([s.studentQuantile(0.5, 4), s.studentQuantile(1, 4)]).toEqual([0, Number.POSITIVE_INFINITY])
    expect(() => s.studentQuantile(1.5, 4)).toThrow(RangeError)
    expect(() => s.studentQuantile(0.1, 0)).toThrow(RangeError)
  })
})

describe('non-central t against quadrature by mpmath', () => {
  const { cases, quantiles, tolerance } = reference.noncentral
  it('both tails', () => {
    for (const [t, dof, shift, lower, upper] of cases) {
      const law = { dof: dof!, shift: shift! }
      near(noncentralTCumulative(t!, law), lower!, tolerance, `lower ${t}, ${dof}, ${shift}`)
      near(noncentralTSurvival(t!, law), upper!, tolerance, `upper ${t}, ${dof}, ${shift}`)
    }
  })
  it('quantiles', () => {
    for (const [share, dof, shift, expected] of quantiles)
      near(noncentralTQuantile({ tail: 'lower', share: share! }, { dof: dof!, shift: shift! }), expected!, tolerance, [
        share,
        dof,
        shift
      ])
  })
  it("is Student's t without a shift", () => {
    for (const t of [-7, -1, 0.3, 2.5])
      near(noncentralTCumulative(t, { dof: 9, shift: 0 }), s.studentCumulative(t, 9), 1e-12, t)
  })
  it('has its ends and throws for what is no argument', () => {
    const law = { dof: 5, shift: 1 }
    const ends = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
    expect(ends.map((t) => noncentralTCumulative(t, law))).toEqual([0, 1])
    expect(noncentralTQuantile({ tail: 'upper', share: 0 }, law)).toBe(Number.POSITIVE_INFINITY)
    expect(noncentralTCumulative(Number.NaN, law)).toBeNaN()
    expect(() => noncentralTCumulative(1e6, law)).toThrow(RangeError)
    expect(() => noncentralTCumulative(1, { dof: 0, shift: 1 })).toThrow(RangeError)
    expect(() => noncentralTCumulative(1, { dof: 3, shift: Number.NaN })).toThrow(RangeError)
    expect(() => noncentralTQuantile({ tail: 'lower', share: 2 }, law)).toThrow(RangeError)
  })
})
