import { exp, log, type Random } from '@trueloop/ground/numerics'

/** Draws from a stream. Ranges are half open: from, to. */

export type Range = readonly [from: number, to: number]

export const within = (random: Random, [from, to]: Range): number => from + (to - from) * random.uniform()

/** Even on a logarithmic scale. */
export const byFactor = (random: Random, [from, to]: Range): number => exp(within(random, [log(from), log(to)]))

export const oneOf = <T>(random: Random, all: readonly T[]): T => all[random.below(all.length)] as T

export const happens = (random: Random, probability: number): boolean => random.uniform() < probability

/** A factor whose logarithm is normal with this standard deviation. */
export const logNormal = (random: Random, deviation: number): number => exp(deviation * random.normal())

/** To the nearest multiple of a step that is a whole number or one over one. */
export const rounded = (value: number, step: number): number =>
  step >= 1 ? Math.round(value / step) * step : Math.round(value / step) / Math.round(1 / step)

/** `count` turns evenly around from a drawn start, each moved by up to `jitter` of a slot, in a drawn order. */
export function slots(random: Random, count: number, jitter: number): readonly number[] {
  const start = random.uniform()
  const turns = Array.from({ length: count }, (_, k) => {
    const turn = start + (k + jitter * (random.uniform() - 0.5)) / count
    return turn - Math.floor(turn)
  })
  return shuffled(random, turns)
}

/** Every order alike: each value is exchanged with one that is not yet placed. */
export function shuffled<T>(random: Random, values: readonly T[]): readonly T[] {
  const all = [...values]
  for (let k = all.length - 1; k > 0; k--) {
    const other = random.below(k + 1)
    const kept = all[k] as T
    all[k] = all[other] as T
    all[other] = kept
  }
  return all
}
