import {
  acceleratedBound,
  type BinaryRows,
  chiSquareQuantile,
  curvePlace,
  exp,
  fitBinary,
  leaveOneOut,
  likelihoodPlace,
  linkPlace,
  log,
  placeStatistic,
  resample,
  tallyOf
} from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { middle, timed } from './points-times.ts'

/**
 * `hits.entry REPEATS`: one JSON line with the bound by the likelihood of 100 000 rows and the corrected bound of 2 000
 * resamples of 100 flaws, and processor times of the first pass and the middle of the repeats: from columns of sizes and
 * hits to the bounds.
 */
interface Rows {
  readonly size: Float64Array
  readonly hits: Float64Array
}

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}

/** Rows of the portable generator s <- 16807 s mod 2^31 - 1, the same on both sides. */
function rowsOf(count: number, seed: number): Rows {
  let state = seed
  const uniform = (): number => {
    state = (16807 * state) % 2147483647
    return state / 2147483647
  }
  const [size, hits] = [new Float64Array(count), new Float64Array(count)]
  for (let i = 0; i < count; i++) {
    size[i] = 0.1 + 4.9 * uniform()
    hits[i] = uniform() < 1 / (1 + exp(0.3 - 2.8 * log(size[i]!))) ? 1 : 0
  }
  return { size, hits }
}

const binary = ({ size, hits }: Rows): BinaryRows => ({
  x: size.map(log),
  hits,
  trials: new Float64Array(size.length).fill(1)
})

function bound(rows: Rows): readonly number[] {
  const fit = must(fitBinary(must(tallyOf(binary(rows))), { link: 'logit', estimate: 'likelihood' }))
  const criterion = chiSquareQuantile({ tail: 'lower', share: 0.9 }, 1)
  const place = curvePlace(fit, linkPlace('logit', 0.9))
  return [exp(place), exp(must(likelihoodPlace(fit, { share: 0.9, side: 'upper', criterion })))]
}

function resampled(rows: Rows): readonly number[] {
  const statistic = must(placeStatistic(binary(rows), { link: 'logit', share: 0.9 }))
  const flawOf = rows.size.map((_, i) => i)
  const drawn = must(resample(statistic, { flawOf, count: 2000, seed: 4242 }))
  const leftOut = must(leaveOneOut(statistic, flawOf))
  const { value, bias, acceleration } = must(acceleratedBound(drawn, leftOut, { level: 0.95, quantile: 7 }))
  return [exp(drawn.estimate), exp(value), bias, acceleration]
}

const repeats = Number(process.argv[2])
const [many, few] = [rowsOf(100_000, 20240607), rowsOf(100, 20240608)]
const total = ({ hits }: Rows): number => hits.reduce((sum, hit) => sum + hit, 0)
const first = { bound: timed(() => bound(many)), resampled: timed(() => resampled(few)) }
console.log(
  JSON.stringify({
    answer: [total(many), total(few), ...first.bound.value, ...first.resampled.value],
    bound_s: first.bound.seconds,
    resamples_s: first.resampled.seconds,
    warmBound_s: middle(() => bound(many), repeats),
    warmResamples_s: middle(() => resampled(few), repeats)
  })
)
