import { normalSurvival, normalUpperQuantile } from './distribution.ts'
import { exp, expm1, log, log1p } from './elementary.ts'
import { checkSet, curvaturesOf, eulerSum, type FieldSet } from './euler.ts'
import { checkShape } from './incomplete.ts'
import { poissonMass } from './mass.ts'
import { studentUpperQuantile } from './sampling.ts'
import { rootOnLine } from './share-root.ts'

/** A field divided by a scale that was estimated, the same one everywhere. */
export interface ScaledFieldSet extends FieldSet {
  /**
   * Degrees of freedom of the estimated scale; left out where the scale is known. n independent values give n; a median
   * of sizes has 0.37 n of them.
   */
  readonly scaleDof?: number
}

/**
 * Probability that the largest value of a Gaussian field of zero mean and unit variance exceeds u, as
 * 1 - (1 - L_0 P(Z > u)) exp(-(E - L_0 P(Z > u))), E the expected Euler characteristic: exact for a single point, and the
 * places above a high level are nearly Poisson. For probabilities below 0.1 within 10 % of simulation (see the test).
 * An estimated scale is averaged over: all places share its error, so that the tail is heavier.
 *
 * A tail approximation: below the level at which E can have its maximum (0, 1, 1.73 for 1, 2, 3 directions, rows being
 * one) it stays at its value there. RangeError for a set that makes no sense. source: adler-taylor-2007, worsley-1995
 */
export function exceedanceOfField(u: number, set: ScaledFieldSet): number {
  checkSet(set)
  if (Number.isNaN(u)) return u
  const known = knownScale(set)
  if (set.scaleDof === undefined) return known(u)
  checkShape('the degrees of freedom of a scale', set.scaleDof)
  return averaged(u, set.scaleDof, known)
}

/** The level from which on E falls, by directions: the largest root of the Hermite polynomial of that degree. */
const FLOORS = [Number.NEGATIVE_INFINITY, 0, 1, Math.sqrt(3)]

function knownScale(set: FieldSet): (u: number) => number {
  const { extents, rows } = set
  const curvatures = curvaturesOf(extents)
  const floor = floorOf(set)
  return (u) => {
    const level = Math.max(u, floor)
    const point = curvatures[0]! * normalSurvival(level)
    const rest = eulerSum(level, curvatures, rows) - point
    return -expm1(log1p(-point) - rest)
  }
}

const floorOf = ({ extents, rows }: FieldSet): number =>
  FLOORS[extents.length + (rows !== undefined && rows.count > 1 ? 1 : 0)]!

/**
 * Mean over s = estimated/true scale by the trapezoidal rule over log s, from where the integrand is largest out until
 * nothing is added. source: trefethen-weideman-2014
 */
function averaged(u: number, dof: number, known: (u: number) => number): number {
  const step = Math.min(0.1, 0.5 / Math.sqrt(2 * dof))
  const tail = Math.max(u, 0)
  const middle = Math.round((0.5 * log(dof / (dof + tail * tail))) / step)
  const term = (k: number): number => {
    const s = exp((middle + k) * step)
    return dof * poissonMass(0.5 * dof, 0.5 * dof * s * s) * known(u * s)
  }
  const first = term(0)
  return step * (first + oneSide(term, 1, first) + oneSide(term, -1, first))
}

function oneSide(term: (k: number) => number, side: 1 | -1, first: number): number {
  let sum = 0
  let last = first
  for (let k = side; ; k += side) {
    const next = term(k)
    sum += next
    if (next <= last && next <= 1e-13 * (first + sum)) return sum
    last = next
  }
}

/**
 * The level that the largest value of a field exceeds with probability p (0 < p < 1; RangeError outside):
 * `exceedanceOfField` solved for u. Never below the level down to which that holds (0, 1, 1.73 for 1, 2, 3 directions, rows being one).
 */
export function levelForExceedance(p: number, set: ScaledFieldSet): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a probability between 0 and 1 is needed, not ${p}`)
  const share = (u: number): number => exceedanceOfField(u, set)
  const low = Math.max(-8, floorOf(set))
  if (!(share(low) > p)) return low
  let high = Math.max(4, normalUpperQuantile(p))
  while (share(high) > p) high *= 2
  const at = (u: number): { share: number; slope: number } => ({
    share: share(u),
    slope: (share(u + NEAR) - share(u - NEAR)) / (2 * NEAR)
  })
  return rootOnLine({ goal: p, start: 0.5 * (Math.max(low, 0) + high), rises: false, at }, { low, high })
}

const NEAR = 1e-5

/**
 * The level for a value divided by an estimated scale that is exceeded as rarely as `level` is by a standard normal:
 * Student's t with the degrees of freedom of the scale. For a single place; for the largest of a field over which one
 * estimate holds, give `scaleDof` to `levelForExceedance`. source: abramowitz-stegun-1964, 26.7
 */
export const levelForEstimatedScale = (level: number, dof: number): number =>
  studentUpperQuantile(normalSurvival(level), dof)
