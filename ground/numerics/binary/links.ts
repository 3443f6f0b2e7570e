import { normalQuantile } from '../distribution.ts'
import { exp, expm1, log, log1p } from '../elementary.ts'
import { logNormalCumulative, normalHazard } from '../normal-tail.ts'

/** How the chance F of a hit follows from the predictor eta. */
export const links = ['logit', 'probit', 'log-log', 'c-log-log'] as const
export type Link = (typeof links)[number]

/** The logarithm of a chance at eta with its first and second derivative. Filled in place: a term a row a step. */
export interface Term {
  log: number
  first: number
  second: number
}

type Half = (eta: number, into: Term) => void

/** Terms of ln F (hit) and ln(1 - F) (miss); both are concave in eta for all four links. */
export interface LinkLaw {
  readonly hit: Half
  readonly miss: Half
  /** eta at which F reaches a share in (0, 1) */
  readonly place: (share: number) => number
}

/** beyond it e^t is no number any more, and t/(e^t - 1) is nothing */
const LAST_EXPONENT = 709

const mirrored =
  (half: Half): Half =>
  (eta, into) => {
    half(-eta, into)
    into.first = -into.first
  }

function logistic(eta: number, into: Term): void {
  const small = exp(-Math.abs(eta))
  const rest = (eta > 0 ? small : 1) / (1 + small)
  into.log = Math.min(eta, 0) - log1p(small)
  into.first = rest
  into.second = -rest * ((eta > 0 ? 1 : small) / (1 + small))
}

function normal(eta: number, into: Term): void {
  const hazard = normalHazard(eta)
  into.log = logNormalCumulative(eta)
  into.first = hazard
  into.second = -hazard * (eta + hazard)
}

/** ln(1 - exp(-e^eta)), no loss where e^eta is small or large. */
function someOf(eta: number, into: Term): void {
  const t = exp(eta)
  const share = t === 0 ? 1 : t > LAST_EXPONENT ? 0 : t / expm1(t)
  into.log = t === 0 ? eta : t < Math.LN2 ? log(-expm1(-t)) : log1p(-exp(-t))
  into.first = share
  into.second = share === 0 ? 0 : share * (1 - t - share)
}

/** ln exp(-e^eta) */
function noneOf(eta: number, into: Term): void {
  const t = exp(eta)
  into.log = -t
  into.first = -t
  into.second = -t
}

const laws: Readonly<Record<Link, LinkLaw>> = {
  logit: { hit: logistic, miss: mirrored(logistic), place: (share) => log(share) - log1p(-share) },
  probit: { hit: normal, miss: mirrored(normal), place: normalQuantile },
  'log-log': { hit: mirrored(noneOf), miss: mirrored(someOf), place: (share) => -log(-log(share)) },
  'c-log-log': { hit: someOf, miss: noneOf, place: (share) => log(-log1p(-share)) }
}

export const lawOf = (link: Link): LinkLaw => laws[link]

/**
 * eta = g(share): ln(p/(1 - p)), the normal quantile, -ln(-ln p) or ln(-ln(1 - p)). Throws RangeError unless
 * 0 < share < 1. source: mccullagh-nelder-1989, 4.3.1
 */
export function linkPlace(link: Link, share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`a share between 0 and 1 is needed, not ${share}`)
  return laws[link].place(share)
}

/** F(eta): 1/(1 + e^-eta), the normal cumulative, exp(-e^-eta) or 1 - exp(-e^eta). source: mccullagh-nelder-1989, 4.3.1 */
export function linkShare(link: Link, eta: number): number {
  const term = { log: 0, first: 0, second: 0 }
  laws[link].hit(eta, term)
  return exp(term.log)
}
