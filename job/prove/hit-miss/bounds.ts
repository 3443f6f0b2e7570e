import {
  type AsymptoteFit,
  asymptoteInterval,
  asymptotePlace,
  asymptotePlaceBound,
  type BinaryFit,
  chiSquareQuantile,
  crossingPlace,
  curvePlace,
  fitAsymptotes,
  type Interval,
  likelihoodPlace,
  linkPlace,
  normalQuantile,
  placeError,
  slopeStatistic
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { sizeOfPlace } from './fits.ts'
import type { HitMissStudy } from './study.ts'

export type BoundMethod = HitMissStudy['bound']

/** How far the likelihood may fall, or how many standard errors: said with every bound. */
export interface Criterion {
  readonly law: 'chi-square' | 'normal' | 'resamples'
  readonly dof?: number
  readonly share: number
  /** of resamples: their share that is taken, corrected */
  readonly value: number
  /** where the bound is by resamples */
  readonly count?: number
  readonly seed?: number
  readonly quantile?: 6 | 7
  /** resamples without a rising curve, which are left out */
  readonly lost?: number
}

/** The criterion as a report and a page say it. */
export const criterionText = ({ law, dof, value, count, seed, lost }: Criterion): string =>
  law === 'resamples'
    ? `${(100 * value).toFixed(2)} % of ${count} resamples${lost ? `, ${lost} left out` : ''}, seed ${seed}`
    : `${law}${dof === undefined ? '' : ` of ${dof}`}: ${value.toFixed(4)}`

/** A size with the method and criterion of its bound. A bound that does not exist says why, and is no number. */
export interface SizeBound {
  readonly method: BoundMethod | 'propagation'
  readonly criterion: Criterion
  readonly size_m: Result<number, Code>
}

type Asked = Pick<HitMissStudy, 'share' | 'confidence' | 'scale' | 'bound'>

const chiSquare = (dof: number, share: number): Criterion => ({
  ...{ law: 'chi-square', dof, share },
  value: chiSquareQuantile({ tail: 'lower', share }, dof)
})

/**
 * One-sided confidence c: chi-square(2 c - 1) with one degree of freedom for one size; of two for the whole curve at
 * once, chi-square(c); the normal quantile of c for what goes by standard errors. source: cheng-iles-1983
 */
export function criterionOf(method: Exclude<SizeBound['method'], 'resamples'>, confidence: number): Criterion {
  if (method === 'likelihood') return chiSquare(1, Number((2 * confidence - 1).toPrecision(12)))
  if (method === 'joint likelihood') return chiSquare(2, confidence)
  return { law: 'normal', share: confidence, value: normalQuantile(confidence) }
}

/** Size at which the curve reaches a share, m. */
export const sizeAt = (fit: BinaryFit, { scale }: Pick<Asked, 'scale'>, share: number): number =>
  sizeOfPlace(scale, curvePlace(fit, linkPlace(fit.link, share)))

/**
 * Upper bounds of the size that is found with the share asked, by all methods beside each other. The one by propagation
 * of errors comes out of anything, so it is given only where the bound of the study's own method exists.
 * In each: prove/not-demonstrated.
 */
export function sizeBounds(fit: BinaryFit, asked: Asked, resampled: readonly SizeBound[] = []): readonly SizeBound[] {
  const methods = ['likelihood', 'crossing', 'joint likelihood'] as const
  const bounds = [...methods.map((method) => boundBy(method, fit, asked)), ...resampled]
  const stated = bounds.find(({ method }) => method === asked.bound)?.size_m
  return stated === undefined || isRefusal(stated) ? bounds : [...bounds, propagated(fit, asked)]
}

function boundBy(
  method: Exclude<BoundMethod, 'resamples'>,
  fit: BinaryFit,
  { share, confidence, scale }: Asked
): SizeBound {
  const criterion = criterionOf(method, confidence)
  const place =
    method === 'crossing'
      ? crossingPlace(fit, { eta: linkPlace(fit.link, share), z: criterion.value, side: 'upper' })
      : likelihoodPlace(fit, { share, side: 'upper', criterion: criterion.value })
  return { method, criterion, size_m: isRefusal(place) ? notDemonstrated(place) : finite(sizeOfPlace(scale, place)) }
}

function propagated(fit: BinaryFit, { share, confidence, scale }: Asked): SizeBound {
  const criterion = criterionOf('propagation', confidence)
  const eta = linkPlace(fit.link, share)
  const place = curvePlace(fit, eta) + criterion.value * placeError(fit, eta)
  return { method: 'propagation', criterion, size_m: finite(sizeOfPlace(scale, place)) }
}

export const finite = (size_m: number): Result<number, Code> =>
  Number.isFinite(size_m) && size_m > 0 ? size_m : notDemonstrated({ found: `a bound of ${size_m} m` })

export const notDemonstrated = ({ found }: Pick<Refusal, 'found'>): Refusal<Code> =>
  refuse('prove/not-demonstrated', {
    found,
    needed: 'a curve whose rise is told from chance by the criterion of the bound',
    remedy: 'examine more flaws of sizes where hits and misses mix'
  })

/** A floor and a ceiling of the curve, and what they make of the sizes. */
export interface AsymptoteFinding {
  readonly intercept: number
  readonly slope: number
  readonly logLikelihood: number
  readonly floor: Finding
  readonly ceiling: Finding
  /** whether either is told from its end at 5 % */
  readonly needed: boolean
  /** sizes by this curve, m */
  readonly a50_m?: number
  readonly asked_m?: number
}

/** A finding with the fit behind it, which is no plain data. */
export interface AsymptoteWork {
  readonly finding: AsymptoteFinding
  readonly fit: AsymptoteFit
}

export interface Finding {
  readonly value: number
  /** twice what the likelihood loses with the asymptote at its end, 0 or 1 */
  readonly statistic: number
  /** where either is free */
  readonly interval?: Interval
}

/** Two-sided confidence of the intervals of floor and ceiling. common practice, no source */
const TWO_SIDED = 0.95

/** flaws below which a floor or a ceiling is not looked for. common practice, no source */
const LEAST_FOR_LEVELS = 20

/** 5 % where half of the chances lie at nil: chi-square(0.90). source: self-liang-1987, case 5 */
const NEEDED = 2.705543454095404

/** Floor and ceiling with their intervals. Refuses: prove/no-fit, where the search does not settle. */
export function asymptotesOf(fit: BinaryFit, { share, scale }: Asked): Result<AsymptoteWork, Code> {
  if (fit.tally.trials < LEAST_FOR_LEVELS) return tooFewForLevels(fit.tally.trials)
  const found = fitAsymptotes(fit)
  if (isRefusal(found)) return noFit(found)
  const floor = findingOf(found, 'floor')
  if (isRefusal(floor)) return floor
  const ceiling = findingOf(found, 'ceiling')
  if (isRefusal(ceiling)) return ceiling
  const [a50_m, asked_m] = [0.5, share]
    .map((of) => asymptotePlace(found, of))
    .map((x) => (x === undefined ? x : sizeOfPlace(scale, x)))
  const finding = {
    ...{ intercept: found.intercept, slope: found.slope, logLikelihood: found.logLikelihood, floor, ceiling },
    needed: Math.max(floor.statistic, ceiling.statistic) > NEEDED,
    ...(a50_m === undefined ? {} : { a50_m }),
    ...(asked_m === undefined ? {} : { asked_m })
  }
  return { finding, fit: found }
}

function findingOf(fit: AsymptoteFit, name: 'floor' | 'ceiling'): Result<Finding, Code> {
  if (fit.free.length === 0) return { value: fit[name], statistic: 0 }
  const found = asymptoteInterval(fit, { name, criterion: chiSquare(1, TWO_SIDED).value })
  if (isRefusal(found)) return noFit(found)
  const { lower, upper, statistic } = found
  return { value: fit[name], statistic, interval: { lower, upper } }
}

const tooFewForLevels = (flaws: number): Refusal<Code> =>
  refuse('prove/no-fit', {
    found: `${flaws} flaws`,
    needed: `${LEAST_FOR_LEVELS} or more to look for a floor or a ceiling of the curve`,
    remedy: 'look at the misses of large flaws one by one'
  })

const noFit = ({ found, needed, remedy }: Refusal): Refusal<Code> => refuse('prove/no-fit', { found, needed, remedy })

/**
 * The bound that the study states. Where the data ask for a floor or a ceiling the plain curve does not represent them:
 * then it comes from the curve between asymptotes, by the likelihood, and only where the interval of the ceiling lies
 * above the share asked. Refuses: prove/not-demonstrated, prove/inadequate-model.
 */
export function statedBound(
  bounds: readonly SizeBound[],
  asymptotes: Result<AsymptoteWork, Code>,
  asked: Asked
): Result<number, Code> {
  const plain = bounds.find(({ method }) => method === asked.bound)
  if (plain === undefined) throw new Error(`no bound by ${asked.bound}`)
  if (isRefusal(asymptotes) || !asymptotes.finding.needed) return plain.size_m
  const { finding, fit } = asymptotes
  if ((finding.ceiling.interval?.lower ?? 1) <= asked.share) return underCeiling(finding, asked)
  if (asked.bound !== 'likelihood') return inadequate(finding, asked)
  const { share, scale } = asked
  const place = asymptotePlaceBound(fit, { share, side: 'upper', criterion: plain.criterion.value })
  return isRefusal(place) ? notDemonstrated(place) : finite(sizeOfPlace(scale, place))
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`

const shownInterval = ({ interval = { lower: 0, upper: 1 } }: Finding): string =>
  `${percent(interval.lower)} to ${percent(interval.upper)}`

const underCeiling = ({ ceiling }: AsymptoteFinding, { share }: Asked): Refusal<Code> =>
  refuse('prove/not-demonstrated', {
    found: `hits that level off at ${percent(ceiling.value)} (${shownInterval(ceiling)})`,
    needed: `a level surely above ${percent(share)}`,
    remedy: 'find out why large flaws are missed: access, lift-off, attention; a larger size does not mend it'
  })

const inadequate = ({ floor, ceiling }: AsymptoteFinding, { bound }: Asked): Refusal<Code> =>
  refuse('prove/inadequate-model', {
    found: `a curve between ${percent(floor.value)} and ${percent(ceiling.value)}, which the plain curve can't follow`,
    needed: `a bound by "${bound}" for such a curve, and there is none here`,
    remedy: 'plan the next study with the likelihood bound; look for what makes the floor or the ceiling'
  })

/** Twice what the likelihood loses without a slope; undefined where it could not be found. */
export function slopeOf(fit: BinaryFit): number | undefined {
  const statistic = slopeStatistic(fit)
  return isRefusal(statistic) ? undefined : statistic
}
