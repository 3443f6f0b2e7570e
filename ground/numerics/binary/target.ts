import { log } from '../elementary.ts'
import { summedAt } from './condense.kernel.ts'
import { type Link, lawOf } from './links.ts'
import { informationSums, likelihoodSums, logitSums, type Sums } from './sums.kernel.ts'
import type { Tally } from './tally.ts'

/** What is maximized: the likelihood, or the likelihood with the penalty of Firth. */
export type Estimate = 'likelihood' | 'penalized'

/** The goal over eta = b0 + b1 z with its derivatives. */
export type Target = (b0: number, b1: number) => Sums

/** Central differences of a gradient that has about 15 digits: this step leaves 10 of the curvature. */
const STEP = 1e-5

export function targetOf(tally: Tally, link: Link, estimate: Estimate): Target {
  const law = lawOf(link)
  const likelihood: Target =
    link === 'logit'
      ? (b0, b1) => logitSums(summedAt(tally, Math.abs(b1)), [b0, b1])
      : (b0, b1) => likelihoodSums(law, summedAt(tally, Math.abs(b1)), [b0, b1])
  return estimate === 'likelihood' ? likelihood : withCurvature(penalizedGradient(tally, link, likelihood))
}

/** The first three of `Sums`. */
type Gradient = (b0: number, b1: number) => Pick<Sums, 'value' | 'u0' | 'u1'>

/**
 * l + 1/2 ln det(X'WX); the gradient of the penalty is 1/2 sum n dw/deta x^k (x' V x), k = 0, 1.
 * source: firth-1993, 3
 */
const penalizedGradient =
  (tally: Tally, link: Link, likelihood: Target): Gradient =>
  (b0, b1) => {
    const { value, u0, u1 } = likelihood(b0, b1)
    const { weights, slopes } = informationSums(lawOf(link), summedAt(tally, Math.abs(b1)), [b0, b1])
    const [w0, w1, w2] = weights as unknown as readonly [number, number, number]
    const det = w0 * w2 - w1 * w1
    const half = (k: number): number => (0.5 * (w2 * slopes[k]! - 2 * w1 * slopes[k + 1]! + w0 * slopes[k + 2]!)) / det
    return { value: value + 0.5 * log(det), u0: u0 + half(0), u1: u1 + half(1) }
  }

const withCurvature =
  (gradient: Gradient): Target =>
  (b0, b1) => {
    const here = gradient(b0, b1)
    const along0 = difference(gradient(b0 + STEP, b1), gradient(b0 - STEP, b1))
    const along1 = difference(gradient(b0, b1 + STEP), gradient(b0, b1 - STEP))
    return { ...here, h00: along0.h0, h01: 0.5 * (along0.h1 + along1.h0), h11: along1.h1 }
  }

const difference = (
  ahead: Pick<Sums, 'u0' | 'u1'>,
  behind: Pick<Sums, 'u0' | 'u1'>
): { readonly h0: number; readonly h1: number } => ({
  h0: (behind.u0 - ahead.u0) / (2 * STEP),
  h1: (behind.u1 - ahead.u1) / (2 * STEP)
})
