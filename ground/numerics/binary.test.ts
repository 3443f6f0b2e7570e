import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { lawOf } from './binary/links.ts'
import { likelihoodSums, logitSums } from './binary/sums.kernel.ts'
import * as n from './index.ts'
import { type BinaryFit, fitBinary, type Link, linkPlace, linkShare, splitOf, type Tally, tallyOf } from './index.ts'
import reference from './reference/hit-miss.json' with { type: 'json' }
import published from './reference/published-hit-miss.json' with { type: 'json' }

/** Oracles: R 4.2.2 and 40-digit arithmetic (reference/hit-miss.json), printed examples (reference/published-hit-miss.json). */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const { tolerance } = reference

const near = (got: number, expected: number, at: unknown, within = tolerance.value): void =>
  expect(
    expected === 0 ? Math.abs(got) : Math.abs(got / expected - 1),
    `${String(at)}: ${got} for ${expected}`
  ).toBeLessThanOrEqual(within)

interface Set {
  readonly size: readonly number[]
  readonly hits: readonly number[]
  readonly trials?: readonly number[]
}

const setOf = (name: string): Set => (reference.sets as Readonly<Record<string, Set>>)[name]!

const scaleOf = (of: string): ((size: number) => number) => (of === 'ln size' ? n.log : (size) => size)
const backOf = (of: string): ((x: number) => number) => (of === 'ln size' ? n.exp : (x) => x)

const tallied = ({ size, hits, trials }: Set, of = 'ln size'): Tally =>
  sound(tallyOf({ x: size.map(scaleOf(of)), hits, trials: trials ?? size.map(() => 1) }))

const fitted = (set: Set, link: string, of = 'ln size'): BinaryFit =>
  sound(fitBinary(tallied(set, of), { link: link as Link, estimate: 'likelihood' }))

const matrixOf = ({ covariance }: BinaryFit): number[] => [covariance.intercept, covariance.both, covariance.slope]

const chi = (share: number, dof: number): number => n.chiSquareQuantile({ tail: 'lower', share }, dof)
const z95 = n.normalQuantile(0.95)

