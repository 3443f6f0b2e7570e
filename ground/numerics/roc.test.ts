import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import reference from './reference/roc.json' with { type: 'json' }
import { binormal, binormalHits, operatingPoints, rocArea, type TwoSamples, youdenThreshold } from './roc.ts'
import { type SignalToNoise, signalToNoise } from './signal-to-noise.ts'

/** Oracle: R 4.2.2 and its package pROC (reference/roc.json); the count of all pairs; exact cases. */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number | undefined, expected: number, at: string): void =>
  expect(
    expected === 0 ? Math.abs(got!) : Math.abs(got! / expected - 1),
    `${at}: ${got} for ${expected}`
  ).toBeLessThanOrEqual(reference.tolerance)

const { flawed, blank } = reference
const samples: TwoSamples = { flawed, blank }

describe('hits over false calls', () => {
  it('area, its error and intervals', () => {
    const got = sound(rocArea(samples, 0.95))
    const { interval, logit, pROC, ...figures } = reference.area
    for (const key of ['area', 'pairs', 'standardError', 'hanleyMcNeil'] as const) near(got[key], figures[key], key)
    near(got.standardError * got.standardError, pROC.var, 'variance of pROC')
    near(got.interval.lower, interval[0]!, 'lower')
    near(got.interval.upper, interval[1]!, 'upper')
    near(got.logitInterval?.lower, logit[0]!, 'lower by log odds')
    near(got.logitInterval?.upper, logit[1]!, 'upper by log odds')
  })

  it('each threshold with what it finds and what it calls wrongly', () => {
    const got = sound(
      operatingPoints(
        samples,
        reference.points.map(({ threshold }) => threshold),
        0.95
      )
    )
    for (const [i, expected] of reference.points.entries())
      for (const [key, value] of Object.entries(expected)) near(got[i]![key as keyof typeof expected], value, key)
    const best = sound(youdenThreshold(samples))
    near(best.threshold, reference.youden.threshold, 'threshold')
    near(best.gained, reference.youden.J, 'gained')
    near(sound(operatingPoints(samples, [best.threshold], 0.95))[0]?.gained, best.gained, 'the same by counting')
  })

  it('two normal laws of the logarithms', () => {
    const got = sound(binormal({ flawed: flawed.map(Math.log), blank: blank.map(Math.log) }))
    for (const key of ['a', 'b'] as const) near(got[key], reference.binormal[key], key)
    near(got.area, reference.binormal.auc, 'area')
    near(binormalHits(got, 0.01), reference.binormal.tpr_at_fpr_01, 'hits at one false call in a hundred')
  })

  it('is the count of all pairs, ties one half, whatever rising scale the signals are on', () => {
    const column = fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 2, maxLength: 15 })
    fc.assert(
      fc.property(column, column, (one, other) => {
        const got = sound(rocArea({ flawed: one, blank: other }, 0.9))
        const pairs = one.flatMap((a) => other.map((b) => (a > b ? 1 : a === b ? 0.5 : 0)))
        expect(got.pairs).toBeCloseTo(
          pairs.reduce<number>((sum, pair) => sum + pair, 0),
          10
        )
        const cubed = { flawed: one.map((a) => a ** 3 - 5), blank: other.map((b) => b ** 3 - 5) }
        expect(sound(rocArea(cubed, 0.9))).toEqual(got)
        expect(sound(rocArea({ flawed: other, blank: one }, 0.9)).area).toBeCloseTo(1 - got.area, 12)
      })
    )
  })

  it('samples that do not overlap have no interval by log odds, and none is made up', () => {
    const got = sound(rocArea({ flawed: [3, 4, 5], blank: [1, 2] }, 0.95))
    expect([got.area, got.standardError, got.logitInterval]).toEqual([1, 0, undefined])
    expect(sound(youdenThreshold({ flawed: [3, 4, 5], blank: [1, 2] }))).toEqual({ threshold: 3, gained: 1 })
  })

  it('refuses too few places and signals that are none', () => {
    const bad: TwoSamples = { flawed: [1, Number.NaN], blank: [1, 2] }
    for (const ask of [
      (of: TwoSamples) => rocArea(of, 0.95),
      (of: TwoSamples) => operatingPoints(of, [1], 0.95),
      youdenThreshold,
      binormal
    ]) {
      expect(code(ask({ flawed: [1], blank: [1, 2] }))).toBe('numerics/too-few-points')
      expect(code(ask(bad))).toBe('numerics/degenerate')
    }
    expect(code(binormal({ flawed: [1, 1], blank: [1, 2] }))).toBe('numerics/degenerate')
    expect(() => rocArea(samples, 1)).toThrow(RangeError)
  })
})

/** A slow wave with a bump in the middle and noise, as the reference describes it. */
function drawnStretch(): number[] {
  let state = reference.stretch.seed
  const uniform = (): number => {
    state = (16807 * state) % 2147483647
    return state / 2147483647
  }
  return Array.from({ length: 200 }, (_, i) => {
    const radius = Math.sqrt(-2 * Math.log(uniform()))
    const noise = reference.stretch.deviation * radius * Math.cos(2 * Math.PI * uniform())
    const bump = Math.abs(i - 100) < 6 ? 0.4 * Math.cos((Math.PI * (i - 100)) / 12) : 0
    return 0.02 * Math.sin((2 * Math.PI * i) / 50) + bump + noise
  })
}

describe('signal to noise', () => {
  const signal = { from: 80, to: 121 }
  const got = (): SignalToNoise => sound(signalToNoise({ values: drawnStretch(), signal }))

  it('by each definition', () => {
    const { noise, ...ratios } = got()
    const { stretch } = reference
    near(ratios.peak, stretch.peak, 'peak')
    near(noise.rms, stretch.rms, 'rms')
    near(noise.deviation, stretch.sd, 'deviation')
    near(noise.peakToPeak, stretch.peakToPeak, 'peak to peak')
    // R rounds the factor of the median absolute deviation to five digits.
    near(noise.robust.deviation * stretch.madFactor, stretch.mad, 'robust')
    near(ratios.peakOverRms, stretch.overRms, 'over rms')
    near(ratios.peakOverRms_dB, stretch.dB, 'dB')
    near(ratios.peakOverPeakToPeak, stretch.overPeakToPeak, 'over peak to peak')
    near(ratios.peakOverRobust, ratios.peak / noise.robust.sigma, 'over robust')
  })

  it('does not grow with a signal that is left in its noise', () => {
    const values = drawnStretch()
    const without = got().peakOverRms
    expect(sound(signalToNoise({ values, signal: { from: 99, to: 102 } })).peakOverRms).toBeLessThan(without)
  })

  it('refuses where there is no signal, no noise or a gap', () => {
    const of = (values: number[], from = 1, to = 2): string => code(signalToNoise({ values, signal: { from, to } }))
    expect(of([0, 1, 2], 1, 1)).toBe('numerics/too-few-points')
    expect(of([0, 1])).toBe('numerics/too-few-points')
    expect(of([0, 5, 0, 0])).toBe('numerics/degenerate')
    expect(of([0, 5, 1, Number.NaN])).toBe('numerics/degenerate')
    expect(of([1, -5, 2, 3])).toBe('numerics/not-positive')
  })
})
