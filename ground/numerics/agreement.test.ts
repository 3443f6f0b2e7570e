import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import * as n from './index.ts'
import reference from './reference/agreement.json' with { type: 'json' }

/** Oracles: printed kappas and limits of agreement, R 4.2.2 (reference/agreement.json). */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: unknown): void =>
  expect(Math.abs(got / expected - 1), `${String(at)}: ${got} for ${expected}`).toBeLessThanOrEqual(reference.tolerance)

describe.each(reference.cohen)('two raters: $name', (one) => {
  it('kappa, its errors and interval', () => {
    const got = sound(n.cohenKappa(one.table, reference.confidence))
    expect(Math.abs(got.kappa - one.printed)).toBeLessThan(5e-5)
    near(got.observed, one.po, 'observed')
    near(got.byChance, one.pe, 'by chance')
    near(got.kappa, one.kappa, 'kappa')
    near(got.error, one.se, 'error')
    near(got.lower, one.ci95[0]!, 'lower')
    near(got.upper, one.ci95[1]!, 'upper')
    near(got.errorOfNone, one.se_under_null, 'none')
    near(got.largest, one.kappa_max, 'largest')
  })
})

describe('several raters', () => {
  it("fourteen raters, five categories: Fleiss's example", () => {
    const { fleiss } = reference
    const got = sound(n.fleissKappa(fleiss.counts))
    expect(Math.abs(got.kappa - fleiss.printed)).toBeLessThan(5e-4)
    near(got.kappa, fleiss.kappa, 'kappa')
    near(got.observed, fleiss.Pbar, 'observed')
    near(got.byChance, fleiss.Pe, 'by chance')
    near(got.errorOfNone, fleiss.se_under_null, 'error')
    for (const [j, value] of fleiss.kappa_per_category.entries()) near(got.ofCategories[j]!, value, j)
  })
  it('is not defined for one category, or for one rating', () => {
    expect(
      code(
        n.cohenKappa(
          [
            [9, 0],
            [0, 0]
          ],
          0.95
        )
      )
    ).toBe('numerics/degenerate')
    expect(
      code(
        n.fleissKappa([
          [3, 0],
          [3, 0]
        ])
      )
    ).toBe('numerics/degenerate')
    expect(
      code(
        n.fleissKappa([
          [1, 0],
          [0, 1]
        ])
      )
    ).toBe('numerics/too-few-points')
    expect(
      sound(
        n.fleissKappa([
          [2, 0, 0],
          [0, 2, 0]
        ])
      ).ofCategories[2]
    ).toBeUndefined()
    expect(() => n.cohenKappa([[1, 2]], 0.95)).toThrow(RangeError)
    expect(() =>
      n.fleissKappa([
        [1, 2],
        [1, 1]
      ])
    ).toThrow(RangeError)
  })
})

describe('paired readings', () => {
  const { paired } = reference
  const { printed } = paired
  it('peak flow of 17 subjects by two meters', () => {
    const got = sound(n.pairedDifferences(paired, { width: printed.width, confidence: 0.95 }))
    expect(got.bias.toFixed(1)).toBe(printed.bias.toFixed(1))
    expect(got.deviation.toFixed(1)).toBe(printed.deviation.toFixed(1))
    expect(Math.abs(got.limits.lower - printed.limits[0]!)).toBeLessThan(0.1) // printed from rounded values
    expect(Math.abs(got.limits.upper - printed.limits[1]!)).toBeLessThan(0.1)
    near(got.limits.lower, paired.loa_2[0]!, 'lower')
    near(got.biasInterval.lower, paired.bias_ci95[0]!, 'bias')
    near(got.correlation, paired.r, 'correlation')
    near(got.concordance, paired.ccc_lin, 'concordance')
    near(got.slope, paired.slope_diff_on_mean, 'slope')
    near(got.slopeChance, paired.slope_p, 'slope')
    near(got.limitError.simple, paired.se_loa_approx, 'error')
  })
  it('limits of another width, with the finer error', () => {
    const width = n.normalQuantile(0.975)
    const got = sound(n.pairedDifferences(paired, { width, confidence: 0.95 }))
    near(got.limitError.finer, paired.se_loa_exactish, 'error')
    const reach = n.studentQuantile(0.975, 16) * paired.se_loa_exactish
    near(got.lowerLimit.lower, got.limits.lower - reach, 'lower')
    near(got.upperLimit.upper, got.limits.upper + reach, 'upper')
    const rounded = sound(n.pairedDifferences(paired, { width: 1.96, confidence: 0.95 }))
    near(rounded.limits.upper, paired['loa_1.96'][1]!, 'upper')
  })
  it('readings taken twice', () => {
    const { first, second, firstAgain, secondAgain } = paired
    near(n.repeatSpread({ first, second: firstAgain }), paired.repeatability.wright_sd_diff, 'first')
    near(n.repeatSpread({ first: second, second: secondAgain }), paired.repeatability.mini_sd_diff, 'second')
  })
  it('refuses what are no pairs', () => {
    const asked = { width: 1.96, confidence: 0.95 }
    expect(code(n.pairedDifferences({ first: [1, 2], second: [1, 2] }, asked))).toBe('numerics/too-few-points')
    expect(code(n.pairedDifferences({ first: [1, 2, 3], second: [3, 2, 1] }, asked))).toBe('numerics/degenerate')
    expect(code(n.pairedDifferences({ first: [1, 2, Number.NaN], second: [3, 2, 1] }, asked))).toBe(
      'numerics/degenerate'
    )
    expect(() => n.pairedDifferences({ first: [1, 2, 3], second: [3, 2] }, asked)).toThrow(RangeError)
  })
})
