import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import type { CensoredData, CensoredFit, Reach } from './index.ts'
import * as n from './index.ts'
import boxes from './reference/box-cox.json' with { type: 'json' }
import reference from './reference/censored.json' with { type: 'json' }

/** Oracles: R 4.2.2 (reference/censored.json; survreg, lm), mpmath at 40 digits (reference/box-cox.json), printed critical values. */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: unknown, within = reference.tolerance): void => {
  const error = Math.abs(expected) < 1e-15 ? Math.abs(got) : Math.abs(got / expected - 1)
  expect(error, `${String(at)}: ${got} for ${expected}`).toBeLessThanOrEqual(within)
}

const transformed = (of: string, values: readonly number[]): readonly number[] =>
  of === 'ln' ? values.map(n.log) : values

type Case = (typeof reference.cases)[number]

const dataOf = (one: Pick<Case, 'data' | 'x' | 'y'>): CensoredData => {
  const { size, signal, side } = reference.data[one.data as 'read']
  return { columns: [transformed(one.x, size)], y: transformed(one.y, signal), side }
}

const fitOf = (one: Case): CensoredFit => sound(n.censoredRegression(dataOf(one)))
const back = (one: Case, x: number): number => (one.x === 'ln' ? n.exp(x) : x)
const reachOf = (one: Case): Reach => sound(n.reachOf(fitOf(one), one.ydec))
const z95 = n.normalQuantile(0.95)
const asked = { share: 0.9, z: z95 }

describe.each(reference.cases)('a line with limits: $name', (one) => {
  it('coefficients, scatter, covariance, likelihood', () => {
    const { coefficients, tau, covariance, logLikelihood } = fitOf(one)
    near(coefficients[0]!, one.b0, 'b0')
    near(coefficients[1]!, one.b1, 'b1')
    near(tau, one.tau, 'tau')
    near(logLikelihood, one.loglik, 'likelihood')
    for (const [i, value] of one.cov_b0_b1_tau.flat().entries()) near(covariance.values[i]!, value, `covariance ${i}`)
  })
  it('the place where the level is passed, with its bounds', () => {
    const reach = reachOf(one)
    near(reach.mu, one.mu, 'mu')
    near(reach.sigma, one.sigma, 'sigma')
    const { mu, sigma, both } = reach.covariance
    for (const [i, value] of [mu, both, both, sigma].entries()) near(value, one.cov_mu_sigma.flat()[i]!, `cov ${i}`)
    near(back(one, n.reachPlace(reach, 0.5)), one.a50, 'a50')
    near(back(one, n.reachPlace(reach, 0.9)), one.a90, 'a90')
    near(n.reachError(reach, 0.9), one.se_x90, 'error')
    near(back(one, sound(n.reachPropagated(reach, asked))), one.a90_95_wald, 'propagated')
    near(back(one, sound(n.reachCrossing(reach, asked))), one.a90_95_wald_curve_crossing, 'crossing')
    const joint = Math.sqrt(n.chiSquare2Quantile(0.95))
    near(back(one, n.reachPlace(reach, 0.9) + joint * n.reachError(reach, 0.9)), one.a90_95_cheng_iles_chi2_2, 'joint')
  })
  it('the bound by likelihood', () => {
    const criterion = n.chiSquareQuantile({ tail: 'lower', share: 0.9 }, 1)
    const response = { data: dataOf(one), fit: fitOf(one) }
    const bound = sound(n.reachLikelihood(response, { level: one.ydec, share: 0.9, criterion }))
    near(back(one, bound), one.a90_95_lr_onesided, 'likelihood')
  })
  it('the curve with its pointwise bounds', () => {
    const reach = reachOf(one)
    for (const { a, pod, lo95, hi95 } of one.curve) {
      const got = n.reachShares(reach, { x: one.x === 'ln' ? n.log(a) : a, z: z95 })
      near(got.share, pod, a, 1e-8)
      near(got.lower, lo95, a, 1e-7)
      near(got.upper, hi95, a, 1e-8)
    }
  })
})

