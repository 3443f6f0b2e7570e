import {
  type AcceleratedBound,
  acceleratedBound,
  basicBound,
  type CountedStatistic,
  leaveOneOut,
  percentileBound,
  placeStatistic,
  type Resamples,
  resample,
  STREAM_PERIOD
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import type { StudyRow } from '../rows.ts'
import { finite, notDemonstrated, type SizeBound } from './bounds.ts'
import { placeOfSize, sizeOfPlace } from './fits.ts'
import type { HitMissStudy } from './study.ts'

/** What the bound by resamples was made of. */
export interface Resampled {
  /** the share of the resamples as it is, m */
  readonly share_m: Result<number, Code>
  /** the other share mirrored at the size by the curve, m */
  readonly mirrored_m: Result<number, Code>
  readonly bias: number
  readonly acceleration: number
}

export interface ResampledBound {
  readonly bound: SizeBound
  readonly resampled?: Resampled
}

/**
 * Upper bound of the size by resampled flaws, corrected for bias and acceleration; flaws numbered in the order of their
 * rows, so that it hangs on that order as well as on the seed. Undefined where the study asks for none. In the bound:
 * prove/not-demonstrated, prove/bound-not-for-this (more draws than the stream has).
 * source: efron-tibshirani-1993, 14.3
 */
export function resampledBound(rows: readonly StudyRow[], study: HitMissStudy): ResampledBound | undefined {
  const { resamples, confidence } = study
  if (resamples === undefined) return undefined
  const criterion = { law: 'resamples', share: confidence, value: confidence, ...resamples } as const
  const none = (size_m: Refusal<Code>): ResampledBound => ({ bound: { method: 'resamples', criterion, size_m } })
  if (rows.length * resamples.count > STREAM_PERIOD) return none(tooMany(rows.length, resamples.count))
  const sizes = sizeStatistic(rows, study)
  if (isRefusal(sizes)) return none(notDemonstrated(sizes))
  const flawOf = rows.map((_, i) => i)
  const drawn = resample(sizes, { flawOf, ...resamples })
  if (isRefusal(drawn)) return none(notDemonstrated(drawn))
  const leftOut = leaveOneOut(sizes, flawOf)
  const asked = { level: confidence, quantile: resamples.quantile }
  const found = isRefusal(leftOut) ? leftOut : acceleratedBound(drawn, leftOut, asked)
  if (isRefusal(found)) return none(notDemonstrated(found))
  return {
    bound: {
      method: 'resamples',
      criterion: { ...criterion, value: found.level, lost: drawn.lost },
      size_m: finite(found.value)
    },
    resampled: detailsOf(drawn, found, asked)
  }
}

const detailsOf = (
  drawn: Resamples,
  { bias, acceleration }: AcceleratedBound,
  asked: Parameters<typeof percentileBound>[1]
): Resampled => ({
  ...{ bias, acceleration },
  share_m: finite(percentileBound(drawn, asked)),
  mirrored_m: finite(basicBound(drawn, asked))
})

/** Size in m at which the curve of counted rows reaches the share asked. */
function sizeStatistic(rows: readonly StudyRow[], { scale, link, share }: HitMissStudy): Result<CountedStatistic> {
  const columns = {
    x: rows.map(({ size_m }) => placeOfSize(scale, size_m)),
    hits: rows.map(({ hit }) => (hit ? 1 : 0)),
    trials: rows.map(() => 1)
  }
  const places = placeStatistic(columns, { link, share })
  if (isRefusal(places)) return places
  return (counts) => {
    const place = places(counts)
    return isRefusal(place) ? place : sizeOfPlace(scale, place)
  }
}

const tooMany = (flaws: number, count: number): Refusal<Code> =>
  refuse('prove/bound-not-for-this', {
    found: `${count} resamples of ${flaws} flaws`,
    needed: `${STREAM_PERIOD} draws or fewer, after which the stream repeats itself`,
    remedy: 'ask for fewer resamples; with so many flaws the bounds by the likelihood say the same'
  })
