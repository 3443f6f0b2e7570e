import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { chartHeight, type Found, foundAt, type Natural, parametersOf, type Sought } from './asymptote-chart.ts'
import { type Interval, predictorVariance, type Side } from './bounds.ts'
import { climb } from './climb.ts'
import { crossing, type Fall } from './crossing.ts'
import { type BinaryFit, standardized } from './fit.ts'
import { linkPlace } from './links.ts'
import type { Asymptotes } from './sums.kernel.ts'

/** A curve between a floor and a ceiling: chance = floor + (ceiling - floor) F(intercept + slope x). */
export interface AsymptoteFit extends Asymptotes {
  readonly intercept: number
  readonly slope: number
  readonly logLikelihood: number
  /** which asymptotes lie inside (0, 1); the others are best at their ends */
  readonly free: readonly (keyof Asymptotes)[]
  /** the fit without asymptotes */
  readonly plain: BinaryFit
}

/** What is held: values of asymptotes, or a place z that the curve passes at a share. */
type Held = Partial<Asymptotes> & Pick<Sought, 'through'>

type Settled = Found & Pick<Sought, 'free'>

const WITHIN = 1e-9
/** the value is flat at the best: its error is the square of this */
const PROFILE_WITHIN = 1e-7
/** where the search of a freed asymptote begins: so far from its end */
const INSIDE = 0.02

/**
 * Fit with a floor (chance of a call where nothing can be seen) and a ceiling (misses that no size mends) by maximum
 * likelihood. An asymptote stays at 0 or 1 unless the likelihood rises inward from there.
 * Refuses: numerics/not-converged. source: annis-2015
 */
export function fitAsymptotes(plain: BinaryFit): Result<AsymptoteFit, NumericsCode> {
  const found = settle(plain, {})
  if (isRefusal(found)) return found
  const { mean, scale } = plain.tally
  const { b0, b1, floor, ceiling, free, sums } = found
  return {
    ...{ intercept: b0 - (b1 * mean) / scale, slope: b1 / scale, floor, ceiling },
    ...{ logLikelihood: sums.value, free, plain }
  }
}

/** The best with some things held, from a fit without asymptotes: those that want in are freed one round after the other. */
function settle(plain: BinaryFit, held: Held): Result<Settled, NumericsCode> {
  const { floor = 0, ceiling = 1 } = held
  const [b0, b1] = standardized(plain).b
  let sought = soughtOf(plain, held, [])
  let start: Natural = { b0, b1, floor, ceiling }
  for (;;) {
    const { free } = sought
    const found = climbed(sought, start, WITHIN)
    if (isRefusal(found)) return found
    const more = inward(found).filter((name) => held[name] === undefined && !free.includes(name))
    if (more.length === 0) return { ...found, free }
    sought = { ...sought, free: [...free, ...more] }
    start = moved(found, more)
  }
}

const soughtOf = (
  { tally, link }: BinaryFit,
  { floor = 0, ceiling = 1, through }: Held,
  free: Sought['free']
): Sought => ({
  ...{ tally, link, free, fixed: { floor, ceiling } },
  ...(through === undefined ? {} : { through })
})

function climbed(sought: Sought, start: Natural, within: number): Result<Found, NumericsCode> {
  const at = (theta: Float64Array) => chartHeight(sought, theta)
  const top = climb({ start: parametersOf(sought, start), at, within })
  return isRefusal(top) ? top : foundAt(sought, top.place)
}

/** The same from what was found before with less held: near it in most cases, and else from the beginning. */
function settleFrom({ plain, free, ...fit }: AsymptoteFit, held: Held): Result<Settled, NumericsCode> {
  const left = free.filter((name) => held[name] === undefined)
  const { mean, scale } = plain.tally
  const start = { b0: fit.intercept + fit.slope * mean, b1: fit.slope * scale, floor: fit.floor, ceiling: fit.ceiling }
  const near = climbed(soughtOf(plain, held, left), { ...start, ...heldValues(held) }, PROFILE_WITHIN)
  const isBest = !isRefusal(near) && inward(near).every((name) => held[name] !== undefined)
  return isBest ? { ...near, free: left } : settle(plain, held)
}

const heldValues = ({ floor, ceiling }: Held): Partial<Asymptotes> => ({
  ...(floor === undefined ? {} : { floor }),
  ...(ceiling === undefined ? {} : { ceiling })
})

/** Asymptotes at their ends from which the likelihood rises inward. */
const inward = ({ floor, ceiling, sums }: Found): readonly (keyof Asymptotes)[] => [
  ...(floor === 0 && sums.gradient[2]! > 0 ? (['floor'] as const) : []),
  ...(ceiling === 1 && sums.gradient[3]! < 0 ? (['ceiling'] as const) : [])
]

