import type { Span } from './forms.ts'
import { likelihoodOf } from './likelihood.kernel.ts'

/** Measurements of each length, and what it weighs, columns `[length]`: what does not change along the depths. */
export interface Columns {
  /** size over the middle without its sign, and its variance */
  readonly size: Float64Array
  readonly variance: Float64Array
  /** chi-square of the rows */
  readonly misfit: Float64Array
  /** logarithm of length over the aspect of the kind */
  readonly logLength: Float64Array
  /** x/y and its variance; 0 and 1 where the angle is not used */
  readonly turn: Float64Array
  readonly turnVariance: Float64Array
}

/** The same depths for every column, `[depth]`: logarithm; x/y expected and its variance. */
export interface DepthColumns {
  readonly logs: Float64Array
  readonly turn: Float64Array
  readonly turnVariance: Float64Array
  /** of the column at hand: part of the full answer and its slope by the scale */
  readonly part: Float64Array
  readonly slope: Float64Array
  /** out: chi-square, and one over the product of its variances */
  readonly chi: Float64Array
  readonly sharpness: Float64Array
}

/** Size = full · part, variance = pp · part² + ps · part · slope + ss · slope²; one over the variance of log proportions, when these are wide. */
export interface Answers {
  readonly proportions: number
  readonly full: number
  readonly pp: number
  readonly ps: number
  readonly ss: number
}

/** All that chi-square is made of. */
export interface Chi {
  readonly depths: DepthColumns
  readonly columns: Columns
  readonly answers: Answers
}

/**
 * Chi-square of the j-th length at the depths of a span, and one over the product of the variances of size and angle. Gives the
 * least of the chi-squares.
 */
export function chiAlong({ depths, columns, answers }: Chi, j: number, { from, to, step }: Span): number {
  const { part, slope, logs, turn, turnVariance, chi, sharpness } = depths
  const { full, pp, ps, ss, proportions } = answers
  const size = columns.size[j]!
  const variance = columns.variance[j]!
  const misfit = columns.misfit[j]!
  const logLength = columns.logLength[j]!
  const turnOf = columns.turn[j]!
  const turnOfVariance = columns.turnVariance[j]!
  let least = Number.POSITIVE_INFINITY
  for (let i = from; i < to; i += step) {
    const p = part[i]!
    const s = slope[i]!
    const v = variance + p * (pp * p + ps * s) + ss * s * s
    const off = size - full * p
    const angleV = turnOfVariance + turnVariance[i]!
    const angleOff = turnOf - turn[i]!
    const unlike = logLength - logs[i]!
    const one = 1 / (v * angleV)
    const all = (off * off * angleV + angleOff * angleOff * v) * one + misfit + proportions * unlike * unlike
    if (all < least) least = all
    chi[i] = all
    sharpness[i] = one
  }
  return least
}

/**
 * How lengths are weighed against those of notches of a depth, by |u| = |ln(length/aspect/depth)|, linear between `PER_UNIT`
 * values a unit: relative to wide proportions, and with those.
 */
export interface Proportions {
  readonly relative: Float64Array
  readonly whole: Float64Array
}

const PER_UNIT = 256

/** Weights of wide proportions (1 over their variance) and of close ones, which add `closer` times u² to chi-square. */
export interface Mixed {
  readonly proportions: number
  readonly wide: number
  readonly close: number
  readonly closer: number
}

/** Tables as far as wide proportions reach. */
export function proportionsOf({ proportions, wide, close, closer }: Mixed): Proportions {
  const length = Math.floor(PER_UNIT * Math.sqrt(NOTHING / proportions)) + 2
  const [relative, whole] = [new Float64Array(length), new Float64Array(length)]
  for (let i = 0; i < length; i++) {
    const u2 = (i / PER_UNIT) * (i / PER_UNIT)
    const apart = closer * u2
    relative[i] = apart < NOTHING ? wide + close * likelihoodOf(apart) : wide
    whole[i] = likelihoodOf(proportions * u2) * relative[i]!
  }
  return { relative, whole }
}

/** Chi-square from which on a likelihood is nothing beside others: 6e-6. */
const NOTHING = 24

/** Where likelihoods are added up, by depth, each against a chi-square of `best` and no farther than `reach` from it. */
export interface Sums extends Pick<Proportions, 'relative'> {
  /** of flaws of wide proportions */
  readonly any: Float64Array
  /** of flaws of the notches' proportions */
  readonly like: Float64Array
  readonly weight: number
  readonly best: number
  readonly reach: number
}

/** Adds e^(−(chi − best)/2) · √sharpness, times the weights, at the depths of a span. */
export function likelihoodAlong(
  { chi, sharpness, logs }: Pick<DepthColumns, 'chi' | 'sharpness' | 'logs'>,
  logLength: number,
  { any, like, weight, best, reach, relative }: Sums,
  { from, to, step }: Span
): void {
  const last = relative.length - 1
  for (let i = from; i < to; i += step) {
    const off = chi[i]! - best
    if (!(off < reach)) continue
    const one = weight * likelihoodOf(off) * Math.sqrt(sharpness[i]!)
    any[i]! += one
    const at = PER_UNIT * Math.abs(logLength - logs[i]!)
    const k = Math.floor(at)
    const low = relative[k]!
    like[i]! += k < last ? one * (low + (at - k) * (relative[k + 1]! - low)) : one * relative[last]!
  }
}

/** Adds, at the depths of a span, what a length of this likelihood is worth for flaws of the proportions. */
export function lengthAlong(
  { logs, whole, sums }: { readonly logs: Float64Array; readonly whole: Float64Array; readonly sums: Float64Array },
  logLength: number,
  likelihood: number,
  { from, to, step }: Span
): void {
  const last = whole.length - 1
  for (let i = from; i < to; i += step) {
    const at = PER_UNIT * Math.abs(logLength - logs[i]!)
    const k = Math.floor(at)
    if (k >= last) continue
    const low = whole[k]!
    sums[i]! += likelihood * (low + (at - k) * (whole[k + 1]! - low))
  }
}

/** Least chi-square of the angle alone of the j-th length along a span. */
export function leastTurnAlong(
  { depths, columns }: Pick<Chi, 'depths' | 'columns'>,
  j: number,
  { from, to, step }: Span
): number {
  const { turn, turnVariance } = depths
  const measured = columns.turn[j]!
  const variance = columns.turnVariance[j]!
  let least = Number.POSITIVE_INFINITY
  for (let i = from; i < to; i += step) {
    const off = measured - turn[i]!
    const chi = (off * off) / (variance + turnVariance[i]!)
    if (chi < least) least = chi
  }
  return least
}