describe('fits of hits and misses against R and 40-digit arithmetic', () => {
  for (const one of reference.fits) {
    const fit = fitted(setOf(one.set), one.link, one.of)
    const back = backOf(one.of)
    it(`${one.set}, ${one.link} on ${one.of}: coefficients, covariance, likelihood, places`, () => {
      near(fit.intercept, one.b[0]!, 'b0')
      near(fit.slope, one.b[1]!, 'b1')
      const [v00, v01, v11] = [one.covariance[0]![0]!, one.covariance[0]![1]!, one.covariance[1]![1]!]
      for (const [i, expected] of [v00, v01, v11].entries()) near(matrixOf(fit)[i]!, expected, `V ${i}`)
      near(fit.logLikelihood, one.logLikelihood, 'l')
      near(sound(n.slopeStatistic(fit)), one.slopeStatistic, 'slope')
      for (const [share, size, error] of one.places ?? []) {
        const eta = linkPlace(fit.link, share!)
        near(back(n.curvePlace(fit, eta)), size!, share)
        near(n.placeError(fit, eta), error!, share)
      }
    })
    const { bounds, curve, digits, profile } = one
    if (bounds !== undefined)
      it(`${one.set}, ${one.link} on ${one.of}: bounds of a90`, () => {
        const eta = linkPlace(fit.link, 0.9)
        near(back(n.curvePlace(fit, eta) + z95 * n.placeError(fit, eta)), bounds.delta, 'delta')
        const crossing = (z: number) => n.crossingPlace(fit, { eta, z, side: 'upper' })
        const likelihood = (criterion: number, share = 0.9, side: n.Side = 'upper') =>
          n.likelihoodPlace(fit, { share, side, criterion })
        const same = (got: unknown, expected: number | null | undefined, at: string): void => {
          if (expected === null || expected === undefined) expect(code(got), at).toBe('numerics/no-bound')
          else near(back(sound(got) as number), expected, at)
        }
        same(crossing(z95), bounds.crossing, 'crossing')
        same(crossing(Math.sqrt(chi(0.95, 2))), bounds.crossingJoint, 'joint crossing')
        same(likelihood(chi(0.9, 1)), bounds.likelihood, 'likelihood')
        same(likelihood(chi(0.95, 1)), bounds.likelihoodTwoSided, 'two-sided')
        same(likelihood(chi(0.95, 2)), bounds.likelihoodJoint, 'joint')
        same(likelihood(chi(0.9, 2)), bounds.likelihood2at90, 'two degrees at 0.90')
        same(likelihood(chi(0.9, 1), 0.9, 'lower'), bounds.lower90, 'lower')
        if ('upper50' in bounds) same(likelihood(chi(0.9, 1), 0.5), bounds.upper50, 'a50/95')
      })
    if (curve !== undefined)
      it(`${one.set}, ${one.link} on ${one.of}: bounds of the curve`, () => {
        for (const [size, share, waldLower, waldUpper, lower, upper] of curve) {
          const x = scaleOf(one.of)(size!)
          near(linkShare(fit.link, fit.intercept + fit.slope * x), share!, size)
          const wald = n.waldShares(fit, { x, z: z95 })
          near(wald.lower, waldLower!, [size, 'Wald'])
          near(wald.upper, waldUpper!, [size, 'Wald'])
          const got = sound(n.likelihoodShares(fit, { x, criterion: chi(0.9, 1) }))
          near(got.lower, lower!, [size, 'lower'])
          near(got.upper, upper!, [size, 'upper'])
        }
      })
    if (digits !== undefined)
      it(`${one.set}, ${one.link} on ${one.of}: to 12 digits`, () => {
        const within = tolerance.digits
        near(fit.intercept, digits.b0, 'b0', within)
        near(fit.slope, digits.b1, 'b1', within)
        for (const [i, expected] of digits.cov.entries()) near(matrixOf(fit)[i]!, expected, `V ${i}`, within)
        near(fit.logLikelihood, digits.loglik, 'l', within)
        const eta = linkPlace(fit.link, 0.9)
        near(back(n.curvePlace(fit, eta)), digits.a90, 'a90', within)
        near(back(n.curvePlace(fit, eta) + z95 * n.placeError(fit, eta)), digits.a90_95_wald_delta, 'delta', within)
        near(
          back(sound(n.crossingPlace(fit, { eta, z: z95, side: 'upper' }))),
          digits.a90_95_wald_crossing,
          'crossing',
          within
        )
        const asked = { share: 0.9, side: 'upper', criterion: chi(0.9, 1) } as const
        near(back(sound(n.likelihoodPlace(fit, asked))), digits.a90_95_lr, 'likelihood', within)
      })
    if (profile !== undefined)
      it(`${one.set}, ${one.link} on ${one.of}: intervals of the coefficients`, () => {
        const got = sound(n.profileIntervals(fit, chi(0.95, 1)))
        for (const [i, at] of (['intercept', 'slope'] as const).entries()) {
          near(got[at].lower, profile[i]![0]!, at, tolerance.profile)
          near(got[at].upper, profile[i]![1]!, at, tolerance.profile)
        }
      })
  }
})

describe('penalized fits against R and brglm', () => {
  for (const one of reference.firth)
    it(one.set, () => {
      const fit = sound(fitBinary(tallied(setOf(one.set)), { link: 'logit', estimate: 'penalized' }))
      near(fit.intercept, one.b[0]!, 'b0', tolerance.firth)
      near(fit.slope, one.b[1]!, 'b1', tolerance.firth)
      near(fit.covariance.both, one.covariance[0]![1]!, 'V', tolerance.firth * 10)
      near(fit.goal, one.goal, 'goal', tolerance.firth)
      near(fit.logLikelihood, one.logLikelihood, 'l', tolerance.firth)
      const bound = n.likelihoodPlace(fit, { share: 0.9, side: 'upper', criterion: chi(0.9, 1) })
      if (one.likelihood === null) expect(code(bound)).toBe('numerics/no-bound')
      else near(n.exp(sound(bound)), one.likelihood, 'a90/95', tolerance.firthBound)
    })
})