const moved = (found: Found, more: readonly (keyof Asymptotes)[]): Found => ({
  ...found,
  floor: more.includes('floor') ? INSIDE * found.ceiling : found.floor,
  ceiling: more.includes('ceiling') ? 1 - INSIDE * (1 - found.floor) : found.ceiling
})

/** Twice the fall below the best where one asymptote is held at t, and its derivative there. */
const fallOf =
  (fit: AsymptoteFit, name: keyof Asymptotes) =>
  (t: number): Result<Fall, NumericsCode> => {
    const found = settleFrom(fit, { [name]: t })
    if (isRefusal(found)) return found
    return {
      fall: 2 * (fit.logLikelihood - found.sums.value),
      slope: -2 * found.sums.gradient[name === 'floor' ? 2 : 3]!
    }
  }

/**
 * Interval of an asymptote by the profile of the likelihood; an end of the scale (0 or 1) that has not fallen by the
 * criterion is in it. `statistic`: twice the fall at that end; where the asymptote were there in truth, half of the
 * chances are nil and half follow chi-square with one degree of freedom.
 * Refuses: numerics/not-converged. source: self-liang-1987, case 5; cox-hinkley-1974, 9.3
 */
export function asymptoteInterval(
  fit: AsymptoteFit,
  { name, criterion }: { readonly name: keyof Asymptotes; readonly criterion: number }
): Result<Interval & { readonly statistic: number }, NumericsCode> {
  const at = fallOf(fit, name)
  const [from, end] = name === 'floor' ? [fit.floor, 0] : [fit.ceiling, 1]
  const atEnd = from === end ? 0 : at(end)
  if (isRefusal(atEnd)) return atEnd
  const statistic = atEnd === 0 ? 0 : atEnd.fall
  const outward = statistic > criterion ? crossing({ from, step: 0.5 * (end - from), criterion, at, outer: end }) : end
  if (isRefusal(outward)) return outward
  const step = from === end ? (end === 0 ? 0.01 : -0.01) : from - end
  const inside = crossing({ from, step, criterion, at })
  if (isRefusal(inside)) return inside
  return { lower: Math.min(outward, inside), upper: Math.max(outward, inside), statistic }
}

/** The x at which the curve reaches a share; undefined where the share does not lie between the asymptotes. */
export function asymptotePlace(
  { intercept, slope, floor, ceiling, plain }: AsymptoteFit,
  share: number
): number | undefined {
  const inner = (share - floor) / (ceiling - floor)
  return inner > 0 && inner < 1 ? (linkPlace(plain.link, inner) - intercept) / slope : undefined
}

/**
 * Bound of the place of a share by the profile of the likelihood over slope, floor and ceiling. It exists only where
 * the profile of the ceiling excludes the share by the criterion: with a ceiling at the share the place is nowhere.
 * Refuses: numerics/no-bound, numerics/not-rising, numerics/not-converged. source: cox-hinkley-1974, 9.3
 */
export function asymptotePlaceBound(
  fit: AsymptoteFit,
  { share, criterion, side }: { readonly share: number; readonly criterion: number; readonly side: Side }
): Result<number, NumericsCode> {
  const x = asymptotePlace(fit, share)
  if (x === undefined || !(fit.slope > 0)) return nowhere(fit, share)
  const atShare = fallOf(fit, 'ceiling')(share)
  if (isRefusal(atShare)) return atShare
  if (!(atShare.fall > criterion)) return nowhere(fit, share)
  const { mean, scale } = fit.plain.tally
  const way = (2 * Math.sqrt(criterion * predictorVariance(fit.plain, x))) / fit.plain.slope / scale
  const at = (z: number): Result<Fall, NumericsCode> => {
    const found = settleFrom(fit, { through: { share, z } })
    if (isRefusal(found)) return found
    return { fall: 2 * (fit.logLikelihood - found.sums.value), slope: 2 * found.b1 * found.sums.gradient[0]! }
  }
  const found = crossing({ from: (x - mean) / scale, step: side === 'upper' ? way : -way, criterion, at })
  return isRefusal(found) ? found : mean + scale * found
}

const nowhere = ({ ceiling, slope }: AsymptoteFit, share: number): Result<never, NumericsCode> =>
  refuse('numerics/no-bound', {
    found: `a ceiling of ${ceiling} and a slope of ${slope}`,
    needed: `a rising curve whose ceiling is surely above ${share}`,
    remedy: 'state that it is not demonstrated: what keeps the ceiling down is to be found first'
  })
