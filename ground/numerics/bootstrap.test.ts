import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import * as n from './index.ts'
import reference from './reference/bootstrap.json' with { type: 'json' }
import hitMiss from './reference/hit-miss.json' with { type: 'json' }

/** Oracles: R 4.2.2 on the same draws of a portable generator (reference/bootstrap.json); rows written out by hand. */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: string): void =>
  expect(Math.abs(got / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(reference.tolerance)

const alone = (rows: number): number[] => Array.from({ length: rows }, (_, i) => i)

const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length

const deviation = (values: Float64Array): number => {
  const middle = mean(values)
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1))
}

/** a90 of a line through ln signal over ln size: the rows written out as often as they are counted. */
const signalPlace: n.CountedStatistic = (counts) => {
  const { size, signal, threshold } = reference.signal
  const taken = size.flatMap((_, i) => Array<number>(counts[i]!).fill(i))
  const [x, y] = [size, signal].map((column) => taken.map((i) => n.log(column[i]!))) as [number[], number[]]
  const line = sound(n.fitLine({ x, y }))
  const sigma = line.sigma * Math.sqrt((x.length - 2) / x.length)
  return n.exp((n.log(threshold) + n.normalQuantile(0.9) * sigma - line.intercept) / line.slope)
}

const hm2 = {
  x: hitMiss.sets.hm2.size.map(n.log),
  hits: hitMiss.sets.hm2.hits,
  trials: hitMiss.sets.hm2.hits.map(() => 1)
}
const asked = { link: 'logit', share: 0.9 } as const

describe('bounds by resampling', () => {
  const { count, seed } = reference.signal
  const flawOf = alone(reference.signal.size.length)
  const drawn = sound(n.resample(signalPlace, { flawOf, count, seed }))
  it('draws as any program can repeat them', () => {
    const stream = new n.IndexStream(seed)
    expect(reference.signal.firstDraws.map(() => stream.below(flawOf.length))).toEqual(reference.signal.firstDraws)
  })
  it('the size of a signal: shares of the resamples, mirrored, corrected', () => {
    const want = reference.signal
    near(drawn.estimate, want.estimate, 'estimate')
    near(mean(drawn.sorted), want.mean, 'mean')
    near(deviation(drawn.sorted), want.sd, 'deviation')
    near(n.percentileBound(drawn, { level: 0.95, quantile: 7 }), want.upper7, 'type 7')
    near(n.percentileBound(drawn, { level: 0.95, quantile: 6 }), want.upper6, 'type 6')
    near(n.percentileBound(drawn, { level: 0.05, quantile: 7 }), want.both7[0]!, 'lower')
    near(n.basicBound(drawn, { level: 0.95, quantile: 7 }), want.basicUpper, 'basic')
    const leftOut = sound(n.leaveOneOut(signalPlace, flawOf))
    const bound = sound(n.acceleratedBound(drawn, leftOut, { level: 0.95, quantile: 7 }))
    near(bound.bias, want.bias, 'bias')
    near(bound.acceleration, want.acceleration, 'acceleration')
    near(bound.level, want.acceleratedLevel, 'level')
    near(bound.value, want.acceleratedUpper7, 'corrected')
  })
  it('the size found by hits', () => {
    const want = reference.hits
    const place = sound(n.placeStatistic(hm2, asked))
    const { sorted, lost } = sound(n.resample(place, { flawOf: alone(hm2.x.length), ...want }))
    const sizes = sorted.map(n.exp)
    expect(lost).toBe(want.lost)
    near(mean(sizes), want.mean, 'mean')
    near(deviation(sizes), want.sd, 'deviation')
    near(n.quantileOfSorted(sizes, 0.95, 7), want.upper7, 'upper')
  })
  it('both types of quantile, and no further than the values', () => {
    const five = Float64Array.of(1, 2, 3, 4, 10)
    expect(n.quantileTypes.map((type) => n.quantileOfSorted(five, 0.3, type))).toEqual([1.7999999999999998, 2.2])
    expect(n.quantileTypes.map((type) => n.quantileOfSorted(five, 0.95, type))).toEqual([10, 8.799999999999999])
    expect(n.quantileOfSorted(five, 0.05, 6)).toBe(1)
    expect(() => n.quantileOfSorted(five, 1.1, 7)).toThrow(RangeError)
    expect(() => n.quantileOfSorted(Float64Array.of(), 0.5, 7)).toThrow(RangeError)
  })
})

