/** Rates and gaps from time stamps. Stamps are made from known rates; the fit is compared with numpy.polyfit. */
import { describe, expect, it } from 'vitest'
import { rateOfStamps } from './rate.ts'
import { Stamps } from './stamps.ts'
import { roundest, Trend } from './trend.ts'

const stamps = (rows: number, make: (k: number) => number): Float64Array =>
  Float64Array.from({ length: rows }, (_, k) => make(k))
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals))

describe('the trend', () => {
  it('is the least-squares line of numpy.polyfit', () => {
    // numpy 1.24.2: t = [0.9, 2.1, 2.9, 4.2, 4.8, 6.1]; np.polyfit(range(1, 5), t[1:5], 1)[0] = 0.9400000000000001
    const trend = new Trend()
    for (const [k, t] of [0.9, 2.1, 2.9, 4.2, 4.8, 6.1].entries()) trend.add(k, t)
    expect(trend.line()?.step_s).toBeCloseTo(0.94, 12)
  })

  it('needs stamps that advance', () => {
    const trend = new Trend()
    for (let k = 0; k < 20; k++) trend.add(k, -k)
    expect(trend.line()).toBeUndefined()
  })

  it('rounds no further than the stamps allow', () => {
    expect([roundest(25600.00003, 1e-8), roundest(25600.00003, 1e-12)]).toEqual([25600, 25600.00003])
    expect(roundest(256.1, 0.001)).toBe(256)
  })
})

describe('the rate', () => {
  it.each([
    [25600, 8],
    [10000, 8],
    [2000, 6],
    [44100, 9],
    [1000, 4],
    [333, 6]
  ])('%d Hz from stamps with %d decimals', (rate, decimals) => {
    const found = rateOfStamps(
      stamps(20_000, (k) => rounded(k / rate, decimals)),
      undefined
    )
    expect(found?.rate.value).toBe(rate)
    expect(found?.plan.regular).toBe(true)
  })

  it.each([
    ['whole seconds', (k: number) => Math.floor(k / 256)],
    ['blocks of 32 rows', (k: number) => Math.floor(k / 32) / 8],
    ['two decimals', (k: number) => rounded(k / 256, 2)]
  ])('256 Hz from coarse stamps: %s', (_, make) => {
    const found = rateOfStamps(stamps(5000, make), undefined)
    expect(found?.plan.regular).toBe(false)
    expect(found?.warning).toContain('coarse')
    expect(Math.abs((found?.rate.value ?? 0) / 256 - 1)).toBeLessThan(0.001)
  })

  it('is not bent by gaps, nor by a clock that starts again', () => {
    const gaps = stamps(5000, (k) => rounded((k + (k > 1000 ? 500 : 0) + (k > 3000 ? 20_000 : 0)) / 2000, 6))
    expect(rateOfStamps(gaps, undefined)?.rate.value).toBe(2000)
    expect(
      rateOfStamps(
        stamps(5000, (k) => rounded((k / 2) % 60, 6)),
        60
      )?.rate.value
    ).toBe(2)
  })

  it('is none where stamps stand still or are not there', () => {
    expect(
      rateOfStamps(
        stamps(100, () => 3),
        undefined
      )
    ).toBeUndefined()
    expect(
      rateOfStamps(
        stamps(100, () => Number.NaN),
        undefined
      )
    ).toBeUndefined()
    expect(
      rateOfStamps(
        stamps(100, (k) => -k),
        undefined
      )
    ).toBeUndefined()
  })
})

describe('the clock', () => {
  const follow = (list: readonly number[], plan = { step_s: 1, regular: true }): number[] => {
    const clock = new Stamps(plan)
    let sample = 0
    return list.map((stamp) => {
      const missing = clock.next(sample, stamp)
      sample += missing + 1
      return missing
    })
  }

  it('a jump of more than 1.5 samples is a gap', () => {
    expect(follow([0, 1, 2.4, 3, 4])).toEqual([0, 0, 0, 0, 0])
    expect(follow([0, 1, 2, 4, 5])).toEqual([0, 0, 0, 1, 0])
    expect(follow([0, 1, 2, 10, 11])).toEqual([0, 0, 0, 7, 0])
  })

  it('a stamp that is doubled, or lost, is no gap', () => {
    expect(follow([0, 1, 1, 3, 4, Number.NaN, 6, 7])).toEqual(new Array(8).fill(0))
  })

  it('coarse stamps show no gaps', () => {
    expect(follow([0, 0, 0, 1, 1, 9, 9], { step_s: 0.3, regular: false })).toEqual(new Array(7).fill(0))
  })
})
