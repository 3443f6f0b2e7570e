import {
  type CensoredData,
  type CensoredFit,
  calibrate,
  chiSquareQuantile,
  normalQuantile,
  type Reach,
  reachCrossing,
  reachExact,
  reachLikelihood,
  reachOf,
  reachPlace,
  reachPropagated
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { levelOf, sizeOf } from './fits.ts'
import type { SignalStudy } from './study.ts'

/** 'propagation' and 'joint propagation' stand beside the others because handbooks use them; they are never stated. */
export type SignalBoundMethod = SignalStudy['bound'] | 'propagation' | 'joint propagation'

/** A size with the method and criterion of its bound. A bound that does not exist says why, and is no number. */
export interface SignalBound {
  readonly method: SignalBoundMethod
  /** quantile of the normal law, of chi-square, or of the non-central t, by which it was drawn */
  readonly law: 'normal' | 'chi-square' | 'non-central t'
  readonly dof?: number
  readonly criterion?: number
  readonly size_m: Result<number, Code>
}

type Asked = Pick<SignalStudy, 'share' | 'confidence' | 'scale' | 'response' | 'threshold' | 'bound'>

/** Chi-square with one degree of freedom for a one-sided confidence of one size. */
export const likelihoodCriterion = (confidence: number): number =>
  chiSquareQuantile({ tail: 'lower', share: 2 * confidence - 1 }, 1)

/**
 * Upper bounds of the size that is called with the share asked, by all methods beside each other.
 * In each: prove/not-demonstrated; in 'exact' prove/bound-not-for-this where a signal lies beyond a limit.
 */
export function signalBounds(
  { data, fit }: { readonly data: CensoredData; readonly fit: CensoredFit },
  asked: Asked
): Result<readonly SignalBound[], Code> {
  const reach = reachOf(fit, levelOf(asked, asked.threshold))
  if (isRefusal(reach)) return falling(reach)
  return [exactBound(data, asked), likelihoodBound({ data, fit }, asked), ...largeSampleBounds(reach, asked)]
}

function exactBound(data: CensoredData, asked: Asked): SignalBound {
  const dof = data.y.length - 2
  const said = { method: 'exact', law: 'non-central t', dof } as const
  if (Array.from(data.side).some((side) => side !== 0)) return { ...said, size_m: notForLimits() }
  const line = calibrate({ x: data.columns[0]!, y: data.y })
  if (isRefusal(line)) return { ...said, size_m: notDemonstrated(line.found) }
  const { share, confidence } = asked
  return {
    ...said,
    size_m: sized(reachExact(line, { level: levelOf(asked, asked.threshold), share, confidence }), asked)
  }
}

function likelihoodBound(
  response: { readonly data: CensoredData; readonly fit: CensoredFit },
  asked: Asked
): SignalBound {
  const criterion = likelihoodCriterion(asked.confidence)
  const level = levelOf(asked, asked.threshold)
  const found = reachLikelihood(response, { level, share: asked.share, criterion })
  return { method: 'likelihood', law: 'chi-square', dof: 1, criterion, size_m: sized(found, asked) }
}

/** By the covariance alone: where the bound of the curve crosses, and by propagation, for one size and for the whole curve. */
export function largeSampleBounds(reach: Reach, asked: Asked): readonly SignalBound[] {
  const { share } = asked
  const z = normalQuantile(asked.confidence)
  const joint = chiSquareQuantile({ tail: 'lower', share: asked.confidence }, 2)
  return [
    { method: 'crossing', law: 'normal', criterion: z, size_m: sized(reachCrossing(reach, { share, z }), asked) },
    { method: 'propagation', law: 'normal', criterion: z, size_m: sized(reachPropagated(reach, { share, z }), asked) },
    {
      ...{ method: 'joint propagation', law: 'chi-square', dof: 2, criterion: joint },
      size_m: sized(reachPropagated(reach, { share, z: Math.sqrt(joint) }), asked)
    }
  ]
}

/** Size called with a share, m. */
export const sizeAt = (reach: Reach, { scale }: Pick<Asked, 'scale'>, share: number): number =>
  sizeOf({ scale }, reachPlace(reach, share))

/** The bound by the study's own method. */
export function statedBound(bounds: readonly SignalBound[], { bound }: Pick<Asked, 'bound'>): Result<number, Code> {
  return bounds.find(({ method }) => method === bound)?.size_m ?? notForRepeats(bound)
}

function sized(place: Result<number>, asked: Asked): Result<number, Code> {
  if (isRefusal(place)) return notDemonstrated(place.found)
  const size_m = sizeOf(asked, place)
  return Number.isFinite(size_m) && size_m > 0 ? size_m : notDemonstrated(`a bound of ${size_m} m`)
}

const notDemonstrated = (found: string): Refusal<Code> =>
  refuse('prove/not-demonstrated', {
    found,
    needed: 'signals whose rise with size is told from chance by the criterion of the bound, and a size above zero',
    remedy: 'measure more flaws, over a wider range of sizes'
  })

const notForLimits = (): Refusal<Code> =>
  refuse('prove/bound-not-for-this', {
    found: 'signals beyond a limit',
    needed: 'signals that were all read, for the exact bound',
    remedy: 'plan the study with the bound by the likelihood'
  })

const notForRepeats = (bound: string): Refusal<Code> =>
  refuse('prove/bound-not-for-this', {
    found: `the bound "${bound}" for repeats`,
    needed: 'the bound "crossing", by the variances of flaws, inspectors and repeats',
    remedy: 'plan the study with it, or with one row a flaw'
  })

export const falling = ({ found }: Pick<Refusal, 'found'>): Refusal<Code> =>
  refuse('prove/falling', {
    found,
    needed: 'signals that grow with size',
    remedy:
      'check the columns, the unit, and the sign of the signals; if all that is right, size can not be read from them'
  })
