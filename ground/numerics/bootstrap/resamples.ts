import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { IndexStream, STREAM_PERIOD } from './stream.ts'

/** A figure of the rows with how often each is taken. The counts are only lent. */
export type CountedStatistic = (counts: Float64Array) => Result<number, NumericsCode>

export interface Resampling {
  /** the flaw of each row, 0 … flaws - 1: all rows of one flaw are taken together, as often as it is drawn */
  readonly flawOf: ArrayLike<number>
  readonly count: number
  readonly seed: number
}

export interface Resamples {
  /** of the rows as they are */
  readonly estimate: number
  /** of the resamples that have one, rising */
  readonly sorted: Float64Array
  /** resamples without one: hits and misses apart, or a curve that falls */
  readonly lost: number
}

/** Of all resamples, without one: beyond it their shares say little. common practice, no source */
const MOST_LOST = 0.01

const flawsIn = (flawOf: ArrayLike<number>): number => {
  let flaws = 0
  for (let i = 0; i < flawOf.length; i++) flaws = Math.max(flaws, flawOf[i]! + 1)
  return flaws
}

/**
 * The statistic of `count` resamples, each of as many flaws as there are, drawn with repeats by an `IndexStream`, one
 * resample after the other. Refuses: numerics/resamples-lost where more than 1 % have no statistic, and as the statistic
 * of the rows themselves. Throws RangeError for no flaw, no resample, or more draws than the stream has.
 * source: efron-tibshirani-1993, 6.2
 */
export function resample(
  statistic: CountedStatistic,
  { flawOf, count, seed }: Resampling
): Result<Resamples, NumericsCode> {
  const flaws = flawsIn(flawOf)
  checkDraws(flaws, count)
  const estimate = statistic(new Float64Array(flawOf.length).fill(1))
  if (isRefusal(estimate)) return estimate
  const stream = new IndexStream(seed)
  const [taken, counts] = [new Float64Array(flaws), new Float64Array(flawOf.length)]
  const values = new Float64Array(count)
  let kept = 0
  for (let k = 0; k < count; k++) {
    stream.countInto(taken)
    for (let i = 0; i < counts.length; i++) counts[i] = taken[flawOf[i]!]!
    const value = statistic(counts)
    if (!isRefusal(value)) values[kept++] = value
  }
  const lost = count - kept
  return lost > MOST_LOST * count ? tooManyLost(lost, count) : { estimate, sorted: values.slice(0, kept).sort(), lost }
}

function checkDraws(flaws: number, count: number): void {
  if (!(flaws >= 1 && Number.isInteger(count) && count >= 1 && flaws * count <= STREAM_PERIOD))
    throw new RangeError(`${count} resamples of ${flaws} flaws; 1 to ${STREAM_PERIOD} draws are possible`)
}

/** The statistic with each flaw left out in turn. Refuses as the statistic does. source: efron-tibshirani-1993, 11.2 */
export function leaveOneOut(
  statistic: CountedStatistic,
  flawOf: ArrayLike<number>
): Result<Float64Array, NumericsCode> {
  const values = new Float64Array(flawsIn(flawOf))
  const counts = new Float64Array(flawOf.length)
  for (let flaw = 0; flaw < values.length; flaw++) {
    for (let i = 0; i < counts.length; i++) counts[i] = flawOf[i] === flaw ? 0 : 1
    const value = statistic(counts)
    if (isRefusal(value)) return value
    values[flaw] = value
  }
  return values
}

const tooManyLost = (lost: number, count: number): Result<never, NumericsCode> =>
  refuse('numerics/resamples-lost', {
    found: `${lost} of ${count} resamples without a curve that rises`,
    needed: `${100 * MOST_LOST} % of them or fewer`,
    remedy: 'take a bound that needs no resamples; more trials where hits and misses mix would help'
  })
