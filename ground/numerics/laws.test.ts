import { describe, expect, it } from 'vitest'
import * as b from './binomial.ts'
import { normalQuantile, normalSurvival } from './distribution.ts'
import { digamma, logGamma } from './gamma.ts'
import { noncentralTQuantile } from './noncentral.ts'
import { logNormalCumulative, normalHazard } from './normal-tail.ts'
import reference from './reference/laws.json' with { type: 'json' }
import * as s from './sampling.ts'

const { value: close, noncentral } = reference.tolerance

const near = (got: number, expected: number, at: unknown, tolerance = close): void => {
  const error = expected === 0 ? Math.abs(got) : Math.abs(got / expected - 1)
  expect(error, `at ${at}: ${got} for ${expected}`).toBeLessThanOrEqual(tolerance)
}

describe('laws against R', () => {
  it('normal tails, their logarithm and hazard', () => {
    for (const [z, share, log, ratio] of reference.pnorm) {
      if (share! > 0) near(normalSurvival(-z!), share!, z)
      near(logNormalCumulative(z!), log!, z)
      near(normalHazard(z!), ratio!, z)
    }
  })
  it('log gamma and digamma', () => {
    for (const [x, log, slope] of reference.lgamma) {
      near(logGamma(x!), log!, x)
      near(digamma(x!), slope!, x)
    }
  })
  it('beta law and its quantile', () => {
    for (const [x, a, c, share] of reference.pbeta) {
      near(s.betaCumulative(x!, a!, c!), share!, [x, a, c])
      near(s.betaSurvival(1 - x!, c!, a!), share!, [x, a, c], 1e-10)
    }
    for (const [p, a, c, x] of reference.qbeta)
      near(s.betaQuantile({ tail: 'lower', share: p! }, a!, c!), x!, [p, a, c])
    expect([s.betaCumulative(-1, 2, 2), s.betaCumulative(2, 2, 2), s.betaSurvival(1, 2, 2)]).toEqual([0, 1, 0])
  })
  it('chi-square', () => {
    for (const [p, dof, x] of reference.qchisq) {
      near(s.chiSquareQuantile({ tail: 'lower', share: p! }, dof!), x!, [p, dof])
      near(s.chiSquareCumulative(x!, dof!), p!, [x, dof])
    }
    for (const [x, dof, q] of reference.pchisq_upper) near(s.chiSquareSurvival(x!, dof!), q!, [x, dof])
    expect([s.chiSquareCumulative(-1, 3), s.chiSquareSurvival(-1, 3)]).toEqual([0, 1])
  })
  it("Student's t", () => {
    for (const [p, dof, t] of reference.qt) near(s.studentQuantile(p!, dof!), t!, [p, dof])
    for (const [t, dof, p] of reference.pt) near(s.studentCumulative(t!, dof!), p!, [t, dof])
  })
  it('ratio of variances', () => {
    for (const [f, above, below, q] of reference.pf_upper) {
      const ratio = { above: above!, below: below! }
      near(s.fisherSurvival(f!, ratio), q!, [f, above, below])
      near(s.fisherCumulative(f!, ratio), 1 - q!, [f, above, below])
      near(s.fisherQuantile({ tail: 'upper', share: q! }, ratio), f!, [f, above, below])
    }
  })
  it('non-central t and one-sided tolerance factors', () => {
    for (const [p, dof, shift, t] of reference.noncentral_t_quantile)
      near(noncentralTQuantile({ tail: 'lower', share: p! }, { dof: dof!, shift: shift! }), t!, [p, dof], noncentral)
    for (const [n, k] of reference.tolerance_factor_k_90_95_onesided) {
      const law = { dof: n! - 1, shift: normalQuantile(0.9) * Math.sqrt(n!) }
      near(noncentralTQuantile({ tail: 'upper', share: 0.05 }, law) / Math.sqrt(n!), k!, n, noncentral)
    }
  })
})

describe('binomial demonstration against R', () => {
  it('exact bounds', () => {
    for (const [x, n, confidence, lower, upper, lower2, upper2] of reference.clopperPearson) {
      const counted = { successes: x!, trials: n! }
      near(b.binomialLowerBound(counted, confidence!), lower!, [x, n])
      near(b.binomialUpperBound(counted, confidence!), upper!, [x, n])
      near(b.binomialLowerBound(counted, (1 + confidence!) / 2), lower2!, [x, n])
      near(b.binomialUpperBound(counted, (1 + confidence!) / 2), upper2!, [x, n])
    }
  })
  it('smallest demonstrations', () => {
    for (const [name, rows] of Object.entries(reference.smallestDemonstration)) {
      const confidence = Number(name.split('_')[1]) / 100
      for (const [misses, n, bound, before] of rows) {
        near(b.binomialLowerBound({ successes: n! - misses!, trials: n! }, confidence), bound!, [name, n])
        near(b.binomialLowerBound({ successes: n! - 1 - misses!, trials: n! - 1 }, confidence), before!, [name, n])
      }
    }
  })
  it('chance of passing: at most so many misses among n', () => {
    const plans = [29, 46, 61]
    for (const [pod, ...chances] of reference.passing)
      for (const [misses, chance] of chances.entries()) {
        const counted = { successes: misses, trials: plans[misses]! }
        near(b.binomialCumulative(counted, 1 - pod!), chance, [pod, misses])
        near(1 - b.binomialSurvival(counted, 1 - pod!), chance, [pod, misses])
      }
  })
  it('its weights add up to its shares, and the quantile is the smallest count that reaches the share', () => {
    let sum = 0
    for (let k = 0; k <= 12; k++) {
      sum += b.binomialChance({ successes: k, trials: 12 }, 0.3)
      near(b.binomialCumulative({ successes: k, trials: 12 }, 0.3), sum, k)
      expect(b.binomialQuantile(sum - 1e-9, 12, 0.3)).toBe(k)
      if (k < 12) expect(b.binomialQuantile(sum + 1e-9, 12, 0.3)).toBe(k + 1)
    }
    expect(b.binomialChance({ successes: 0, trials: 5 }, 0)).toBe(1)
    expect(b.binomialChance({ successes: 5, trials: 5 }, 1)).toBe(1)
    expect(b.binomialChance({ successes: 5, trials: 5 }, 0)).toBe(0)
    expect(b.binomialSurvival({ successes: 5, trials: 5 }, 0.2)).toBe(0)
  })
  it('throws for counts that are none and shares that are none', () => {
    for (const [successes, trials] of [
      [3, 2],
      [-1, 2],
      [0.5, 2],
      [0, 0],
      [Number.NaN, 3]
    ] as const) {
      expect(() => b.binomialLowerBound({ successes, trials }, 0.95)).toThrow(RangeError)
      expect(() => b.binomialUpperBound({ successes, trials }, 0.95)).toThrow(RangeError)
      expect(() => b.binomialCumulative({ successes, trials }, 0.5)).toThrow(RangeError)
      expect(() => b.binomialChance({ successes, trials }, 0.5)).toThrow(RangeError)
    }
    expect(() => b.binomialLowerBound({ successes: 1, trials: 2 }, 1.5)).toThrow(RangeError)
    expect(() => b.binomialCumulative({ successes: 1, trials: 2 }, Number.NaN)).toThrow(RangeError)
  })
})
