import { isRefusal, type Result } from '../../refusal/index.ts'
import { fitBinary, standardized, topOf } from '../binary/fit.ts'
import { type Link, linkPlace } from '../binary/links.ts'
import { type BinaryRows, indexIn, type Tally, tallyOf } from '../binary/tally.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import type { CountedStatistic } from './resamples.ts'

/** A step below it is the last one, and leaves its square. */
const WITHIN = 1e-8

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
  const start = Float64Array.from(standardized(fit).b)
  const eta = linkPlace(link, share)
  const { mean, scale } = whole
  const tallyWith = counted(whole, rows)
  return (counts) => {
    const top = topOf(tallyWith(counts), { link, estimate: 'likelihood', start, within: WITHIN })
    if (isRefusal(top)) return top
    const [intercept, slope] = [top.place[0]!, top.place[1]!]
    return slope > 0 ? mean + scale * ((eta - intercept) / slope) : falling(slope / scale)
  }
}

/** The tally of rows with counts, in the standardized x of all rows. It lies in columns that the next call fills again. */
function counted(whole: Tally, { x, hits, trials }: BinaryRows): (counts: Float64Array) => Tally {
  const places = whole.x.length
  const placeOf = Int32Array.from(x, (value) => indexIn(whole.x, value))
  const sums = { hits: new Float64Array(places), trials: new Float64Array(places) }
  const out: Columns = {
    x: new Float64Array(places),
    z: new Float64Array(places),
    hits: new Float64Array(places),
    misses: new Float64Array(places)
  }
  return (counts) => {
    sums.hits.fill(0)
    sums.trials.fill(0)
    for (let i = 0; i < placeOf.length; i++) {
      sums.hits[placeOf[i]!]! += counts[i]! * hits[i]!
      sums.trials[placeOf[i]!]! += counts[i]! * trials[i]!
    }
    return pressed(whole, sums, out)
  }
}

type Columns = Pick<Tally, 'x' | 'z' | 'hits' | 'misses'>

/** Without the places at which nothing was tried. */
function pressed(
  { x, z, mean, scale }: Tally,
  { hits, trials }: { readonly hits: Float64Array; readonly trials: Float64Array },
  out: Columns
): Tally {
  let [kept, total, hitCount] = [0, 0, 0]
  for (let i = 0; i < x.length; i++) {
    if (trials[i] === 0) continue
    out.x[kept] = x[i]!
    out.z[kept] = z[i]!
    out.hits[kept] = hits[i]!
    out.misses[kept] = trials[i]! - hits[i]!
    kept += 1
    total += trials[i]!
    hitCount += hits[i]!
  }
  const front = (column: Float64Array): Float64Array => column.subarray(0, kept)
  return {
    ...{ x: front(out.x), z: front(out.z), hits: front(out.hits), misses: front(out.misses) },
    ...{ trials: total, hitCount, mean, scale }
  }
}

const falling = (slope: number): Result<never, NumericsCode> =>
  refuse('numerics/not-rising', {
    found: `a slope of ${slope}`,
    needed: 'a chance of a hit that rises with x',
    remedy: 'check the order of the columns, the units and how hits are coded'
  })