describe('published examples', () => {
  /** To one unit of the last digit printed: some stopped at a deviance that stood still, 1e-8. */
  const shown = (got: number, printed: number, at: string): void => {
    const unit = 10 ** -(`${printed}`.split('.')[1]?.length ?? 0)
    expect(Math.abs(got - printed), `${at}: ${got} for ${printed}`).toBeLessThanOrEqual(unit)
  }
  for (const one of published.cases)
    it(one.name, () => {
      const fit = sound(
        fitBinary(sound(tallyOf(published.data[one.data as 'beetles'])), {
          link: one.link as Link,
          estimate: 'likelihood'
        })
      )
      const b = [fit.intercept, fit.slope]
      for (const [i, expected] of one.b.entries()) near(b[i]!, expected, 'b', published.tolerance)
      const se = [Math.sqrt(fit.covariance.intercept), Math.sqrt(fit.covariance.slope)]
      for (const [i, printed] of (one.printed.b ?? []).entries()) shown(b[i]!, printed, 'b')
      for (const [i, printed] of ('se' in one.printed ? one.printed.se : []).entries()) shown(se[i]!, printed, 'se')
      for (const [share, x, error, lower, upper, oneSided] of one.inverse ?? []) {
        const eta = linkPlace(fit.link, share!)
        near(n.curvePlace(fit, eta), x!, share, published.tolerance)
        near(n.placeError(fit, eta), error!, share, published.tolerance)
        const cross = (z: number, side: n.Side) => sound(n.crossingPlace(fit, { eta, z, side }))
        near(cross(n.normalQuantile(0.975), 'lower'), lower!, share, published.tolerance)
        near(cross(n.normalQuantile(0.975), 'upper'), upper!, share, published.tolerance)
        near(cross(z95, 'upper'), oneSided!, share, published.tolerance)
      }
    })
  it('Dobson and Barnett, beetles: printed inverse predictions with their limits', () => {
    const { x50, x90, x99, se50, logit_se50, tolerance: within } = published.printedInverse
    const fit = sound(fitBinary(sound(tallyOf(published.data.beetles)), { link: 'c-log-log', estimate: 'likelihood' }))
    for (const [share, printed] of [
      [0.5, x50],
      [0.9, x90],
      [0.99, x99]
    ] as const) {
      const eta = linkPlace('c-log-log', share)
      const ends = (['lower', 'upper'] as const).map((side) =>
        sound(n.crossingPlace(fit, { eta, z: n.normalQuantile(0.975), side }))
      )
      for (const [i, got] of [n.curvePlace(fit, eta), ...ends].entries())
        expect(Math.abs(got - printed[i]!), `${share} ${i}`).toBeLessThanOrEqual(within)
    }
    shown(n.placeError(fit, linkPlace('c-log-log', 0.5)), se50, 'se50')
    const logit = sound(fitBinary(sound(tallyOf(published.data.beetles)), { link: 'logit', estimate: 'likelihood' }))
    near(n.placeError(logit, 0), logit_se50, 'logit', 1e-6)
  })
  it('Venables and Ripley, budworms: standard errors of three doses by propagation', () => {
    const { b, covariance: v, printed } = published.budworm
    const curve = {
      intercept: b[0]!,
      slope: b[2]!,
      covariance: { intercept: v[0]![0]!, both: v[0]![2]!, slope: v[2]![2]! }
    }
    for (const [i, share] of printed.p.entries()) {
      shown(n.curvePlace(curve, linkPlace('logit', share)), printed.dose[i]!, 'dose')
      shown(n.placeError(curve, linkPlace('logit', share)), printed.se[i]!, 'se')
    }
  })
})