describe.each(reference.cases.filter(({ data }) => data === 'read'))('rows that were all read: $name', (one) => {
  const { columns, y } = dataOf(one)
  const points = { x: columns[0]!, y }
  it('the exact bound', () => {
    const line = sound(n.calibrate(points))
    near(line.sigma, one.ols!.s, 's')
    const bound = sound(n.reachExact(line, { level: one.ydec, share: 0.9, confidence: 0.95 }))
    near(back(one, bound), one.a90_95_exact_noncentral_t!, 'exact')
    const place = (one.ydec + n.normalQuantile(0.9) * line.sigma - line.intercept) / line.slope
    near(back(one, place), one.a90_ols_s!, 'a90 by s')
  })
  it('the checks of residuals', () => {
    const got = sound(n.residualChecks(points))
    const want = one.residual_checks!
    near(got.scatter.statistic, want.breusch_pagan_koenker, 'scatter')
    near(got.scatter.chance, want.bp_koenker_p, 'scatter')
    near(got.scatterOfNormal.statistic, want.breusch_pagan_original, 'scatter of normal')
    near(got.scatterOfNormal.chance, want.bp_original_p, 'scatter of normal')
    near(got.normality!.statistic, want.shapiro_W, 'W')
    near(got.normality!.chance, want.shapiro_p, 'W')
    near(got.tails!.statistic, want.anderson_darling_A2, 'A2')
    near(got.tails!.adjusted, want.anderson_darling_A2star, 'A2*')
    near(got.neighbors, want.durbin_watson_sorted_by_x, 'neighbors')
    near(got.largestStandardized, want.max_abs_standardised_residual, 'standardized')
    near(got.largestLeverage, want.max_leverage, 'leverage')
    near(got.largestCook, want.max_cook, 'Cook')
    near(got.bend.statistic, want.quadratic_F, 'bend')
    near(got.bend.chance, want.quadratic_p, 'bend')
  })
})

describe('checks of residuals where one can not be had', () => {
  it('no W of more rows than it is known for, the rest as ever; none of points on one line', () => {
    const x = Array.from({ length: 5001 }, (_, i) => i / 100)
    const stream = n.randomFrom('checks')
    const got = sound(n.residualChecks({ x, y: x.map((value) => 1 + value + stream.normal()) }))
    expect(got.normality).toBeUndefined()
    expect(got.tails!.chance).toBeGreaterThan(1e-3)
    const fewer = { x: x.slice(1), y: x.slice(1).map((value) => 1 + value + stream.normal()) }
    expect(sound(n.residualChecks(fewer)).normality!.statistic).toBeGreaterThan(0.99)
    expect(code(n.residualChecks({ x: [1, 2, 3, 4], y: [2, 4, 6, 8] }))).toBe('numerics/degenerate')
  })
})

