import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { log } from '../elementary.ts'
import type { LineFit } from '../line.ts'
import { climb, type Height, type Top } from './climb.ts'
import { summedAt } from './condense.kernel.ts'
import { type Link, lawOf, linkPlace } from './links.ts'
import { informationSums, type Sums } from './sums.kernel.ts'
import { type Gap, type Split, splitOf, type Tally } from './tally.ts'
import { type Estimate, type Target, targetOf } from './target.ts'

/** A line eta = intercept + slope x with the covariance of its coefficients. */
export type Curve = Pick<LineFit, 'intercept' | 'slope' | 'covariance'>

export interface BinaryFit extends Curve {
  readonly link: Link
  readonly estimate: Estimate
  /** of the data, without any penalty */
  readonly logLikelihood: number
  /** with the penalty 1/2 ln det of the expected information; equal to `logLikelihood` where none was asked */
  readonly goal: number
  readonly steps: number
  /** of standardized coefficients, relative to max(1, |coefficient|) */
  readonly lastStep: number
  readonly tally: Tally
}

const WITHIN = 1e-12

/**
 * Chance of a hit F(intercept + slope x) by maximum likelihood, or by Firth's penalized likelihood, which is finite on
 * separated data too and is to be labelled as such. Newton steps in standardized x; the covariance is the inverse of
 * the expected information sum n f^2/(F(1 - F)) (1 x; x x^2) at the estimate.
 * Refuses: numerics/one-outcome (all hits or all misses), numerics/degenerate (all x equal), numerics/separated
 * (likelihood, where hits and misses do not overlap: tested beforehand), numerics/not-converged.
 * source: mccullagh-nelder-1989, 2.5, 4.4; albert-anderson-1984; firth-1993, 3
 */
export function fitBinary(
  tally: Tally,
  { link, estimate }: { readonly link: Link; readonly estimate: Estimate }
): Result<BinaryFit, NumericsCode> {
  const top = topOf(tally, { link, estimate, within: WITHIN })
  if (isRefusal(top)) return top
  const { place, height, steps, lastStep } = top
  const b = [place[0]!, place[1]!] as const
  const logLikelihood = estimate === 'likelihood' ? height.value : targetOf(tally, link, 'likelihood')(...b).value
  const goal = estimate === 'likelihood' ? height.value : height.value + log(tally.scale)
  return { ...curveOf(tally, link, b), link, estimate, logLikelihood, goal, steps, lastStep, tally }
}

/** What is sought, and from which standardized coefficients on: a flat curve where none are given. */
export interface Seek {
  readonly link: Link
  readonly estimate: Estimate
  readonly start?: Float64Array
  readonly within: number
}

/** The best standardized coefficients. Refuses as `fitBinary`. */
export function topOf(tally: Tally, asked: Seek): Result<Top, NumericsCode> {
  const { link, estimate, within } = asked
  const hindered = hindrance(splitOf(tally), estimate)
  if (hindered !== undefined) return hindered
  const start = asked.start ?? Float64Array.of(linkPlace(link, tally.hitCount / tally.trials), 0)
  const target = targetOf(tally, link, estimate)
  return climb({ start, at: (b) => heightOf(target(b[0]!, b[1]!)), within })
}

export const heightOf = ({ value, u0, u1, h00, h01, h11 }: Sums): Height => ({
  value,
  gradient: Float64Array.of(u0, u1),
  curvature: Float64Array.of(h00, h01, h01, h11)
})

type Triple = readonly [number, number, number]

/** From standardized coefficients to those of x. */
function curveOf(tally: Tally, link: Link, b: readonly [number, number]): Curve {
  const { mean, scale } = tally
  const [w0, w1, w2] = informationSums(lawOf(link), summedAt(tally, Math.abs(b[1])), b).weights as unknown as Triple
  const det = w0 * w2 - w1 * w1
  const [v00, v01, v11] = [w2 / det, -w1 / det, w0 / det]
  const shift = mean / scale
  const covariance = {
    intercept: v00 - 2 * shift * v01 + shift * shift * v11,
    both: (v01 - shift * v11) / scale,
    slope: v11 / (scale * scale)
  }
  return { intercept: b[0] - b[1] * shift, slope: b[1] / scale, covariance }
}

/** A fit seen again in standardized x. */
export function standardized({ intercept, slope, link, estimate, tally }: BinaryFit): {
  readonly target: Target
  readonly b: readonly [number, number]
} {
  const b = [intercept + slope * tally.mean, slope * tally.scale] as const
  return { target: targetOf(tally, link, estimate), b }
}

function hindrance(split: Split, estimate: Estimate): Result<never, NumericsCode> | undefined {
  if ('rises' in split) return estimate === 'penalized' ? undefined : separated(split)
  if (split.kind === 'mixed') return undefined
  return split.kind === 'one place' ? constant() : oneOutcome(split.kind)
}

const constant = (): Result<never, NumericsCode> =>
  refuse('numerics/degenerate', {
    found: 'all trials at one x',
    needed: 'hits and misses at two places or more',
    remedy: 'a curve needs places that differ; at one place only a share can be stated'
  })

const oneOutcome = (found: string): Result<never, NumericsCode> =>
  refuse('numerics/one-outcome', {
    found,
    needed: 'hits and misses',
    remedy: 'state a bound of the share; a curve needs places at which the other outcome is met'
  })

const separated = ({ kind, rises, below, above }: Gap): Result<never, NumericsCode> =>
  refuse('numerics/separated', {
    found: `${kind} separation: ${rises ? 'misses' : 'hits'} up to ${below}, ${rises ? 'hits' : 'misses'} from ${above}`,
    needed: 'hits and misses that overlap',
    remedy: 'add trials near the gap, or show a penalized fit as information'
  })