describe('100 000 rows of the minimal standard generator', () => {
  const { seed, large } = { seed: reference.large.seed, large: reference.large }
  let state = seed
  const next = (): number => {
    state = (16807 * state) % 2147483647
    return state / 2147483647
  }
  const rows = Array.from({ length: 100_000 }, () => {
    const size = 0.1 + 4.9 * next()
    return { size, hit: next() < 1 / (1 + n.exp(0.3 - 2.8 * n.log(size))) ? 1 : 0 }
  })
  const set = { size: rows.map(({ size }) => size), hits: rows.map(({ hit }) => hit) }
  it('are fitted to 10 digits', () => {
    expect(set.hits.slice(0, 10)).toEqual(large.firstHits)
    for (const [i, size] of large.firstSizes.entries()) near(set.size[i]!, size, i, 1e-14)
    const fit = fitted(set, 'logit')
    near(fit.intercept, large.b[0]!, 'b0', tolerance.large)
    near(fit.slope, large.b[1]!, 'b1', tolerance.large)
    near(fit.logLikelihood, large.logLikelihood, 'l', tolerance.large)
    near(fit.covariance.both, large.covariance[0]![1]!, 'V', tolerance.large)
    const eta = linkPlace('logit', 0.9)
    near(n.exp(n.curvePlace(fit, eta)), large.a90, 'a90', tolerance.large)
    const bound = n.likelihoodPlace(fit, { share: 0.9, side: 'upper', criterion: chi(0.9, 1) })
    near(n.exp(sound(bound)), large.likelihood, 'a90/95', tolerance.large)
    near(
      n.exp(sound(n.crossingPlace(fit, { eta, z: z95, side: 'upper' }))),
      large.crossing,
      'crossing',
      tolerance.large
    )
  })
})

describe('the sums of the logit by products', () => {
  it('are those row by row', () => {
    const { size, hits } = setOf('hm1')
    const grouped = setOf('hm_ties_grouped')
    for (const tally of [tallied({ size: [...size, 900, 1e-9], hits: [...hits, 1, 0] }), tallied(grouped)])
      for (const b of [
        [0.3, 1.2],
        [-2, 5],
        [40, 90]
      ] as const) {
        const [fast, plain] = [logitSums(tally, b), likelihoodSums(lawOf('logit'), tally, b)]
        for (const key of ['value', 'u0', 'u1', 'h00', 'h01', 'h11'] as const) near(fast[key], plain[key], key, 1e-13)
      }
  })
})

describe('what must come out the same', () => {
  const set = setOf('hm1')
  it('rows in another order, and grouped or not: to the bit', () => {
    const turned = { size: set.size.toReversed(), hits: set.hits.toReversed() }
    expect(fitted(turned, 'probit')).toEqual(fitted(set, 'probit'))
    const grouped = setOf('hm_ties_grouped')
    const single = {
      size: grouped.size.flatMap((size, i) => Array<number>(grouped.trials![i]!).fill(size)),
      hits: grouped.hits.flatMap((hits, i) => Array.from({ length: grouped.trials![i]! }, (_, k) => (k < hits ? 1 : 0)))
    }
    expect(fitted(single, 'logit')).toEqual(fitted(grouped, 'logit'))
  })
  it('every row twice: the same curve, half the covariance', () => {
    const twice = { size: [...set.size, ...set.size], hits: [...set.hits, ...set.hits] }
    const [one, two] = [fitted(set, 'c-log-log'), fitted(twice, 'c-log-log')]
    near(two.slope, one.slope, 'slope', 1e-12)
    near(two.covariance.slope, one.covariance.slope / 2, 'V', 1e-12)
  })
  it('log-log on hits is c-log-log on misses with both signs turned', () => {
    const misses = { size: set.size, hits: set.hits.map((hit) => 1 - hit) }
    const [one, other] = [fitted(set, 'log-log'), fitted(misses, 'c-log-log')]
    near(one.intercept, -other.intercept, 'b0', 1e-12)
    near(one.slope, -other.slope, 'b1', 1e-12)
  })
  it('sizes in another unit: places follow', () => {
    const inch = { size: set.size.map((size) => size / 25.4), hits: set.hits }
    for (const of of ['size', 'ln size']) {
      const place = (given: Set) => {
        const bound = n.likelihoodPlace(fitted(given, 'logit', of), {
          share: 0.9,
          side: 'upper',
          criterion: chi(0.9, 1)
        })
        return backOf(of)(sound(bound))
      }
      near(place(inch) * 25.4, place(set), of, 1e-12)
    }
  })
})