describe('more of a line with limits', () => {
  it("Tobin's durable goods: two columns, 13 of 20 below", () => {
    const { y, age, quant, coef, scale, loglik, printed } = reference.tobin
    const side = y.map((value) => (value > 0 ? 0 : -1))
    const fit = sound(n.censoredRegression({ columns: [age, quant], y, side }))
    const got = [...fit.coefficients, fit.tau, fit.logLikelihood]
    for (const [i, value] of [...coef, scale, loglik[1]!].entries()) near(got[i]!, value, i)
    for (const [i, value] of printed.entries()) expect(Math.abs(got[i]! - value)).toBeLessThan(i < 3 ? 6e-5 : 0.05)
    expect(fit.counts).toEqual({ below: 13, read: 7, above: 0 })
  })

  it('limits taken as readings, or left out, are another answer', () => {
    const { columns, y, side } = dataOf(reference.cases[4]!)
    const all = sound(n.fitLine({ x: columns[0]!, y }))
    near(all.slope, reference.naive.asReadings.b[1]!, 'as readings')
    const kept = Array.from(y, (_, i) => i).filter((i) => side[i] === 0)
    const read = sound(n.fitLine({ x: kept.map((i) => columns[0]![i]!), y: kept.map((i) => y[i]!) }))
    near(read.slope, reference.naive.dropped.b[1]!, 'left out')
  })

  it('a hundred thousand rows, both limits', () => {
    const want = reference.many
    const { size, signal, side } = manyRows()
    expect(side.filter((one) => one === -1)).toHaveLength(want.left)
    expect(side.filter((one) => one === 1)).toHaveLength(want.right)
    const data = { columns: [size.map(n.log)], y: signal, side }
    const fit = sound(n.censoredRegression(data))
    for (const [i, value] of [want.b0, want.b1].entries()) near(fit.coefficients[i]!, value, i)
    near(fit.tau, want.tau, 'tau')
    near(fit.logLikelihood, want.loglik, 'likelihood')
    for (const [i, value] of want.cov.flat().entries()) near(fit.covariance.values[i]!, value, i)
    const reach = sound(n.reachOf(fit, n.log(0.5)))
    near(n.exp(n.reachPlace(reach, 0.9)), want.a90, 'a90')
    near(n.exp(sound(n.reachPropagated(reach, asked))), want.a90_95_wald, 'propagated')
    const criterion = n.chiSquareQuantile({ tail: 'lower', share: 0.9 }, 1)
    const bound = sound(n.reachLikelihood({ data, fit }, { level: n.log(0.5), share: 0.9, criterion }))
    near(n.exp(bound), want.a90_95_wald, 'all bounds meet on so many rows', 1e-4)
  })

  it('says the same in other units of size and signal, and with every row twice', () => {
    const one = reference.cases[4]!
    const { columns, y, side } = dataOf(one)
    const fit = fitOf(one)
    const inch = { columns: [Array.from(columns[0]!, (x) => x + n.log(25.4))], y: Array.from(y, (v) => v + 3), side }
    const other = sound(n.censoredRegression(inch))
    near(other.coefficients[1]!, fit.coefficients[1]!, 'slope')
    near(other.coefficients[0]!, fit.coefficients[0]! + 3 - n.log(25.4) * fit.coefficients[1]!, 'constant')
    near(other.logLikelihood, fit.logLikelihood, 'likelihood')
    const twice = (values: ArrayLike<number>): number[] => [...Array.from(values), ...Array.from(values)]
    const double = sound(n.censoredRegression({ columns: [twice(columns[0]!)], y: twice(y), side: twice(side) }))
    near(double.tau, fit.tau, 'tau')
    for (const [i, value] of fit.covariance.values.entries()) near(double.covariance.values[i]!, value / 2, i)
  })

  it('refuses what has no best fit', () => {
    const fit = (x: number[], y: number[], side: number[]): unknown => n.censoredRegression({ columns: [x], y, side })
    expect(code(fit([1, 2, 3, 4], [1, 1, 1, 1], [-1, -1, -1, -1]))).toBe('numerics/too-few-points')
    expect(code(fit([1, 2, 3, 4], [1, 1, 2, 3], [-1, -1, 0, 0]))).toBe('numerics/too-few-points')
    expect(code(fit([1, 2, 3, 4], [1, 2, 3, 4], [-1, 0, 0, 0]))).toBe('numerics/degenerate')
    expect(code(fit([1, 2, 2, 2], [1, 2, 3, 4], [-1, 0, 0, 0]))).toBe('numerics/degenerate')
    expect(code(fit([1, 2, 3, 4], [1, 2, Number.NaN, 4], [0, 0, 0, 0]))).toBe('numerics/degenerate')
    expect(() => fit([1, 2], [1, 2], [0, 2])).toThrow(RangeError)
  })

  it('gives no place on a falling response and no bound where the slope is not told from zero', () => {
    const x = [1, 2, 3, 4, 5, 6]
    const falling = { columns: [x], y: [6, 5, 4.2, 3, 2.1, 1], side: x.map(() => 0) }
    expect(code(n.reachOf(sound(n.censoredRegression(falling)), 3))).toBe('numerics/not-rising')
    const weak = { columns: [x], y: [3, 1, 4, 1, 5, 3], side: x.map(() => 0) }
    const fit = sound(n.censoredRegression(weak))
    const reach = sound(n.reachOf(fit, 3))
    expect(code(n.reachPropagated(reach, asked))).toBe('numerics/no-bound')
    expect(code(n.reachCrossing(reach, asked))).toBe('numerics/no-bound')
    const likelihood = n.reachLikelihood({ data: weak, fit }, { level: 3, share: 0.9, criterion: 2.7055 })
    expect(code(likelihood)).toBe('numerics/no-bound')
    const line = sound(n.calibrate({ x, y: weak.y }))
    expect(code(n.reachExact(line, { level: 3, share: 0.9, confidence: 0.95 }))).toBe('numerics/no-bound')
  })
})

