/**
 * How often an upper bound of a90 lies above the true a90: a logit curve of ln a (a50 0.6 mm, slope 3) and flaws even in
 * ln a from 0.2 to 4 mm, whose hits are drawn. Hits and misses that don't overlap are left out, as in the counts compared
 * with; a bound that doesn't exist holds whatever the truth is.
 */
import {
  type BinaryFit,
  chiSquareQuantile,
  crossingPlace,
  curvePlace,
  fitBinary,
  likelihoodPlace,
  linkPlace,
  log,
  normalQuantile,
  placeError,
  type Random,
  randomFrom,
  splitOf,
  type Tally,
  tallyOf
} from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import reference from '../../ground/numerics/reference/hit-miss-coverage.json' with { type: 'json' }

export const title =
  'Bounds of a90 from hits and misses: nominal 95 %, as often above the truth as counted before, within 0.005'

const A50 = 0.6
const SLOPE = 3
const WITHIN = 0.005
const z = normalQuantile(0.95)
const eta = linkPlace('logit', 0.9)
const one = chiSquareQuantile({ tail: 'lower', share: 0.9 }, 1)
const two = chiSquareQuantile({ tail: 'lower', share: 0.95 }, 2)
const truth = log(A50) + eta / SLOPE

const bounds: Readonly<Record<string, (fit: BinaryFit) => number>> = {
  propagation: (fit) => curvePlace(fit, eta) + z * placeError(fit, eta),
  likelihood: (fit) => endless(likelihoodPlace(fit, { share: 0.9, side: 'upper', criterion: one })),
  crossing: (fit) => endless(crossingPlace(fit, { eta, z, side: 'upper' })),
  'joint likelihood': (fit) => endless(likelihoodPlace(fit, { share: 0.9, side: 'upper', criterion: two }))
}

const endless = (bound: unknown): number => (typeof bound === 'number' ? bound : Number.POSITIVE_INFINITY)

function drawn(flaws: number, random: Random): Tally {
  const [low, high] = [log(0.2), log(4)]
  const x = Array.from({ length: flaws }, (_, i) => low + ((high - low) * i) / (flaws - 1))
  const hits = x.map((place) => (random.uniform() < 1 / (1 + Math.exp(-SLOPE * (place - log(A50)))) ? 1 : 0))
  const tally = tallyOf({ x, hits, trials: x.map(() => 1) })
  if (isRefusal(tally)) throw new Error(tally.code)
  return tally
}

/** Counts of one number of flaws: for each bound the share of trials in which it held. */
function counted(flaws: number, trials: number) {
  const random = randomFrom(`hit-miss coverage ${flaws}`)
  const held = Object.fromEntries(Object.keys(bounds).map((name) => [name, 0]))
  let fitted = 0
  for (let i = 0; i < trials; i++) {
    const tally = drawn(flaws, random)
    if (splitOf(tally).kind !== 'mixed') continue
    const fit = fitBinary(tally, { link: 'logit', estimate: 'likelihood' })
    if (isRefusal(fit)) throw new Error(`${fit.code}: ${fit.found}`)
    fitted++
    for (const [name, bound] of Object.entries(bounds)) if (bound(fit) >= truth) held[name]! += 1
  }
  return { fitted, shares: Object.fromEntries(Object.entries(held).map(([name, count]) => [name, count / fitted])) }
}

export async function run({
  options,
  say
}: {
  options: Readonly<Record<string, string>>
  say: (line: string) => void
}) {
  const trials = Number(options.trials ?? 100_000)
  const rows = reference.cases.map(({ flaws, shares }) => {
    const got = counted(flaws, trials)
    const away = Object.entries(shares).map(([name, share]) => Math.abs((got.shares[name] ?? Number.NaN) - share))
    say(`${flaws} flaws: ${JSON.stringify(got.shares)}`)
    return { flaws, ...got, counted_before: shares, furthest: Math.max(...away) }
  })
  return { ok: rows.every(({ furthest }) => furthest <= WITHIN), wanted: { within: WITHIN }, trials, rows }
}
