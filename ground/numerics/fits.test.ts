import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { cubicBSpline, cubicBSplineSpectrum, sinc } from './bspline.ts'
import { fitLine, robustLine } from './line.ts'
import reference from './reference/estimates.json' with { type: 'json' }
import { choleskyFactor, solveSymmetric } from './solve.ts'

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(value.code)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

describe('cubic B-spline', () => {
  it('has the values of scipy.interpolate.BSpline and the spectrum of mpmath quadrature', () => {
    for (const [x, expected] of reference.spline.values) {
      expect(Math.abs(cubicBSpline(x!) - expected!)).toBeLessThanOrEqual(reference.spline.tolerance)
      expect(cubicBSpline(-x!)).toBe(cubicBSpline(x!))
    }
    for (const [f, expected] of reference.spline.spectrum) {
      expect(Math.abs(cubicBSplineSpectrum(f!) - expected!)).toBeLessThanOrEqual(reference.spline.tolerance)
    }
    expect([cubicBSpline(2), cubicBSpline(-9), sinc(3), sinc(-2), sinc(0)]).toEqual([0, 0, 0, 0, 1])
    expect(cubicBSpline(Number.NaN)).toBeNaN()
  })

  it('adds up to one wherever the knots lie', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (x) => {
        const sum = [-2, -1, 0, 1, 2].reduce((total, k) => total + cubicBSpline(x - k), 0)
        expect(Math.abs(sum - 1)).toBeLessThan(5e-16)
      })
    )
  })
})

describe('solveSymmetric', () => {
  it('agrees with scipy.linalg.solve and numpy.linalg.cholesky', () => {
    for (const { size, matrix, right, solution, factor } of reference.solve.cases) {
      const a = { size, values: Float64Array.from(matrix) }
      const x = sound(solveSymmetric(a, Float64Array.from(right)))
      const scale = Math.max(...solution.map(Math.abs))
      for (const [i, expected] of solution.entries())
        expect(Math.abs(x[i]! - expected)).toBeLessThan(reference.solve.tolerance * scale)
      for (const [i, expected] of factor.entries()) expect(sound(choleskyFactor(a))[i]).toBeCloseTo(expected, 12)
    }
  })

  it('refuses what is not positive definite', () => {
    const solve = (...values: number[]): unknown =>
      solveSymmetric({ size: 2, values: Float64Array.from(values) }, new Float64Array(2))
    expect(code(solve(1, 1, 1, 1))).toBe('numerics/not-positive-definite')
    expect(code(solve(-1, 0, 0, 1))).toBe('numerics/not-positive-definite')
    expect(code(solve(1, 0, Number.NaN, 1))).toBe('numerics/not-positive-definite')
    expect(() => solve(1, 2, 3)).toThrow(RangeError)
  })
})

describe('line fits', () => {
  it('fitLine agrees with long-double least squares and its covariance', () => {
    for (const { x, y, weights, intercept, slope, sigma, covariance } of reference.line.cases) {
      const fit = sound(fitLine(weights === undefined ? { x, y } : { x, y, weights }))
      const got = [
        fit.intercept,
        fit.slope,
        fit.sigma,
        fit.covariance.intercept,
        fit.covariance.slope,
        fit.covariance.both
      ]
      const expected = [intercept, slope, sigma, covariance.intercept, covariance.slope, covariance.both]
      for (const [i, value] of expected.entries())
        expect(Math.abs(got[i]! / value - 1), `${i}`).toBeLessThan(reference.line.tolerance)
    }
  })

  it('robustLine agrees with scipy.stats.siegelslopes, ties in x and 30 % outliers included', () => {
    for (const { x, y, repeatedMedian } of reference.line.cases) {
      const line = sound(robustLine({ x, y }))
      expect(Math.abs(line.slope / repeatedMedian.slope - 1)).toBeLessThan(reference.line.tolerance)
      expect(Math.abs(line.intercept / repeatedMedian.intercept - 1)).toBeLessThan(reference.line.tolerance)
    }
    const { x, y } = reference.line.cases.at(-1)!
    expect(Math.abs(sound(robustLine({ x, y })).slope + 0.7)).toBeLessThan(0.05) // drawn with slope -0.7
  })

  it('refuses too few points and a single x, throws for columns that differ', () => {
    for (const fit of [fitLine, robustLine]) {
      expect(code(fit({ x: [1, 2], y: [1, 2] }))).toBe('numerics/too-few-points')
      expect(code(fit({ x: [2, 2, 2], y: [1, 2, 3] }))).toBe('numerics/degenerate')
      expect(() => fit({ x: [1, 2, 3], y: [1, 2] })).toThrow(RangeError)
    }
  })
})
