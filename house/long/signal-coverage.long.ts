/**
 * How often the bounds of signal against size hold what they promise: ln y = ln 0.9 + 1.1 ln a + N(0, 0.25), sizes even in
 * ln a from 0.2 to 4, threshold 0.5, of which the place called in 90 % is known. Beside the counts stands a study of the
 * same bounds by other code (NumPy, SciPy); both must agree. The likelihood's are ours alone.
 */
import {
  calibrate,
  censoredRegression,
  chiSquare2Quantile,
  log,
  normalQuantile,
  type Random,
  randomFrom,
  reachExact,
  reachLikelihood,
  reachOf,
  reachPropagated
} from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'

export const title = 'Bounds of signal against size hold as often as another study of them found, within 0.005'

const TRIALS = 20_000
const WITHIN = 0.005
const [SHARE, CONFIDENCE] = [0.9, 0.95]
const LEVEL = log(0.5)
const [B0, B1, TAU] = [log(0.9), 1.1, 0.25]
const PLACE = (LEVEL + normalQuantile(SHARE) * TAU - B0) / B1
const Z = normalQuantile(CONFIDENCE)
/** Of 2 (l top - l): chi-square(0.90) with one degree of freedom, the square of the normal 95 % quantile. */
const CRITERION = Z * Z

type Method = 'exact' | 'propagation' | 'jointPropagation' | 'likelihood'

/** 40 000 trials each, NumPy 2 and SciPy, another generator; scatter by maximum likelihood but for the exact bound. */
const found: Readonly<Record<number, Partial<Record<Method, number>>>> = {
  15: { exact: 0.949075, propagation: 0.83705, jointPropagation: 0.93035 },
  40: { exact: 0.94805, propagation: 0.893925, jointPropagation: 0.96745 },
  80: { exact: 0.950425, propagation: 0.916825, jointPropagation: 0.9802 }
}

/** A bound that does not exist promises nothing and so holds. */
const holds = (bound: Result<number>): number => (isRefusal(bound) || bound >= PLACE ? 1 : 0)

function one(x: readonly number[], random: Random): Readonly<Record<Method, number>> {
  const y = x.map((at) => B0 + B1 * at + TAU * random.normal())
  const data = { columns: [x], y, side: x.map(() => 0) }
  const [line, fit] = [calibrate({ x, y }), censoredRegression(data)]
  if (isRefusal(line) || isRefusal(fit)) throw new Error('a trial without a line')
  const reach = reachOf(fit, LEVEL)
  if (isRefusal(reach)) throw new Error('a trial that falls')
  return {
    exact: holds(reachExact(line, { level: LEVEL, share: SHARE, confidence: CONFIDENCE })),
    propagation: holds(reachPropagated(reach, { share: SHARE, z: Z })),
    jointPropagation: holds(reachPropagated(reach, { share: SHARE, z: Math.sqrt(chiSquare2Quantile(CONFIDENCE)) })),
    likelihood: holds(reachLikelihood({ data, fit }, { level: LEVEL, share: SHARE, criterion: CRITERION }))
  }
}

function coverage(count: number): Readonly<Record<Method, number>> {
  const random = randomFrom(`coverage of signals, ${count} flaws`)
  const x = Array.from({ length: count }, (_, i) => log(0.2) + (log(20) * i) / (count - 1))
  const sums = { exact: 0, propagation: 0, jointPropagation: 0, likelihood: 0 }
  for (let trial = 0; trial < TRIALS; trial++) {
    const held = one(x, random)
    for (const method of Object.keys(sums) as Method[]) sums[method] += held[method]
  }
  const shares = Object.entries(sums).map(([method, sum]) => [method, sum / TRIALS])
  return Object.fromEntries(shares) as Record<Method, number>
}

export function run({ say }: { readonly say: (line: string) => void }): Promise<object> {
  const rows = Object.entries(found).map(([flaws, other]) => {
    const own = coverage(Number(flaws))
    const away = Math.max(...Object.entries(other).map(([method, share]) => Math.abs(own[method as Method] - share)))
    say(
      `${flaws} flaws: ${Object.entries(own)
        .map((pair) => pair.join(' '))
        .join(', ')}`
    )
    return { flaws: Number(flaws), own, other, away: Number(away.toFixed(5)) }
  })
  return Promise.resolve({ ok: rows.every(({ away }) => away <= WITHIN), within: WITHIN, trials: TRIALS, rows })
}