describe('the best power', () => {
  it.each(boxes.cases)('$x', ({ x, lambda_lower_upper_top_zero_one: want }) => {
    const { size, signal } = reference.data.read
    const got = sound(n.boxCox({ x: transformed(x, size), y: signal }, boxes.confidence))
    const values = [got.lambda, got.lower, got.upper, got.logLikelihood, got.atZero, got.atOne]
    for (const [i, value] of values.entries()) near(value, want[i]!, i, boxes.tolerance)
  })
  it('takes no value that is not above zero', () => {
    expect(code(n.boxCox({ x: [1, 2, 3, 4], y: [1, 2, 0, 4] }, 0.95))).toBe('numerics/not-positive')
  })
})

describe('tests of normality', () => {
  it('A2*: printed critical values 0.752 at 5 % and 1.035 at 1 %', () => {
    const chanceAt = (goal: number): number => {
      const heavy = (power: number): number[] =>
        Array.from({ length: 30 }, (_, i) => n.normalQuantile((i + 0.5) / 30)).map((z) => z * n.pow(Math.abs(z), power))
      const at = (power: number) => n.andersonDarling(heavy(power))
      return at(n.rootBetween((power) => at(power).adjusted - goal, { low: 0, high: 3 })).chance
    }
    expect(Math.abs(chanceAt(0.752) - 0.05)).toBeLessThan(0.001)
    expect(Math.abs(chanceAt(1.035) - 0.01)).toBeLessThan(0.0002)
  })
  it('throws where there is nothing to test', () => {
    expect(() => n.shapiroWilk([1, 1, 1])).toThrow(RangeError)
    expect(() => n.shapiroWilk([1, 2])).toThrow(RangeError)
    expect(() => n.andersonDarling([1, 2, 3])).toThrow(RangeError)
  })
})

/** Park and Miller's generator; rows as `generator` says. */
function manyRows(): { readonly size: number[]; readonly signal: number[]; readonly side: number[] } {
  let state = 777
  const next = (): number => {
    state = (16807 * state) % 2147483647
    return state / 2147483647
  }
  const [size, signal, side] = [[], [], []] as [number[], number[], number[]]
  for (let i = 0; i < 100000; i++) {
    const a = 0.2 + 3.8 * next()
    const y = n.log(0.9) + 1.1 * n.log(a) + 0.25 * Math.sqrt(-2 * n.log(next())) * n.cos(2 * n.PI * next())
    size.push(a)
    signal.push(Math.min(Math.max(y, n.log(0.3)), n.log(3.5)))
    side.push(y < n.log(0.3) ? -1 : y > n.log(3.5) ? 1 : 0)
  }
  return { size, signal, side }
}
