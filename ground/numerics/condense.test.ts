import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { condense, type Summed, summedAt } from './binary/condense.kernel.ts'
import { lawOf } from './binary/links.ts'
import { decay, logOfOneAnd } from './binary/logistic.kernel.ts'
import { placesOfSingles } from './binary/places.kernel.ts'
import { asymptoteSums, informationSums, likelihoodSums, logitSums, type Sums } from './binary/sums.kernel.ts'
import { fitBinary, likelihoodPlace, linkShare, links, randomFrom, type Tally, tallyOf } from './index.ts'

/** Oracles: the same sums row by row; Math.exp and Math.log1p of the engine; places counted in a plain map. */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

/** Sizes as a trial may have them, evenly or crowded at the small end, with hits by a logit curve. */
function rows(count: number, isCrowded: boolean): { x: number[]; hits: number[]; trials: number[] } {
  const random = randomFrom(`condense ${count} ${isCrowded}`)
  const x = Array.from({ length: count }, () => {
    const u = random.uniform()
    return isCrowded ? Math.log(0.1 + 5 * u * u * u) : 0.1 + 4.9 * u
  })
  const hits = x.map((at) => (random.uniform() < linkShare('logit', 2 * at - 1) ? 1 : 0))
  return { x, hits, trials: x.map(() => 1) }
}

const tallies = [true, false].map((isCrowded) => sound(tallyOf(rows(20_000, isCrowded))))

/** Steeper than most trials come out, as flat as none, and falling. */
const curves = [0, 0.3, 2.5, 8, -3].flatMap((b1) => [-2, 0.4, 1.5].map((b0) => [b0, b1] as const))

/** sums of 20 000 rows one after the other are no better: also where the curve is flat and nothing else can be off */
const ROUNDING = 2e-12

const near = (got: number, expected: number, size: number, within = 1e-13): void =>
  expect(Math.abs(got - expected) / size).toBeLessThanOrEqual(within)

const plain = ({ condensed: _, ...tally }: Tally): Summed => tally

describe('condensed rows', () => {
  it('are few, and hold all trials', () => {
    for (const { condensed, trials, hitCount } of tallies) {
      const total = (column: Float64Array): number => column.reduce((a, b) => a + b, 0)
      expect(condensed!.z.length).toBeLessThanOrEqual(256 * 12)
      near(total(condensed!.hits), hitCount, trials)
      near(total(condensed!.hits) + total(condensed!.misses), trials, trials)
    }
    expect(sound(tallyOf(rows(2000, true))).condensed).toBeUndefined()
  })
  it('give every sum of a curve that is flat enough, of all links', () => {
    for (const tally of tallies)
      for (const link of links)
        for (const b of [...curves, [0.4, 0.149 / tally.condensed!.reach] as const]) {
          const few = summedAt(tally, Math.abs(b[1]))
          expect(few).toBe(tally.condensed)
          const law = lawOf(link)
          const [got, want] = [likelihoodSums(law, few, b), likelihoodSums(law, plain(tally), b)]
          // every part of a sum has one sign but the gradient, whose parts are those of the bend at most
          const size = Math.max(Math.abs(want.value), want.h00, want.h11)
          for (const key of Object.keys(want) as (keyof Sums)[]) near(got[key], want[key], size)
          const [own, other] = [informationSums(law, few, b), informationSums(law, plain(tally), b)]
          for (const k of [0, 1, 2]) near(own.weights[k]!, other.weights[k]!, size, ROUNDING)
          for (const k of [0, 1, 2, 3]) near(own.slopes[k]!, other.slopes[k]!, 10 * size, ROUNDING)
          const between = { b0: b[0], b1: b[1], floor: 0.03, ceiling: 0.95 }
          const [level, rowLevel] = [asymptoteSums(law, few, between), asymptoteSums(law, plain(tally), between)]
          near(level.value, rowLevel.value, Math.abs(rowLevel.value), ROUNDING)
          for (const k of [0, 1, 2, 3]) near(level.gradient[k]!, rowLevel.gradient[k]!, 50 * tally.trials, ROUNDING)
        }
  })
  it('are left for the rows where a curve is steep', () => {
    const [tally] = tallies
    expect(summedAt(tally!, 0.15 / tally!.condensed!.reach + 1e-9)).toBe(tally)
  })
  it('give the fit and the bound of the rows', () => {
    for (const tally of tallies)
      for (const link of links) {
        const whole = sound(fitBinary(plain(tally) as Tally, { link, estimate: 'likelihood' }))
        const few = sound(fitBinary(tally, { link, estimate: 'likelihood' }))
        near(few.intercept, whole.intercept, 1)
        near(few.slope, whole.slope, 1)
        near(few.logLikelihood / whole.logLikelihood, 1, 1)
        const asked = { share: 0.9, side: 'upper', criterion: 2.7055434540954 } as const
        expect(sound(likelihoodPlace(few, asked)) - sound(likelihoodPlace(whole, asked))).toBeLessThan(1e-11)
      }
  })
  it('keep the rows of a cell that has few', () => {
    const z = Float64Array.from({ length: 7000 }, (_, i) => (i < 6990 ? i / 1e6 : i))
    const ones = z.map(() => 1)
    const { z: kept, reach } = condense({ z, hits: ones, misses: ones })!
    expect(Array.from(kept.slice(-10))).toEqual(Array.from(z.slice(-10)))
    expect(reach).toBe(z.at(-1)! / 512)
  })
})

describe('what is quick in sums', () => {
  it('logit sums are those by the general law, with any counts', () => {
    const z = Float64Array.from({ length: 300 }, (_, i) => (i - 150) / 40)
    const [hits, misses] = [z.map((_, i) => i % 4), z.map((_, i) => (i * i) % 3)]
    for (const b of curves) {
      const [got, want] = [logitSums({ z, hits, misses }, b), likelihoodSums(lawOf('logit'), { z, hits, misses }, b)]
      for (const key of Object.keys(want) as (keyof Sums)[]) near(got[key], want[key], Math.abs(want.value))
    }
  })
  it('e^-t and ln(1 + s)', () => {
    for (let i = 0; i <= 20_000; i++) {
      const [t, s] = [i * 0.0023, i / 20_000]
      near(decay(t) / Math.exp(-t), 1, 0.05)
      near(logOfOneAnd(s), Math.log1p(s), 0.05)
    }
    expect([decay(0), decay(800)]).toEqual([1, 0])
    expect(decay(Number.NaN)).toBeNaN()
  })
  it('single outcomes are counted at their places, crowded, tied or alone', () => {
    const random = randomFrom('places')
    const kinds = [() => random.uniform(), () => random.below(5), () => 1 / (1e-9 + random.uniform()), () => 7]
    for (const kind of kinds)
      for (const count of [1, 2, 30, 3000]) {
        const x = Array.from({ length: count }, kind)
        const hits = x.map(() => random.below(2))
        const places = [...new Set(x)].sort((a, b) => a - b)
        const counted = (hit: number) =>
          places.map((at) => x.filter((value, i) => value === at && hits[i] === hit).length)
        const got = placesOfSingles({ x, hits })
        expect(Array.from(got.x)).toEqual(places)
        expect(Array.from(got.hits)).toEqual(counted(1))
        expect(Array.from(got.misses)).toEqual(counted(0))
      }
  })
})
