import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { type CurvePrediction, type CurveQuestion, curveInverse } from './calibration/curve-inverse.ts'
import {
  type CurveForm,
  type FittedCurve,
  fitCurve,
  fitPolynomial,
  fitPower,
  fitSaturating
} from './calibration/curves.ts'
import { calibrate, type InverseQuestion, inversePrediction, type Standards } from './calibration/inverse.ts'
import { isotonic } from './calibration/isotonic.ts'
import { lackOfFit } from './calibration/lack-of-fit.ts'
import { monotoneAt, monotoneCurve, monotoneInverse } from './calibration/monotone.ts'
import { exp, log, pow } from './elementary.ts'
import { fitLine, type LineFit } from './line.ts'
import lines from './reference/calibration.json' with { type: 'json' }
import reference from './reference/calibration-curves.json' with { type: 'json' }
import { boxCox } from './residuals/box-cox.ts'
import { studentQuantile, studentUpperQuantile } from './sampling.ts'

/**
 * Oracle: R 4.2.2 on data of NIST, GUM H.3 and drawn ones, with the printed figures beside it; nasturtium as Greenwell and
 * Kabban print it; the line's own exact interval (reference/calibration-curves.json, reference/calibration.json).
 */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number | undefined, expected: number, at: string, within = reference.tolerance): void =>
  expect(Math.abs(got! / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

/** To the last digit printed. */
const asPrinted = (got: number | undefined, printed: number): void => {
  const unit = 10 ** -(`${printed}`.split('.')[1]?.length ?? 0)
  expect(Math.abs(got! - printed), `${got} for ${printed}`).toBeLessThanOrEqual(0.50001 * unit)
}

const logs = (values: readonly number[]): number[] => values.map(log)

interface ExpectedLine {
  readonly intercept: number
  readonly slope: number
  readonly se: readonly number[]
  readonly sigma: number
  readonly dof: number
  readonly covariance: readonly (readonly number[])[]
}

function checkLine(got: LineFit, expected: ExpectedLine): void {
  for (const key of ['intercept', 'slope', 'sigma'] as const) near(got[key], expected[key], key)
  near(Math.sqrt(got.covariance.intercept), expected.se[0]!, 'of intercept')
  near(Math.sqrt(got.covariance.slope), expected.se[1]!, 'of slope')
  near(got.covariance.both, expected.covariance[0]![1]!, 'covariance')
}

const question: InverseQuestion = { readings: [1], of: 'reading', scatter: 'line', confidence: 0.95, range: 'any' }

interface ExpectedInverse {
  readonly y0: number
  readonly m: number
  readonly estimate: number
  readonly g: number
  readonly standardError: number
  readonly interval: readonly number[]
  readonly propagated: readonly number[]
  readonly depth?: number
  readonly depthInterval?: readonly number[]
}

function checkInverse(standards: Standards, expected: ExpectedInverse): void {
  const readings = Array<number>(expected.m).fill(expected.y0)
  const got = sound(inversePrediction(sound(calibrate(standards)), { ...question, readings }))
  for (const key of ['estimate', 'g', 'standardError'] as const) near(got[key], expected[key], key)
  if (got.set.kind !== 'interval') throw new Error(got.set.kind)
  const ends = [got.set.lower, got.set.upper]
  for (const [i, end] of expected.interval.entries()) near(ends[i], end, 'interval')
  near(got.propagated.lower, expected.propagated[0]!, 'propagated')
  if (expected.depth !== undefined) near(exp(got.estimate), expected.depth, 'depth')
  for (const [i, end] of (expected.depthInterval ?? []).entries()) near(exp(ends[i]!), end, 'depth interval')
}

describe('calibration lines', () => {
  it('linewidth: propagated uncertainty of a corrected reading, lack of fit, the printed figures', () => {
    const { x, y } = lines.lines.find(({ name }) => name === 'linewidth')!
    const line = sound(calibrate({ x, y }))
    const { propagated, lackOfFit: expected, printed } = reference.linewidth
    for (const { Y, u } of propagated)
      near(sound(inversePrediction(line, { ...question, readings: [Y] })).standardError, u, `u at ${Y}`)
    const found = sound(lackOfFit({ x, y }, { sigma: line.sigma, dof: 38 }))
    near(found.statistic, expected.F, 'F')
    near(found.chance, expected.p, 'p')
    expect(found.dof).toEqual({ above: expected.df1, below: expected.df2 })
    asPrinted(line.intercept, printed.a)
    asPrinted(line.slope, printed.b)
    asPrinted(Math.sqrt(line.covariance.intercept), printed.se_a)
    asPrinted(Math.sqrt(line.covariance.slope), printed.se_b)
  })

  it('Alaska pipeline: line, in logarithms, weighted, reverse; depth from a reading; power of the readings', () => {
    const { lab, field, remembered, ...alaska } = reference.alaska
    const line = sound(fitLine({ x: lab, y: field }))
    const inLogs = { x: logs(lab), y: logs(field) }
    checkLine(line, alaska.linear)
    checkLine(sound(fitLine(inLogs)), alaska.logarithms)
    checkLine(sound(fitLine({ x: field, y: lab })), alaska.reverse)
    const weights = lab.map((value) => pow(value, alaska.weighted.power))
    const weighted = sound(fitLine({ x: lab, y: field, weights }))
    const { coefficients, se, sigma } = alaska.weighted
    near(weighted.intercept, coefficients[0]!, 'weighted intercept')
    near(weighted.slope, coefficients[1]!, 'weighted slope')
    near(weighted.sigma, sigma, 'weighted sigma')
    near(Math.sqrt(weighted.covariance.intercept), se[0]!, 'weighted error')
    near(Math.sqrt(weighted.covariance.slope), se[1]!, 'weighted error')
    for (const one of alaska.inverse) checkInverse(inLogs, one)
    near(sound(boxCox({ x: lab, y: field }, 0.95)).lambda, alaska.boxCox, 'power', 1e-7) // R's search stops there
    for (const [i, value] of [line.intercept, line.slope].entries()) asPrinted(value, remembered.linear[i]!)
    for (const [i, value] of [weighted.intercept, weighted.slope].entries()) asPrinted(value, remembered.weighted[i]!)
  })

  it('thermometer of GUM H.3: correction at 30 °C with its uncertainty', () => {
    const { t, b, from_t, line: expected, correlation, at30, errorAt30, printed } = reference.thermometer
    const line = sound(fitLine({ x: t.map((value) => value - from_t), y: b }))
    checkLine(line, expected)
    const { intercept, slope, both } = line.covariance
    near(both / Math.sqrt(intercept * slope), correlation, 'correlation')
    near(line.intercept + 10 * line.slope, at30, 'at 30')
    near(Math.sqrt(intercept + 100 * slope + 20 * both), errorAt30, 'error at 30')
    asPrinted(line.intercept + 10 * line.slope, printed.b30)
    asPrinted(Math.sqrt(intercept + 100 * slope + 20 * both), printed.u_b30)
  })

  it('depth: line, in logarithms, depth from one reading and from three', () => {
    const { depth, amplitude, linear, logarithms, inverse } = reference.depth
    checkLine(sound(fitLine({ x: depth, y: amplitude })), linear)
    checkLine(sound(fitLine({ x: logs(depth), y: logs(amplitude) })), logarithms)
    for (const one of inverse) checkInverse({ x: logs(depth), y: logs(amplitude) }, one)
  })
})

const asked = (curve: FittedCurve, change: Partial<CurveQuestion>): CurveQuestion => ({
  ...{ readings: [1], of: 'reading', scatter: 'line', confidence: 0.95, leastSteepness: 0 },
  between: { low: curve.lowest, high: curve.highest },
  ...change
})

const invert = (curve: FittedCurve, change: Partial<CurveQuestion>): CurvePrediction =>
  sound(curveInverse(curve, asked(curve, change)))

const errorOf = ({ covariance: { size, values } }: FittedCurve, j: number): number => Math.sqrt(values[j * size + j]!)

interface ExpectedCurve {
  readonly parameters: readonly number[]
  readonly se: readonly number[]
  readonly sigma: number
}

function checkCurve(curve: FittedCurve, expected: ExpectedCurve & { readonly byR: ExpectedCurve }): void {
  const check = ({ parameters, se, sigma }: ExpectedCurve, within: number, ofErrors: number): void => {
    for (const [j, value] of parameters.entries()) near(curve.parameters[j], value, `parameter ${j}`, within)
    for (const [j, value] of se.entries()) near(errorOf(curve, j), value, `its error ${j}`, ofErrors)
    near(curve.sigma, sigma, 'sigma', within)
  }
  check(expected, 1e-12, 1e-12)
  check(expected.byR, reference.nonlinearTolerance, 1e-7)
}

/** A response that falls with the logarithm of the dose; at dose 0 it is b1. */
const falling: CurveForm = {
  at: (x, [b1 = 0, b2 = 0, b3 = 0], slopes) => {
    const grown = x === 0 ? 0 : exp(b2 + b3 * log(x))
    const share = 1 / (1 + grown)
    const along = -b1 * share * share * grown
    slopes.set([share, along, x === 0 ? 0 : along * log(x)])
    return b1 * share
  },
  steepness: (x, [b1 = 0, b2 = 0, b3 = 0]) => {
    const grown = exp(b2 + b3 * log(x))
    return (-b1 * grown * b3) / (1 + grown) / (1 + grown) / x
  }
}

describe('calibration curves', () => {
  it('load cell of Pontius: load of a deflection with its interval', () => {
    const { x, y, unit, y0, estimate, interval, t, remembered } = reference.pontius
    const curve = sound(fitPolynomial({ x: x.map((value) => value / unit), y }, 2))
    near(studentQuantile(0.975, curve.dof), t, 't')
    const got = invert(curve, { readings: [y0] })
    near(unit * got.estimate, estimate, 'load')
    near(unit * got.lower!, interval[0]!, 'lower')
    near(unit * got.upper!, interval[1]!, 'upper')
    for (const [i, value] of [got.estimate, got.lower, got.upper].entries()) asPrinted(unit * value!, remembered[i]!)
  })

  it('quadratic load cell: coefficients, errors, inverse', () => {
    const { x, y, coefficients, se, sigma, y0, estimate } = reference.loadCell
    const curve = sound(fitPolynomial({ x, y }, 2))
    for (const [j, value] of coefficients.entries()) near(curve.parameters[j], value, `${j}`)
    for (const [j, value] of se.entries()) near(errorOf(curve, j), value, `error ${j}`)
    near(curve.sigma, sigma, 'sigma')
    near(invert(curve, { readings: [y0] }).estimate, estimate, 'inverse')
  })

  it('power with scatter of one size', () => {
    const { depth, amplitude, power, logarithms } = reference.depth
    const curve = sound(fitPower({ x: depth, y: amplitude }))
    checkCurve(curve, power)
    near(curve.sigma * curve.sigma * curve.dof, power.rss, 'rss')
    expect(Math.abs(curve.parameters[1]! / logarithms.slope - 1)).toBeGreaterThan(0.02) // another answer than in logarithms
  })

  it('saturating: parameters, inverse, and a plateau that tells no depth', () => {
    const { depth, amplitude, y0, estimate, ...expected } = reference.saturating
    const curve = sound(fitSaturating({ x: depth, y: amplitude }))
    checkCurve(curve, expected)
    near(invert(curve, { readings: [y0] }).estimate, estimate, 'inverse', reference.nonlinearTolerance)
    // At 3.85 of a plateau of 5.135 the amplitude changes by 1 - 3.85/5.135 = 0.2503 of the share of depth.
    expect(invert(curve, { readings: [3.85], leastSteepness: 0.25 }).estimate).toBeGreaterThan(3.8)
    expect(code(curveInverse(curve, asked(curve, { readings: [3.85], leastSteepness: 0.26 })))).toBe('numerics/plateau')
    const { lower, upper } = invert(curve, { readings: [3.85] })
    expect(lower).toBeGreaterThan(3)
    expect(upper).toBeUndefined() // beyond the largest standard
    expect(code(curveInverse(curve, asked(curve, { readings: [4.5] })))).toBe('numerics/beyond-standards')
    expect(code(curveInverse(curve, asked(curve, { readings: [0.2] })))).toBe('numerics/beyond-standards')
  })

  it('nasturtium: dose of three readings, as printed', () => {
    const { x, y, readings, start, printed } = reference.nasturtium
    const curve = sound(fitCurve(falling, { x, y }, start))
    // The source takes the scatter of the curve (39 degrees of freedom) with the t of 41.
    const confidence = 1 - 2 * upperShare(studentUpperQuantile(0.025, printed.tDof), curve.dof)
    const got = invert(curve, { readings, confidence })
    expect(curve.dof).toBe(39)
    asPrinted(got.estimate, printed.estimate)
    asPrinted(got.lower, printed.interval[0]!)
    asPrinted(got.upper, printed.interval[1]!)
    asPrinted(got.propagated.lower, printed.propagated[0]!)
    asPrinted(got.propagated.upper, printed.propagated[1]!)
    asPrinted(got.standardError, printed.se)
    expect(invert(curve, { readings, scatter: 'pooled' }).dof).toBe(41)
  })
})

/** P(T > t), found by its quantile. */
function upperShare(t: number, dof: number): number {
  let [low, high] = [0, 0.5]
  for (let i = 0; i < 60; i++) {
    const middle = 0.5 * (low + high)
    if (studentUpperQuantile(middle, dof) > t) low = middle
    else high = middle
  }
  return low
}

describe('the inverse of a curve', () => {
  it('is that of the line where the curve is one, with readings and their mean, pooled or not', () => {
    const { x, y } = lines.standards.arsenic
    const line = sound(calibrate({ x, y }))
    const curve = sound(fitPolynomial({ x, y }, 1))
    for (const of of ['reading', 'mean'] as const)
      for (const scatter of ['line', 'pooled'] as const) {
        const change = { readings: [3.17, 3.09, 3.16], of, scatter, confidence: 0.9 }
        const expected = sound(inversePrediction(line, { ...question, ...change }))
        const got = invert(curve, change)
        if (expected.set.kind !== 'interval') throw new Error(expected.set.kind)
        near(got.estimate, expected.estimate, 'estimate')
        near(got.lower, expected.set.lower, 'lower')
        near(got.upper, expected.set.upper, 'upper')
        near(got.standardError, expected.standardError, 'error')
        expect(got.dof).toBe(expected.dof)
      }
  })

  it('has no end on a side that the standards do not reach', () => {
    const curve = sound(fitPolynomial({ x: [1, 2, 3, 4], y: [1, 2.2, 2.9, 4.1] }, 1))
    expect(invert(curve, { readings: [1.1] }).lower).toBeUndefined()
    expect(invert(curve, { readings: [4] }).upper).toBeUndefined()
  })

  it('throws for what is no question', () => {
    const curve = sound(fitPolynomial({ x: [1, 2, 3, 4], y: [1, 2.2, 2.9, 4.1] }, 1))
    expect(() => curveInverse(curve, asked(curve, { readings: [] }))).toThrow(RangeError)
    expect(() => curveInverse(curve, asked(curve, { confidence: 1 }))).toThrow(RangeError)
    expect(() => fitPolynomial({ x: [1, 2, 3], y: [1, 2, 3] }, 0)).toThrow(RangeError)
  })

  it('refuses curves that the standards do not have', () => {
    expect(code(fitPower({ x: [1, 2, 0], y: [1, 2, 3] }))).toBe('numerics/not-positive')
    expect(code(fitSaturating({ x: [1, 2, 3], y: [1, 2, -3] }))).toBe('numerics/not-positive')
    expect(code(fitSaturating({ x: [1, 2, 3, 4], y: [1, 3, 9, 27] }))).toBe('numerics/degenerate')
    expect(code(fitPower({ x: [2, 2, 2], y: [1, 2, 3] }))).toBe('numerics/degenerate')
  })
})

describe('lack of fit', () => {
  it('refuses where no standard was read twice, none is left over, or readings are all alike', () => {
    const fit = { sigma: 1, dof: 2 }
    expect(code(lackOfFit({ x: [1, 2, 3, 4], y: [1, 2, 3, 4.1] }, fit))).toBe('numerics/too-few-points')
    expect(code(lackOfFit({ x: [1, 1, 3, 3], y: [1, 2, 3, 4.1] }, fit))).toBe('numerics/too-few-points')
    expect(code(lackOfFit({ x: [1, 1, 2, 3], y: [1, 1, 3, 4] }, fit))).toBe('numerics/degenerate')
  })

  it('is large where a line is laid through a bend', () => {
    const { depth, amplitude } = reference.saturating
    const line = sound(fitLine({ x: depth, y: amplitude }))
    expect(
      sound(lackOfFit({ x: depth, y: amplitude }, { sigma: line.sigma, dof: depth.length - 2 })).chance
    ).toBeLessThan(1e-6)
    const curve = sound(fitSaturating({ x: depth, y: amplitude }))
    expect(sound(lackOfFit({ x: depth, y: amplitude }, curve)).chance).toBeGreaterThan(0.05)
  })
})

describe('values that never fall', () => {
  it('agrees with isoreg, rows of one standard taken together', () => {
    for (const { y, values } of reference.pooled) {
      const got = isotonic({ x: y.map((_, i) => i), y })
      expect([...got.means]).toEqual(y)
      for (const [i, expected] of values.entries()) near(got.values[i], expected, `${i}`)
    }
    const { depth, amplitude, isotonic: expected } = reference.saturating
    const got = isotonic({ x: depth, y: amplitude })
    expect([...got.x]).toEqual(expected.x)
    for (const [i, value] of expected.fit.entries()) near(got.values[i], value, `${i}`)
    for (const [i, value] of expected.means.entries()) near(got.means[i], value, `mean ${i}`)
    expect(() => isotonic({ x: [1], y: [1, 2] })).toThrow(RangeError)
  })

  it('never falls, keeps the weighted mean, and is nearer than any other such values', () => {
    const one = fc.record({ y: fc.integer({ min: -9, max: 9 }), weight: fc.integer({ min: 1, max: 4 }) })
    fc.assert(
      fc.property(
        fc.array(one, { minLength: 1, maxLength: 12 }),
        fc.infiniteStream(fc.double({ min: 0, max: 3, noNaN: true })),
        (rows, steps) => {
          const data = {
            x: rows.map((_, i) => i),
            y: rows.map(({ y }) => y),
            weights: rows.map(({ weight }) => weight)
          }
          const { values } = isotonic(data)
          const total = (of: ArrayLike<number>) => rows.reduce((sum, { weight }, i) => sum + weight * of[i]!, 0)
          const squares = (of: ArrayLike<number>) =>
            rows.reduce((sum, { y, weight }, i) => sum + weight * (y - of[i]!) ** 2, 0)
          expect(total(values)).toBeCloseTo(total(data.y), 9)
          for (let i = 1; i < values.length; i++) expect(values[i]).toBeGreaterThanOrEqual(values[i - 1]!)
          let at = values[0]! - 1
          const other = rows.map(() => {
            at += steps.next().value ?? 0
            return at
          })
          expect(squares(values)).toBeLessThanOrEqual(squares(other) + 1e-9)
        }
      )
    )
  })
})

describe('monotone cubic', () => {
  const { isotonic: knots, monotone } = reference.saturating
  const curve = sound(monotoneCurve({ x: knots.x, y: knots.means }))

  it('agrees with splinefun, value and slope, and comes back', () => {
    for (const { x, y, dy } of monotone) {
      const got = sound(monotoneAt(curve, x))
      near(got.y, y, `y at ${x}`)
      near(got.slope, dy, `slope at ${x}`)
      const back = sound(monotoneInverse(curve, got.y))
      expect(back.low).toBe(back.high)
      near(back.low, x, 'back', 1e-12)
    }
    for (const [i, x] of knots.x.entries()) expect(sound(monotoneAt(curve, x)).y).toBeCloseTo(knots.means[i]!, 14)
  })

  it('says from where to where it is flat', () => {
    const flat = sound(monotoneCurve({ x: [0, 1, 2, 3, 5], y: [0, 1, 1, 1, 2] }))
    expect(sound(monotoneInverse(flat, 1))).toEqual({ low: 1, high: 3 })
    expect(sound(monotoneAt(flat, 2.3))).toEqual({ y: 1, slope: 0 })
    expect(sound(monotoneInverse(flat, 0))).toEqual({ low: 0, high: 0 })
    expect(sound(monotoneInverse(flat, 2))).toEqual({ low: 5, high: 5 })
  })

  it('never falls through any knots that never fall', () => {
    const rise = fc.record({
      dx: fc.double({ min: 0.01, max: 3, noNaN: true }),
      dy: fc.oneof(fc.constant(0), fc.double({ min: 1e-9, max: 50, noNaN: true }))
    })
    fc.assert(
      fc.property(fc.array(rise, { minLength: 2, maxLength: 9 }), (rises) => {
        const [x, y] = [[0], [0]]
        for (const { dx, dy } of rises) {
          x.push(x.at(-1)! + dx)
          y.push(y.at(-1)! + dy)
        }
        const through = sound(monotoneCurve({ x, y }))
        let before = Number.NEGATIVE_INFINITY
        for (let i = 0; i <= 200; i++) {
          const now = sound(monotoneAt(through, Math.min(x.at(-1)!, (x.at(-1)! * i) / 200))).y
          expect(now).toBeGreaterThanOrEqual(before - 1e-12 * y.at(-1)!)
          before = now
        }
      })
    )
  })

  it('never falls where a flat piece takes back the slope of a neighbor that leaned on it', () => {
    const [x, y] = [
      [0, 0.01, 0.2497, 0.2597],
      [0, 0.0084, 0.0485, 0.0485]
    ]
    const through = sound(monotoneCurve({ x, y }))
    for (let at = 0.01; at < 0.2497; at += 0.001) expect(sound(monotoneAt(through, at)).slope).toBeGreaterThanOrEqual(0)
  })

  it('refuses knots that fall or are too few, and what lies beyond them', () => {
    expect(code(monotoneCurve({ x: [1], y: [1] }))).toBe('numerics/too-few-points')
    expect(code(monotoneCurve({ x: [1, 2, 3], y: [1, 3, 2] }))).toBe('numerics/not-rising')
    expect(code(monotoneCurve({ x: [1, 1, 3], y: [1, 1, 2] }))).toBe('numerics/not-rising')
    expect(code(monotoneAt(curve, 5))).toBe('numerics/beyond-standards')
    expect(code(monotoneInverse(curve, 5))).toBe('numerics/beyond-standards')
    expect(() => monotoneCurve({ x: [1], y: [1, 2] })).toThrow(RangeError)
  })
})
