import { isRefusal, type Result } from '../../refusal/index.ts'
import { fitBinary, standardized, topOf } from '../binary/fit.ts'
import { type Link, linkPlace } from '../binary/links.ts'
import { type BinaryRows, indexIn, type Tally, tallyOf } from '../binary/tally.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { isMixed, nearBest, type Packed, pack } from './near.kernel.ts'
import type { CountedStatistic } from './resamples.ts'

/** A step below it is the last one, and leaves its square. */
const WITHIN = 1e-6

/**
 * The place x at which the curve by maximum likelihood reaches a share, of rows with counts: each fit starts from that of
 * all rows. The statistic refuses: numerics/one-outcome, numerics/degenerate, numerics/separated (as `fitBinary`, which
 * this does too, at once), numerics/not-rising (a curve that falls has such a place, too, which means nothing),
 * numerics/not-converged.
 */
export function placeStatistic(
  rows: BinaryRows,
  { link, share }: { readonly link: Link; readonly share: number }
): Result<CountedStatistic, NumericsCode> {
  const whole = tallyOf(rows)
  if (isRefusal(whole)) return whole
  const fit = fitBinary(whole, { link, estimate: 'likelihood' })
  if (isRefusal(fit)) return fit
  const [b0, b1] = standardized(fit).b
  const { mean, scale } = whole
  const eta = linkPlace(link, share)
  const packed = packing(whole, rows)
  return (counts) => {
    const some = packed(counts)
    const near = link === 'logit' && isMixed(some) ? nearBest(some, { b0, b1, within: WITHIN }) : undefined
    const best = near ?? searched(whole, some, { link, start: Float64Array.of(b0, b1) })
    if (isRefusal(best)) return best
    return best.b1 > 0 ? mean + scale * ((eta - best.b0) / best.b1) : falling(best.b1 / scale)
  }
}

/** Rows with counts by their places. They lie in columns that the next call fills again. */
function packing(whole: Tally, { x, hits, trials }: BinaryRows): (counts: Float64Array) => Packed {
  const places = whole.x.length
  const column = (): Float64Array => new Float64Array(places)
  const placeOf = Int32Array.from(x, (value) => indexIn(whole.x, value))
  const sums = { hits: column(), trials: column() }
  const out: Packed = { z: column(), hits: column(), trials: column(), length: 0 }
  return (counts) => {
    sums.hits.fill(0)
    sums.trials.fill(0)
    for (let i = 0; i < placeOf.length; i++) {
      const [at, count] = [placeOf[i]!, counts[i]!]
      sums.hits[at]! += count * hits[i]!
      sums.trials[at]! += count * trials[i]!
    }
    pack(whole.z, sums.hits, sums.trials, out)
    return out
  }
}

/** With all care, and the refusals of `fitBinary`. */
function searched(
  { mean, scale }: Tally,
  { z, hits, trials, length }: Packed,
  { link, start }: { readonly link: Link; readonly start: Float64Array }
): Result<{ readonly b0: number; readonly b1: number }, NumericsCode> {
  const front = (column: Float64Array): Float64Array => column.slice(0, length)
  const [own, ofHits, ofTrials] = [front(z), front(hits), front(trials)]
  const top = topOf(
    {
      ...{
        x: own.map((at) => mean + scale * at),
        z: own,
        hits: ofHits,
        misses: ofTrials.map((n, i) => n - ofHits[i]!)
      },
      ...{ trials: ofTrials.reduce((a, b) => a + b, 0), hitCount: ofHits.reduce((a, b) => a + b, 0), mean, scale }
    },
    { link, estimate: 'likelihood', start, within: WITHIN }
  )
  return isRefusal(top) ? top : { b0: top.place[0]!, b1: top.place[1]! }
}

const falling = (slope: number): Result<never, NumericsCode> =>
  refuse('numerics/not-rising', {
    found: `a slope of ${slope}`,
    needed: 'a chance of a hit that rises with x',
    remedy: 'check the order of the columns, the units and how hits are coded'
  })
