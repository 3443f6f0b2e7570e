import {
  type BinaryFit,
  bendTest,
  binomialLowerBound,
  chiSquareQuantile,
  decilesTest,
  type FitTest,
  type Interval,
  likelihoodShares,
  linkShare,
  placesTest,
  profileIntervals,
  type Split,
  splitOf,
  waldShares
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { type FalseCalls, falseCallsOf } from '../false-calls.ts'
import type { StudyRow } from '../rows.ts'
import {
  type AsymptoteFinding,
  asymptotesOf,
  criterionOf,
  type SizeBound,
  sizeAt,
  sizeBounds,
  slopeOf,
  statedBound
} from './bounds.ts'
import { sizeOfPlace, type Tallies, type TriedFit, talliesOf, tryAll, tryFit } from './fits.ts'
import { type ObservedShare, observedShares } from './observed.ts'
import { type Resampled, resampledBound } from './resampled.ts'
import type { HitMissStudy } from './study.ts'

/** What the rows of one inspector, or of all where one row stands for each flaw, say. */
export interface GroupResult {
  /** empty where the rows are not told apart by inspector */
  readonly inspector: string
  readonly hits: number
  readonly misses: number
  readonly smallest_m: number
  readonly largest_m: number
  readonly split: Split
  readonly observed: readonly ObservedShare[]
  /** every fit that was tried, in order */
  readonly fits: readonly TriedFit[]
  readonly curve: Result<CurveResult, Code>
  readonly falseCalls: Result<FalseCalls, Code>
  /** where there is no curve but a share can be stated: of this set of flaws as it was, for no size */
  readonly overall?: { readonly confidence: number; readonly lower: number }
  /** information only, where maximum likelihood has no finite answer or flaws are few; never a statement */
  readonly penalized?: PenalizedResult
}

export interface CurveResult {
  readonly a50_m: number
  /** found with the share asked */
  readonly asked_m: number
  /** two-sided 95 % by the profile of the likelihood, in the curve's own scale */
  readonly coefficients?: { readonly intercept: Interval; readonly slope: Interval }
  /** likelihood-ratio statistic of the slope */
  readonly slope?: number
  readonly bounds: readonly SizeBound[]
  /** where the study asks for it and it exists: what the bound by resamples was made of */
  readonly resampled?: Resampled
  /** the bound by the study's own method and criterion */
  readonly stated: Result<number, Code>
  readonly asymptotes: Result<AsymptoteFinding, Code>
  readonly tests: FitTests
  readonly points: readonly CurvePoint[]
}

export interface FitTests {
  /** only where every size has 5 flaws or more: else the deviance says nothing of the fit */
  readonly sizes?: { readonly deviance: FitTest; readonly pearson: FitTest }
  readonly deciles?: FitTest
  readonly bend?: FitTest
}

/** The curve at one size with one-sided bounds on both sides, each by the likelihood and by the covariance. */
export interface CurvePoint {
  readonly size_m: number
  readonly share: number
  readonly likelihood?: Interval
  readonly covariance: Interval
}

export interface PenalizedResult {
  readonly note: 'penalized fit: for information, never a statement'
  readonly a50_m: number
  readonly asked_m: number
  readonly bound: SizeBound | undefined
}

/** Points of a drawn curve, evenly over the sizes in the curve's own coordinate. */
const POINTS = 25
/** trials at each size for the deviance to be a test. common practice, no source */
const LEAST_AT_SIZE = 5
const DECILES = 10
/** flaws below which a penalized fit stands beside the other. common practice, no source */
const FEW_FLAWS = 30

const least = (sizes: readonly number[]): number => sizes.reduce((a, b) => Math.min(a, b))
const most = (sizes: readonly number[]): number => sizes.reduce((a, b) => Math.max(a, b))

/** Rows that are looked at together, of flaws and of blanks. */
export interface Group {
  readonly flaws: readonly StudyRow[]
  readonly blanks: readonly StudyRow[]
}

/**
 * All that the rows say: the split, then the eight fits, then what follows from the one that the study chose. In
 * `curve`: prove/all-hits, prove/all-misses, prove/one-size, prove/separated, prove/falling, prove/no-fit; in
 * `falseCalls`: prove/no-blanks.
 */
export function groupResult({ flaws: rows, blanks }: Group, study: HitMissStudy): GroupResult {
  const sizes = rows.map(({ size_m }) => size_m)
  const hits = rows.filter(({ hit }) => hit).length
  const tallies = talliesOf(rows)
  if (isRefusal(tallies.size)) throw new Error('a group without rows')
  const split = splitOf(tallies.size)
  const chosen = tryFit(tallies, { scale: study.scale, link: study.link, estimate: 'likelihood' })
  const hindered = hindrance(split) ?? (isRefusal(chosen.fit) ? noFit(chosen.fit) : falling(chosen.fit))
  const known = {
    ...{ inspector: study.inspectors === 'apart' ? (rows[0]?.inspector ?? '') : '', hits, misses: rows.length - hits },
    ...{ smallest_m: least(sizes), largest_m: most(sizes), split },
    ...{ observed: observedShares(rows), falseCalls: falseCallsOf(blanks, study.confidence) }
  }
  if (hindered === undefined) return { ...known, ...withCurve({ rows, tallies, fit: chosen.fit as BinaryFit }, study) }
  return { ...known, ...withoutCurve(tallies, study, split), curve: hindered }
}

interface Fitted {
  readonly rows: readonly StudyRow[]
  readonly tallies: Tallies
  readonly fit: BinaryFit
}

/** With few flaws the penalized fit stands beside as a check, where there is a bound to be checked. */
function withCurve(
  { rows, tallies, fit }: Fitted,
  study: HitMissStudy
): Pick<GroupResult, 'fits' | 'curve' | 'penalized'> {
  const [fits, curve] = [tryAll(tallies), curveResult(rows, fit, study)]
  if (rows.length >= FEW_FLAWS || isRefusal(curve.stated)) return { fits, curve }
  const check = tryFit(tallies, { scale: study.scale, link: study.link, estimate: 'penalized' })
  const shown = isRefusal(check.fit) ? {} : { penalized: penalizedResult(check.fit, study) }
  return { fits: [...fits, check.tried], curve, ...shown }
}

/** What can be said all the same. */
function withoutCurve(
  tallies: Tallies,
  study: HitMissStudy,
  split: Split
): Pick<GroupResult, 'fits' | 'overall' | 'penalized'> {
  const fits = split.kind === 'mixed' ? tryAll(tallies) : []
  if (!('rises' in split)) return { fits, ...(split.kind === 'mixed' ? {} : { overall: overallOf(tallies, study) }) }
  const { fit, tried } = tryFit(tallies, { scale: study.scale, link: study.link, estimate: 'penalized' })
  const isShown = split.rises && !isRefusal(fit)
  return { fits: [...fits, tried], ...(isShown ? { penalized: penalizedResult(fit, study) } : {}) }
}

function overallOf({ size }: Tallies, { confidence }: HitMissStudy): { confidence: number; lower: number } {
  if (isRefusal(size)) throw new Error('a group without rows')
  const counted = { successes: size.hitCount, trials: size.trials }
  return { confidence, lower: binomialLowerBound(counted, confidence) }
}

function penalizedResult(fit: BinaryFit, study: HitMissStudy): PenalizedResult {
  return {
    note: 'penalized fit: for information, never a statement',
    a50_m: sizeAt(fit, study, 0.5),
    asked_m: sizeAt(fit, study, study.share),
    bound: sizeBounds(fit, study).find(({ method }) => method === 'likelihood')
  }
}

function curveResult(rows: readonly StudyRow[], fit: BinaryFit, study: HitMissStudy): CurveResult {
  const resampled = resampledBound(rows, study)
  const bounds = sizeBounds(fit, study, resampled === undefined ? [] : [resampled.bound])
  const asymptotes = asymptotesOf(fit, study)
  const slope = slopeOf(fit)
  const coefficients = answered(profileIntervals(fit, chiSquareQuantile({ tail: 'lower', share: 0.95 }, 1)))
  return {
    ...{ a50_m: sizeAt(fit, study, 0.5), asked_m: sizeAt(fit, study, study.share), bounds },
    ...(resampled?.resampled === undefined ? {} : { resampled: resampled.resampled }),
    ...(slope === undefined ? {} : { slope }),
    ...(coefficients === undefined ? {} : { coefficients }),
    stated: statedBound(bounds, asymptotes, study),
    asymptotes: isRefusal(asymptotes) ? asymptotes : asymptotes.finding,
    tests: testsOf(fit),
    points: pointsOf(fit, study)
  }
}

const answered = <T>(value: Result<T>): T | undefined => (isRefusal(value) ? undefined : value)

function testsOf(fit: BinaryFit): FitTests {
  const { hits, misses } = fit.tally
  const isGrouped = hits.every((count, i) => count + misses[i]! >= LEAST_AT_SIZE)
  const [sizes, deciles, bend] = [
    isGrouped ? answered(placesTest(fit)) : undefined,
    isGrouped ? undefined : answered(decilesTest(fit, DECILES)),
    answered(bendTest(fit))
  ]
  return {
    ...(sizes === undefined ? {} : { sizes }),
    ...(deciles === undefined ? {} : { deciles }),
    ...(bend === undefined ? {} : { bend })
  }
}

function pointsOf(fit: BinaryFit, { scale, confidence }: HitMissStudy): readonly CurvePoint[] {
  const { x } = fit.tally
  const [first, last] = [x[0]!, x.at(-1)!]
  return Array.from({ length: POINTS }, (_, i) => {
    const at = first + ((last - first) * i) / (POINTS - 1)
    const criterion = criterionOf('likelihood', confidence).value
    const likelihood = answered(likelihoodShares(fit, { x: at, criterion }))
    return {
      ...{ size_m: sizeOfPlace(scale, at), share: linkShare(fit.link, fit.intercept + fit.slope * at) },
      ...(likelihood === undefined ? {} : { likelihood }),
      covariance: waldShares(fit, { x: at, z: criterionOf('crossing', confidence).value })
    }
  })
}

const millimeters = (size_m: number): string => `${(1000 * size_m).toPrecision(4)} mm`

function hindrance(split: Split): Refusal<Code> | undefined {
  if (split.kind === 'mixed') return undefined
  if ('rises' in split) return separated(split)
  if (split.kind === 'one place') return oneSize()
  return split.kind === 'all hits' ? allHits() : allMisses()
}

function separated({ rises, below, above }: Extract<Split, { rises: boolean }>): Refusal<Code> {
  const [lower, upper] = rises ? ['misses', 'hits'] : ['hits', 'misses']
  if (!rises) return turned(`${lower} up to ${millimeters(below)}, ${upper} from ${millimeters(above)}`)
  return refuse('prove/separated', {
    found: `${lower} up to ${millimeters(below)} and ${upper} from ${millimeters(above)}, and no size where both are met`,
    needed: 'sizes at which hits and misses mix',
    remedy: `examine more flaws from about ${millimeters(below / 1.5)} to ${millimeters(1.5 * above)}: this trial shows where detection begins, not how steeply it rises; or demonstrate one size by counting`
  })
}

const turned = (found: string): Refusal<Code> =>
  refuse('prove/falling', {
    found,
    needed: 'hits that grow with size',
    remedy:
      'check the columns, the unit, and whether 1 stands for a call; if all that is right, this technique is not fit for a curve over size'
  })

const falling = ({ slope }: BinaryFit): Refusal<Code> | undefined =>
  slope > 0 ? undefined : turned(`hits that fall with size, by ${slope} a step of the curve's scale`)

const oneSize = (): Refusal<Code> =>
  refuse('prove/one-size', {
    found: 'flaws of one size only',
    needed: 'sizes that differ',
    remedy: 'state what this one size shows by counting; a curve needs smaller and larger flaws'
  })

const allHits = (): Refusal<Code> =>
  refuse('prove/all-hits', {
    found: 'a hit at every flaw',
    needed: 'misses at the small end',
    remedy: 'examine smaller flaws; until then only the share of hits in this set can be stated'
  })

const allMisses = (): Refusal<Code> =>
  refuse('prove/all-misses', {
    found: 'a miss at every flaw',
    needed: 'hits at the large end',
    remedy: 'examine larger flaws, and check that 1 stands for a call'
  })

const noFit = ({ found, needed, remedy }: Refusal): Refusal<Code> => refuse('prove/no-fit', { found, needed, remedy })
