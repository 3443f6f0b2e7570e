import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { leastSquares, type Regression, type RegressionFit } from './least-squares.ts'
import { fitLine } from './line.ts'
import reference from './reference/regression.json' with { type: 'json' }

type Case = (typeof reference.cases)[number]

const fitted = (data: Regression): RegressionFit => {
  const fit = leastSquares(data)
  if (isRefusal(fit)) throw new Error(fit.code)
  return fit
}

const code = (data: Regression): string => {
  const fit = leastSquares(data)
  return isRefusal(fit) ? fit.code : 'answered'
}

const columnsOf = (one: Case): number[][] => {
  const { degree, x, y } = one
  if ('constant' in one && !one.constant) return x
  const ones = y.map(() => 1)
  if (degree === null) return [ones, ...x]
  const columns = [ones]
  for (let k = 0; k < degree; k++) columns.push(columns[k]!.map((value, i) => value * x[0]![i]!))
  return columns
}

const digits = (got: number, expected: number): number =>
  got === expected ? 16 : -Math.log10(Math.abs(got - expected) / Math.abs(expected || 1))

/** Digits reached, [coefficients, standard deviations]; the powers of Filip are rounded, which costs 8 digits. */
const least: Readonly<Record<string, readonly [number, number]>> = {
  Filip: [7, 7],
  Longley: [13, 13],
  NoInt1: [14, 14],
  NoInt2: [14, 14],
  Norris: [13, 13],
  Pontius: [13, 13],
  Wampler1: [15, 0],
  Wampler2: [12, 0]
}

describe('least squares against certified values and exact rationals', () => {
  for (const one of reference.cases) {
    it(`${one.name}`, () => {
      const { coefficients, covariance, sigma, dof } = fitted({ columns: columnsOf(one), y: one.y })
      const [ofBeta, ofError] = least[one.name] ?? [12, 12]
      const n = coefficients.length
      expect(dof).toBe(one.y.length - n)
      const beta = one.beta.map((expected, j) => digits(coefficients[j]!, expected))
      const errors = one.se.map((expected, j) => digits(Math.sqrt(covariance.values[j * n + j]!), expected))
      expect(Math.min(...beta)).toBeGreaterThanOrEqual(ofBeta)
      if (one.s > 0) expect(Math.min(...errors)).toBeGreaterThanOrEqual(ofError)
      if (one.s > 0) expect(digits(sigma, one.s)).toBeGreaterThanOrEqual(ofError)
      else expect(sigma).toBeLessThan(1e-12)
    })
  }
})

/** The plain way for well-conditioned data: normal equations by elimination. */
function plain({ columns, y, weights }: Regression): number[] {
  const w = (i: number): number => weights?.[i] ?? 1
  const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
    Array.from(a).reduce((sum, value, i) => sum + w(i) * value * b[i]!, 0)
  const rows = columns.map((one) => [...columns.map((other) => dot(one, other)), dot(one, y)])
  for (const [k, row] of rows.entries())
    for (const [i, other] of rows.entries()) {
      if (i === k) continue
      const factor = other[k]! / row[k]!
      for (let j = 0; j < other.length; j++) other[j]! -= factor * row[j]!
    }
  return rows.map((row, k) => row.at(-1)! / row[k]!)
}

describe('least squares', () => {
  const ones = [1, 1, 1, 1, 1, 1]
  const x = [0, 1, 2, 3, 4, 5.5]
  const z = [2, -1, 0.5, 4, -3, 1]
  const y = [1.2, 0.4, 3, 7.5, 1, 6.2]
  const weights = [1, 0.5, 2, 3, 1, 0.25]

  it('agrees with elimination in the normal equations, weighted or not', () => {
    for (const data of [
      { columns: [ones, x, z], y },
      { columns: [ones, x, z], y, weights }
    ])
      for (const [j, expected] of plain(data).entries()) expect(fitted(data).coefficients[j]).toBeCloseTo(expected, 12)
  })

  it('is the line fit where the columns are a constant and one more', () => {
    const { coefficients, covariance, sigma, residuals } = fitted({ columns: [ones, x], y, weights })
    const line = fitLine({ x, y, weights })
    if (isRefusal(line)) throw new Error(line.code)
    const both = [line.intercept, line.slope, line.sigma, line.covariance.intercept, line.covariance.both]
    const { values } = covariance
    for (const [k, got] of [coefficients[0]!, coefficients[1]!, sigma, values[0]!, values[1]!].entries())
      expect(got).toBeCloseTo(both[k]!, 13)
    expect(values[2]).toBeCloseTo(values[1]!, 14)
    expect(residuals[3]).toBeCloseTo(y[3]! - line.intercept - line.slope * x[3]!, 13)
  })

  it('refuses too few points, dependent columns and values that are not finite', () => {
    expect(
      code({
        columns: [
          [1, 1],
          [0, 1]
        ],
        y: [1, 2]
      })
    ).toBe('numerics/too-few-points')
    expect(code({ columns: [ones, x, x.map((v) => 3 - 2 * v)], y })).toBe('numerics/degenerate')
    expect(code({ columns: [ones, ones.map(() => 0)], y })).toBe('numerics/degenerate')
    expect(code({ columns: [ones, [...x.slice(1), Number.NaN]], y })).toBe('numerics/degenerate')
    expect(code({ columns: [ones, x], y: [...y.slice(1), Number.POSITIVE_INFINITY] })).toBe('numerics/degenerate')
  })

  it('throws for columns that do not fit and weights that are none', () => {
    expect(() => leastSquares({ columns: [ones, [1]], y })).toThrow(RangeError)
    expect(() => leastSquares({ columns: [], y })).toThrow(RangeError)
    expect(() => leastSquares({ columns: [ones], y, weights: [1] })).toThrow(RangeError)
    expect(() => leastSquares({ columns: [ones], y, weights: [0, ...weights.slice(1)] })).toThrow(RangeError)
  })
})
