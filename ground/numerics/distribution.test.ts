import { describe, expect, it } from 'vitest'
import * as d from './distribution.ts'
import reference from './reference/estimates.json' with { type: 'json' }

const near = (got: number, expected: number, tolerance: number, at: unknown): void => {
  if (expected === 0) expect(got, `at ${at}`).toBe(0)
  else expect(Math.abs(got / expected - 1), `at ${at}: ${got} for ${expected}`).toBeLessThanOrEqual(tolerance)
}

describe('normal distribution against mpmath', () => {
  const { tolerance, survival, quantile } = reference.normal
  it('survival and cumulative', () => {
    for (const [x, expected] of survival) {
      near(d.normalSurvival(x!), expected!, tolerance, x)
      near(d.normalCumulative(-x!), expected!, tolerance, x)
    }
    expect(d.normalSurvival(Number.POSITIVE_INFINITY)).toBe(0)
    expect(d.normalCumulative(Number.POSITIVE_INFINITY)).toBe(1)
    expect(d.normalSurvival(Number.NaN)).toBeNaN()
  })
  it('quantile', () => {
    for (const [p, expected] of quantile) {
      near(d.normalQuantile(p!), expected!, tolerance, p)
      near(d.normalUpperQuantile(p!), -expected!, tolerance, p)
    }
    expect(d.normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY)
    expect(d.normalQuantile(1)).toBe(Number.POSITIVE_INFINITY)
    expect(d.normalQuantile(1.1)).toBeNaN()
    expect(d.normalQuantile(-0.1)).toBeNaN()
  })
})

describe('chi-square with 2 degrees of freedom and the exponential integral against mpmath', () => {
  it('cumulative, survival and both quantiles', () => {
    const { tolerance, values, quantiles } = reference.chiSquare2
    for (const [x, below, above] of values) {
      near(d.chiSquare2Cumulative(x!), below!, tolerance, x)
      near(d.chiSquare2Survival(x!), above!, tolerance, x)
    }
    for (const [p, lower, upper] of quantiles) {
      near(d.chiSquare2Quantile(p!), lower!, tolerance, p)
      near(d.chiSquare2UpperQuantile(p!), upper!, tolerance, p)
    }
    expect([d.chiSquare2Cumulative(-1), d.chiSquare2Survival(-1), d.chiSquare2Quantile(0)]).toEqual([0, 1, 0])
    expect(d.chiSquare2Quantile(2)).toBeNaN()
  })
  it('e^z E1(z)', () => {
    const { tolerance, cases } = reference.exponentialIntegral
    for (const [z, expected] of cases) near(d.scaledExponentialIntegral(z!), expected!, tolerance, z)
    expect(d.scaledExponentialIntegral(0)).toBeNaN()
  })
})
