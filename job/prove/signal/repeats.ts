import { type CensoredFit, type MixedFit, mixedFit, type Reach, reachOf } from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { falling, largeSampleBounds, type SignalBound, sizeAt, statedBound } from './bounds.ts'
import { pointsOf, type SignalPoint } from './curve.ts'
import { levelOf, placeOf } from './fits.ts'
import type { SignalRow } from './rows.ts'
import type { SignalStudy } from './study.ts'

/** A response with flaws read more than once: how much flaws, inspectors and repeats scatter, as variances. */
export interface RepeatedCurve {
  readonly slope: number
  readonly slopeError: number
  readonly logLikelihood: number
  readonly variances: { readonly flaws: number; readonly inspectors?: number; readonly repeats: number }
  /** one of all inspectors, or one for each */
  readonly groups: readonly RepeatedGroup[]
  /** the worst group's, and only if all groups have one */
  readonly stated: Result<number, Code>
}

export interface RepeatedGroup {
  /** empty for the inspectors that these stand for */
  readonly inspector: string
  readonly intercept: number
  /** scatter of one reading of one flaw, as the curve has it */
  readonly spread: number
  readonly a50_m: number
  readonly asked_m: number
  readonly bounds: readonly SignalBound[]
  readonly points: readonly SignalPoint[]
}

/**
 * y = b0 + b1 x + flaw + inspector + error by restricted maximum likelihood: repeats of one flaw are not independent
 * rows, and taken as such they make the slope look far better known than it is. Inspectors at random: the scatter of the
 * curve is that of flaws, inspectors and repeats together; apart: each has an intercept, and the worst is stated.
 * Bounds are large-sample ones of the line and the variances.
 * Refuses: prove/repeats-beyond-limits (a signal that was not read), prove/one-size, prove/falling, prove/no-fit; in
 * bounds prove/not-demonstrated, in `stated` also prove/bound-not-for-this. source: searle-casella-mcculloch-1992, 6.6
 */
export function repeatedCurve(rows: readonly SignalRow[], study: SignalStudy): Result<RepeatedCurve, Code> {
  if (rows.some(({ side }) => side !== 0)) return beyondLimits(rows)
  const x = rows.map(({ size_m }) => placeOf(study, size_m))
  if (new Set(x).size < 2) return oneSize()
  const names = [...new Set(rows.map(({ inspector }) => inspector))].sort()
  const isRandom = study.inspectors === 'repeats at random'
  const flaws = levelsOf(rows.map(({ site }) => site))
  const inspectors = rows.map(({ inspector }) => names.indexOf(inspector))
  const apart = isRandom ? [] : names.slice(1).map((_, k) => inspectors.map((level) => (level === k + 1 ? 1 : 0)))
  const fit = mixedFit({
    columns: [x, ...apart],
    y: rows.map(({ signal }) => levelOf(study, signal)),
    factors: isRandom ? [flaws, inspectors] : [flaws]
  })
  if (isRefusal(fit)) return refuse('prove/no-fit', { found: fit.found, needed: fit.needed, remedy: fit.remedy })
  const reaches = (isRandom ? [''] : names).map((name, k) => ({ name, fit: lineOf(fit, isRandom ? 0 : k) }))
  return curveOf(fit, reaches, { rows, study })
}

function curveOf(
  fit: MixedFit,
  lines: readonly { readonly name: string; readonly fit: CensoredFit }[],
  { rows, study }: { readonly rows: readonly SignalRow[]; readonly study: SignalStudy }
): Result<RepeatedCurve, Code> {
  const level = levelOf(study, study.threshold)
  const found = lines.map((line) => ({ ...line, reach: reachOf(line.fit, level) }))
  const wrong = found.map(({ reach }) => reach).find((reach): reach is Refusal<never> => isRefusal(reach))
  if (wrong !== undefined) return falling(wrong)
  const groups = found.map(({ name, fit: line, reach }) => groupOf(name, line, { reach: reach as Reach, rows, study }))
  const [repeats, flaws, inspectors] = fit.variances as unknown as readonly [number, number, number?]
  const size = fit.covariance.size
  return {
    ...{ slope: fit.coefficients[1]!, slopeError: Math.sqrt(fit.covariance.values[size + 1]!) },
    logLikelihood: fit.logLikelihood,
    variances: { flaws, repeats, ...(inspectors === undefined ? {} : { inspectors }) },
    groups,
    stated: worstOf(groups.map(({ bounds }) => statedBound(bounds, study)))
  }
}

function groupOf(
  inspector: string,
  { coefficients, tau }: CensoredFit,
  { reach, rows, study }: { readonly reach: Reach; readonly rows: readonly SignalRow[]; readonly study: SignalStudy }
): RepeatedGroup {
  return {
    ...{ inspector, intercept: coefficients[0]!, spread: tau },
    ...{ a50_m: sizeAt(reach, study, 0.5), asked_m: sizeAt(reach, study, study.share) },
    bounds: largeSampleBounds(reach, study),
    points: pointsOf(reach, rows, study)
  }
}

/** The largest size; the first refusal where one has none. */
function worstOf(stated: readonly Result<number, Code>[]): Result<number, Code> {
  const refused = stated.find((one): one is Refusal<Code> => isRefusal(one))
  return refused ?? stated.reduce<number>((most, one) => Math.max(most, one as number), 0)
}

const levelsOf = (names: readonly string[]): readonly number[] => {
  const known = [...new Set(names)]
  return names.map((name) => known.indexOf(name))
}

/**
 * The line of one inspector (0: the first, or all) with the scatter of all variances together; its error from those of
 * the variances, 1/(2 tau) of the error of their sum. The line and the variances are uncorrelated in large samples.
 */
function lineOf(fit: MixedFit, inspector: number): CensoredFit {
  const { size, values } = fit.covariance
  const at = inspector === 0 ? undefined : inspector + 1
  const v = (i: number, j: number): number => values[i * size + j]!
  const own = at === undefined ? 0 : fit.coefficients[at]!
  const [v00, v01] = at === undefined ? [v(0, 0), v(0, 1)] : [v(0, 0) + 2 * v(0, at) + v(at, at), v(0, 1) + v(1, at)]
  const total = fit.variances.reduce((sum, value) => sum + value, 0)
  const ofTotal = fit.ofVariances.values.reduce((sum, value) => sum + value, 0)
  return {
    coefficients: Float64Array.of(fit.coefficients[0]! + own, fit.coefficients[1]!),
    tau: Math.sqrt(total),
    covariance: { size: 3, values: Float64Array.of(v00, v01, 0, v01, v(1, 1), 0, 0, 0, ofTotal / (4 * total)) },
    logLikelihood: fit.logLikelihood,
    counts: { below: 0, read: 0, above: 0 },
    steps: fit.steps
  }
}

const beyondLimits = (rows: readonly SignalRow[]): Refusal<Code> =>
  refuse('prove/repeats-beyond-limits', {
    found: `${rows.filter(({ side }) => side !== 0).length} of ${rows.length} signals beyond a limit`,
    needed: 'signals that were all read, where flaws were read more than once',
    remedy: 'take one row a flaw, chosen before the trial, or record with a gain at which all flaws are read'
  })

const oneSize = (): Refusal<Code> =>
  refuse('prove/one-size', {
    found: 'flaws of one size only',
    needed: 'sizes that differ',
    remedy: 'a gauge study tells how well one size repeats; a response needs smaller and larger flaws'
  })