describe('what is drawn', () => {
  it('is a flaw with all of its rows', () => {
    const flawOf = [0, 0, 1, 2, 2, 2]
    const seen: number[][] = []
    const watch: n.CountedStatistic = (counts) => seen.push(Array.from(counts))
    n.resample(watch, { flawOf, count: 200, seed: 7 })
    expect(seen[0]).toEqual([1, 1, 1, 1, 1, 1])
    for (const counts of seen) {
      expect(new Set(counts.slice(0, 2)).size).toBe(1)
      expect(new Set(counts.slice(3)).size).toBe(1)
      expect(counts[0]! + counts[2]! + counts[3]!).toBe(3)
    }
    seen.length = 0
    n.leaveOneOut(watch, flawOf)
    expect(seen).toEqual([
      [0, 0, 1, 1, 1, 1],
      [1, 1, 0, 1, 1, 1],
      [1, 1, 1, 0, 0, 0]
    ])
  })
  it('the place of counted rows is that of the rows written out, for every link', () => {
    const counts = hm2.x.map((_, i) => i % 4)
    const all = counts.flatMap((count, i) => Array<number>(count).fill(i))
    const written = {
      x: all.map((i) => hm2.x[i]!),
      hits: all.map((i) => hm2.hits[i]!),
      trials: all.map(() => 1)
    }
    for (const link of n.links) {
      const fit = sound(n.fitBinary(sound(n.tallyOf(written)), { link, estimate: 'likelihood' }))
      const place = sound(n.placeStatistic(hm2, { link, share: 0.9 }))
      near(sound(place(Float64Array.from(counts))), n.curvePlace(fit, n.linkPlace(link, 0.9)), link)
    }
  })
  it('the stream is the remainder by 2^31 - 1, exactly', () => {
    const stream = new n.IndexStream(1)
    let state = 1n
    for (let i = 0; i < 10_000; i++) {
      state = (16807n * state) % 2147483647n
      expect(stream.below(1e9)).toBe(Math.floor((Number(state) / 2147483647) * 1e9))
    }
    // the check value that is printed with the generator
    expect(state).toBe(1043618065n)
  })
})

describe('no bound', () => {
  const few = { x: [1, 2, 3, 4, 5, 6], hits: [0, 0, 1, 0, 1, 1], trials: [1, 1, 1, 1, 1, 1] }
  it('where many resamples have no rising curve', () => {
    const place = sound(n.placeStatistic(few, asked))
    expect(code(place(Float64Array.of(1, 1, 1, 0, 1, 1)))).toBe('numerics/separated')
    expect(code(place(Float64Array.of(0, 0, 3, 3, 0, 0)))).toBe('numerics/separated')
    expect(code(place(Float64Array.of(3, 3, 0, 0, 0, 0)))).toBe('numerics/one-outcome')
    expect(code(place(Float64Array.of(1, 0, 3, 3, 1, 0)))).toBe('answered')
    expect(code(place(Float64Array.of(0, 1, 5, 5, 0, 0)))).toBe('numerics/not-rising')
    const refused = n.resample(place, { flawOf: alone(6), count: 500, seed: 3 })
    expect(code(refused)).toBe('numerics/resamples-lost')
  })
  it('1 % lost is still an answer, and counted', () => {
    const lostNow = (every: number): n.CountedStatistic => {
      let calls = 0
      return () => (calls++ % every === 1 ? (n.tallyOf({ x: [], hits: [], trials: [] }) as never) : calls)
    }
    const flawOf = alone(5)
    expect(sound(n.resample(lostNow(100), { flawOf, count: 1000, seed: 1 })).lost).toBe(10)
    expect(code(n.resample(lostNow(99), { flawOf, count: 1000, seed: 1 }))).toBe('numerics/resamples-lost')
  })
  it('where no correction is possible', () => {
    const at = { level: 0.95, quantile: 7 } as const
    const drawn = { estimate: 1, sorted: Float64Array.of(2, 3, 4), lost: 0 }
    const leftOut = Float64Array.of(1, 2, 4)
    expect(code(n.acceleratedBound(drawn, leftOut, at))).toBe('numerics/degenerate')
    expect(code(n.acceleratedBound({ ...drawn, estimate: 5 }, leftOut, at))).toBe('numerics/degenerate')
    expect(code(n.acceleratedBound({ ...drawn, estimate: 2.5 }, Float64Array.of(1, 1, 1), at))).toBe(
      'numerics/degenerate'
    )
    expect(code(n.acceleratedBound({ ...drawn, estimate: 2.5 }, leftOut, at))).toBe('answered')
  })
  it('for draws that are none', () => {
    const one: n.CountedStatistic = () => 1
    for (const seed of [0, 1.5, 2147483647, Number.NaN]) expect(() => new n.IndexStream(seed)).toThrow(RangeError)
    for (const [flawOf, count] of [
      [[], 10],
      [[0, 1], 0],
      [alone(1000), 3e6]
    ] as const)
      expect(() => n.resample(one, { flawOf, count, seed: 1 })).toThrow(RangeError)
  })
})
