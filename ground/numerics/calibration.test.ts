import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import {
  type Calibration,
  calibrate,
  type InversePrediction,
  type InverseQuestion,
  inversePrediction
} from './calibration/inverse.ts'
import reference from './reference/calibration.json' with { type: 'json' }

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(value.code)
  return value as Exclude<T, { refused: true }>
}

const line = (data: { x: number[]; y: number[] }): Calibration => sound(calibrate(data))

const question: InverseQuestion = {
  readings: [1],
  of: 'reading',
  scatter: 'line',
  confidence: 0.95,
  range: 'within'
}

const ask = (on: Calibration, change: Partial<InverseQuestion>): InversePrediction =>
  sound(inversePrediction(on, { ...question, ...change }))

const near = (got: number, expected: number, at: string): void =>
  expect(Math.abs(got / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(reference.tolerance)

const nearPair = (got: { lower: number; upper: number }, expected: number[], at: string): void => {
  near(got.lower, expected[0]!, at)
  near(got.upper, expected[1]!, at)
}

const intervalOf = ({ set }: InversePrediction): { lower: number; upper: number } => {
  if (set.kind !== 'interval') throw new Error(set.kind)
  return set
}

describe('inverse prediction against published examples and R', () => {
  for (const one of reference.published) {
    it(`${one.name}`, () => {
      const standards = line(reference.standards[one.standards as keyof typeof reference.standards])
      const { readings, confidence } = one
      const got = ask(standards, { readings, confidence, of: one.of as 'mean', scatter: 'pooled' })
      for (const key of ['estimate', 'sigma', 'dof', 'g', 'standardError'] as const) near(got[key], one[key], key)
      nearPair(intervalOf(got), one.interval, 'interval')
      nearPair(got.propagated, one.propagated, 'propagated')
      const { lower, upper } = intervalOf(got)
      // Printed to the last digit shown; some were rounded from rounded steps.
      for (const [i, printed] of (one.printed ?? []).entries()) {
        const unit = 10 ** -(`${printed}`.split('.')[1]?.length ?? 0)
        expect(Math.abs((i === 0 ? lower : upper) - printed)).toBeLessThanOrEqual(unit)
      }
    })
  }

  for (const one of reference.lines) {
    it(`${one.name}: scatter from the line alone`, () => {
      const standards = line(one)
      for (const key of ['intercept', 'slope', 'sigma'] as const) near(standards[key], one[key], key)
      near(standards.covariance.both, one.covariance[0]![1]!, 'covariance')
      for (const expected of one.inverse) {
        const readings = Array<number>(expected.m).fill(expected.y0)
        const got = ask(standards, { readings, range: 'any' })
        for (const key of ['estimate', 'g', 'standardError'] as const) near(got[key], expected[key], key)
        nearPair(intervalOf(got), expected.interval, 'interval')
        nearPair(got.propagated, expected.propagated, 'propagated')
        nearPair(intervalOf(ask(standards, { readings, of: 'mean', range: 'any' })), expected.curveOnly, 'of the mean')
      }
    })
  }

  it('pooled scatter differs from that of the line only where there are several readings', () => {
    const standards = line(reference.standards.arsenic)
    const one = ask(standards, { readings: [3] })
    expect(ask(standards, { readings: [3], scatter: 'pooled' })).toEqual(one)
    expect(ask(standards, { readings: [3, 3.2], scatter: 'pooled' }).dof).toBe(one.dof + 1)
  })
})

describe('a line that does not determine the value', () => {
  const { x, y, everything, rays } = reference.unbounded
  const weak = line({ x, y })
  it('leaves everything', () => {
    const got = ask(weak, { readings: [everything.y0], range: 'any' })
    expect(got.set).toEqual({ kind: 'everything' })
    for (const key of ['estimate', 'g', 'standardError'] as const) near(got[key], everything[key], key)
  })
  it('leaves two rays', () => {
    const { set, g } = ask(weak, { readings: [rays.y0], range: 'any' })
    near(g, rays.g, 'g')
    if (set.kind !== 'rays') throw new Error(set.kind)
    near(set.upTo, rays.upTo, 'up to')
    near(set.from, rays.from, 'from')
  })
})

describe('refusals and wrong programs', () => {
  const on = line({ x: [1, 2, 3, 4], y: [2, 4.1, 5.9, 8] })
  const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')
  it('refuses beyond the standards, and a line without slope', () => {
    expect(code(inversePrediction(on, { ...question, readings: [1] }))).toBe('numerics/beyond-standards')
    expect(code(inversePrediction(on, { ...question, readings: [9] }))).toBe('numerics/beyond-standards')
    expect(code(inversePrediction(on, { ...question, readings: [9], range: 'any' }))).toBe('answered')
    const level = line({ x: [1, 2, 3, 4], y: [1, 1, 1, 1] })
    expect(code(inversePrediction(level, question))).toBe('numerics/degenerate')
    expect(code(calibrate({ x: [1, 1, 1], y: [1, 2, 3] }))).toBe('numerics/degenerate')
    expect(code(calibrate({ x: [1, 2], y: [1, 2] }))).toBe('numerics/too-few-points')
  })
  it('throws without readings and for a confidence that is none', () => {
    expect(() => inversePrediction(on, { ...question, readings: [] })).toThrow(RangeError)
    for (const confidence of [0, 1, Number.NaN])
      expect(() => inversePrediction(on, { ...question, confidence })).toThrow(RangeError)
  })
})
