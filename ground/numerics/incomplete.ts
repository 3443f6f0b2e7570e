import { exp, expm1, log } from './elementary.ts'
import { logGammaAboveOne } from './gamma.ts'
import { betaFraction, gammaFraction, gammaSeries } from './incomplete.kernel.ts'
import { binomialMass, poissonMass } from './mass.ts'
import { rootOnPositive, type ShareAt } from './share-root.ts'

/** Both shares of a unit of probability, each with its own digits, and the derivative of the lower one. */
export interface Shares {
  readonly lower: number
  readonly upper: number
  /** d lower / d log x for the gamma law, d lower / d log odds for the beta law */
  readonly slope: number
}

/** One share of the two, the other being the rest. */
export type Tail = 'lower' | 'upper'

export interface TailShare {
  readonly tail: Tail
  readonly share: number
}

/** Shapes of the beta law. */
export interface BetaShape {
  readonly a: number
  readonly b: number
}

const LARGEST_SHAPE = 1e10

/** Throws RangeError unless 0 < value <= 1e10. */
export function checkShape(name: string, value: number): void {
  if (!(value > 0 && value <= LARGEST_SHAPE))
    throw new RangeError(`${name} is a number above 0 and up to ${LARGEST_SHAPE}, not ${value}`)
}

/** Throws RangeError unless 0 <= share <= 1. */
export function checkShare(share: number): void {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`a share lies between 0 and 1, not at ${share}`)
}

/**
 * Regularized incomplete gamma functions P(a, x) = lower and Q(a, x) = upper for x >= 0, 0 < a <= 1e10 (RangeError
 * outside). Relative error below 1e-12 up to a = 1e6. source: abramowitz-stegun-1964, 6.5.29, 6.5.31; loader-2000, 4
 */
export function gammaShares(a: number, x: number): Shares {
  checkShape('the shape of a gamma law', a)
  if (Number.isNaN(x) || x < 0) throw new RangeError(`an incomplete gamma function is taken at x >= 0, not at ${x}`)
  if (x === 0 || x === Number.POSITIVE_INFINITY) return { lower: x === 0 ? 0 : 1, upper: x === 0 ? 1 : 0, slope: 0 }
  const slope = a * poissonMass(a, x)
  if (a < 1 && x < 1) return smallGammaShares(a, x)
  const isLow = a >= 1 && x < a + 1
  const share = slope * (isLow ? gammaSeries(a, x) : gammaFraction(a, x))
  return isLow ? { lower: share, upper: 1 - share, slope } : { lower: 1 - share, upper: share, slope }
}

/** a, x < 1: P = x^a/gamma(1 + a) (1 - a s), so that Q is small without cancellation where a is small. */
function smallGammaShares(a: number, x: number): Shares {
  const exponent = a * log(x) - logGammaAboveOne(a)
  let term = 1
  let sum = 0
  for (let k = 1; k < 22; k++) {
    term *= -x / k
    sum -= term / (a + k)
  }
  const front = exp(exponent)
  const upper = -expm1(exponent) + front * a * sum
  return { lower: front * (1 - a * sum), upper, slope: a * front * exp(-x) }
}

/** x >= 0 at which a gamma law of shape a (and scale 1) has the share below ('lower') or above it ('upper'). */
export function gammaPlace(a: number, { tail, share }: TailShare): number {
  checkShape('the shape of a gamma law', a)
  return place({ tail, share }, a, (x) => gammaShares(a, x))
}

/**
 * Regularized incomplete beta function at x = odds/(1 + odds): lower = I_x(a, b), upper = I_(1 - x)(b, a). Odds keep
 * the digits of x and of 1 - x. Shapes in (0, 1e10] (RangeError outside). Relative error below 1e-12 for shapes from
 * 1/2 to 1e6; the larger of the two shares keeps it below 1/2 as well.
 * source: didonato-morris-1992, 4; loader-2000, 3
 */
export function betaShares({ a, b }: BetaShape, odds: number): Shares {
  checkShape('a shape of a beta law', a)
  checkShape('a shape of a beta law', b)
  if (!(odds >= 0)) throw new RangeError(`odds are 0 or more, not ${odds}`)
  const x = fromOdds(odds)
  const y = 1 / (1 + odds)
  const mass = binomialMass({ successes: a, failures: b }, { success: x, failure: y })
  const slope = (a / (a + b)) * b * mass
  if (x === 0 || y === 0) return { lower: x === 0 ? 0 : 1, upper: x === 0 ? 1 : 0, slope: 0 }
  const isLow = x * (a + b + 2) < a + 1
  const share = isLow ? slope * betaFraction(a, b, { x, y }) : slope * betaFraction(b, a, { x: y, y: x })
  return isLow ? { lower: share, upper: 1 - share, slope } : { lower: 1 - share, upper: share, slope }
}

/** odds/(1 + odds), also for infinite odds */
export const fromOdds = (odds: number): number => (odds <= 1 ? odds / (1 + odds) : 1 / (1 + 1 / odds))

/** Odds x/(1 - x) at which a beta law has the share below ('lower') or above it ('upper'). */
export function betaOdds({ a, b }: BetaShape, wanted: TailShare): number {
  checkShape('a shape of a beta law', a)
  checkShape('a shape of a beta law', b)
  return place(wanted, a / b, (odds) => betaShares({ a, b }, odds))
}

/** Seeks by the smaller of the two shares. */
function place({ tail, share }: TailShare, start: number, sharesAt: (x: number) => Shares): number {
  checkShare(share)
  if (share > 0.5) return place({ tail: tail === 'lower' ? 'upper' : 'lower', share: 1 - share }, start, sharesAt)
  if (share === 0) return tail === 'lower' ? 0 : Number.POSITIVE_INFINITY
  const at = (x: number): ShareAt => {
    const { lower, upper, slope } = sharesAt(x)
    return tail === 'lower' ? { share: lower, slope } : { share: upper, slope: -slope }
  }
  return rootOnPositive({ goal: share, start, rises: tail === 'lower', at })
}

/** Odds x/(1 - x). */
export const oddsOf = (x: number): number => (x < 1 ? x / (1 - x) : Number.POSITIVE_INFINITY)