describe('what no curve can be drawn through', () => {
  const asked = { link: 'logit', estimate: 'likelihood' } as const
  const split = (name: string) => splitOf(tallied(setOf(name), 'size'))
  it('is told before any step', () => {
    expect(split('hm1')).toEqual({ kind: 'mixed' })
    expect(split('hm_sep_complete')).toEqual({ kind: 'complete', rises: true, below: 0.6, above: 0.7 })
    expect(split('hm_sep_quasi')).toEqual({ kind: 'quasi-complete', rises: true, below: 0.6, above: 0.6 })
    expect(split('hm_allhit')).toEqual({ kind: 'all hits' })
    expect(split('hm_allmiss')).toEqual({ kind: 'all misses' })
    expect(splitOf(tallied({ size: [1, 1, 1], hits: [0, 1, 1] }))).toEqual({ kind: 'one place' })
    expect(splitOf(tallied({ size: [1, 2, 3], hits: [1, 1, 0] }, 'size'))).toMatchObject({
      kind: 'complete',
      rises: false
    })
    expect(splitOf(tallied({ size: [1, 2, 2, 3], hits: [1, 1, 0, 0] }, 'size'))).toMatchObject({
      kind: 'quasi-complete',
      rises: false
    })
  })
  it('is refused', () => {
    const fit = (name: string, estimate: n.Estimate = 'likelihood') =>
      code(fitBinary(tallied(setOf(name)), { ...asked, estimate }))
    expect(fit('hm_sep_complete')).toBe('numerics/separated')
    expect(fit('hm_sep_quasi')).toBe('numerics/separated')
    expect(fit('hm_allhit')).toBe('numerics/one-outcome')
    expect(fit('hm_allmiss', 'penalized')).toBe('numerics/one-outcome')
    expect(code(fitBinary(tallied({ size: [1, 1, 1], hits: [0, 1, 1] }), asked))).toBe('numerics/degenerate')
    expect(code(tallyOf({ x: [], hits: [], trials: [] }))).toBe('numerics/too-few-points')
    const falling = fitted(setOf('hm_negslope'), 'logit')
    expect(code(n.likelihoodPlace(falling, { share: 0.9, side: 'upper', criterion: 2.7 }))).toBe('numerics/not-rising')
    expect(code(n.crossingPlace(falling, { eta: 2, z: 1.6, side: 'upper' }))).toBe('numerics/not-rising')
  })
  it('is a wrong program where counts are none', () => {
    for (const [x, hits, trials] of [
      [Number.NaN, 0, 1],
      [1, 2, 1],
      [1, -1, 1],
      [1, Number.NaN, 1],
      [1, 0, Number.POSITIVE_INFINITY]
    ])
      expect(() => tallyOf({ x: [x!], hits: [hits!], trials: [trials!] })).toThrow(RangeError)
    expect(() => tallyOf({ x: [1], hits: [], trials: [1] })).toThrow(RangeError)
    for (const share of [0, 1, Number.NaN]) expect(() => linkPlace('logit', share)).toThrow(RangeError)
  })
})
