import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { chanceAbove, fitLaw, type Law, type LawFit, laws, placeAbove, placeAboveBound, rootBetween } from './index.ts'
import reference from './reference/law-fits.json' with { type: 'json' }

/** Oracle: R 4.2.2 (reference/law-fits.json). */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const names: Readonly<Record<Law, { readonly in: keyof typeof reference.loglik; readonly fit: string }>> = {
  normal: { in: 'normal', fit: 'normal' },
  'log-normal': { in: 'lognormal', fit: 'lognormal' },
  weibull: { in: 'weibull', fit: 'weibull_shape_scale' },
  gamma: { in: 'gamma', fit: 'gamma_shape_rate' },
  gumbel: { in: 'gumbel_max', fit: 'gumbel_max_loc_scale' },
  exponential: { in: 'exponential', fit: 'exponential_mean' }
}

const near = (got: number, expected: number, at: unknown, within = reference.tolerance): void =>
  expect(Math.abs(got / expected - 1), `${String(at)}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

const fitted = (law: Law): LawFit => sound(fitLaw(law, reference.values))

describe.each(laws)('readings without a flaw: %s', (law) => {
  const within = law === 'weibull' ? reference.weibull : reference.tolerance
  it('parameters, likelihood, places of its upper tail', () => {
    const fit = fitted(law)
    const want = [(reference.fits as Readonly<Record<string, number | readonly number[]>>)[names[law].fit]!].flat()
    for (const [i, value] of want.entries()) near(fit.parameters[i]!, value, `${law} ${i}`, within)
    near(fit.logLikelihood, reference.loglik[names[law].in], 'likelihood')
    near(fit.aic, reference.aic[names[law].in], 'aic')
    for (const row of reference.thresholds) {
      near(placeAbove(fit, row.pfa), row[names[law].in], row.pfa, within)
      near(chanceAbove(fit, placeAbove(fit, row.pfa)), row.pfa, row.pfa, 1e-11)
    }
  })
})

describe('a law of readings', () => {
  it('has an exact bound of a place where it is normal in some scale', () => {
    const fit = fitted('log-normal')
    for (const { pfa, threshold } of reference.upper95_confidence_on_quantile_lognormal)
      near(placeAboveBound(fit, { chance: pfa, confidence: 0.95, count: 200 }), threshold, pfa)
    expect(() => placeAboveBound(fitted('gamma'), { chance: 0.01, confidence: 0.95, count: 200 })).toThrow(RangeError)
  })
  it('moves with the unit: ten times the readings, ten times every place', () => {
    for (const law of laws) {
      const ten = sound(
        fitLaw(
          law,
          reference.values.map((value) => 10 * value)
        )
      )
      near(placeAbove(ten, 0.001), 10 * placeAbove(fitted(law), 0.001), law, 1e-10)
    }
  })
  it('is refused where there is none', () => {
    expect(code(fitLaw('normal', [1, 2]))).toBe('numerics/too-few-points')
    expect(code(fitLaw('gumbel', [2, 2, 2]))).toBe('numerics/degenerate')
    expect(code(fitLaw('gamma', [1, 2, Number.NaN]))).toBe('numerics/degenerate')
    expect(code(fitLaw('weibull', [1, 2, 0]))).toBe('numerics/not-positive')
    expect(code(fitLaw('normal', [1, 2, 0]))).toBe('answered')
    expect(() => placeAbove(fitted('normal'), 0)).toThrow(RangeError)
  })
})

describe('rootBetween', () => {
  it('finds roots whose value is known otherwise', () => {
    near(
      rootBetween((x) => x * x - 2, { low: 0, high: 2 }),
      Math.SQRT2,
      'square',
      1e-15
    )
    near(rootBetween((x) => x * x * x, { low: -1, high: 3 }) + 1, 1, 'triple', 1e-5)
    near(
      rootBetween((x) => (x < 0.3 ? -1 : 1), { low: 0, high: 1 }),
      0.3,
      'step',
      1e-14
    )
    expect(rootBetween((x) => x, { low: 0, high: 1 })).toBe(0)
    expect(() => rootBetween((x) => x + 5, { low: 0, high: 1 })).toThrow(RangeError)
  })
})
