import { normalCumulative, normalDensity, normalSurvival } from './distribution.ts'
import { acos, atan, cos, exp, PI, TAU } from './elementary.ts'

/** One direction in which a field runs on without a break. */
export interface Extent {
  /** In units in which the gradient has unit variance: length times the root of the gradient variance -R''(0). */
  readonly length: number
  /** True where its end is its beginning, as around a hole. */
  readonly closed: boolean
}

/** A direction in which the field is known at separate places only, each with all of the other directions. */
export interface Rows {
  readonly count: number
  /** Between neighboring rows at the same place, in (-1, 1). */
  readonly correlation: number
}

/** Where a field lives: the product of its directions. */
export interface FieldSet {
  /** Up to 3 without rows, up to 2 with. */
  readonly extents: readonly Extent[]
  readonly rows?: Rows
}

/**
 * The direction that stands for a maximum over angles: x cos(a) + y sin(a), |a| <= half-angle, of two independent fields
 * of unit variance and equal spectrum is one field of unit variance over one direction more, in which its gradient has
 * unit variance. From half a turn on it is the length of the vector.
 */
export function coneExtent(halfAngle_rad: number): Extent {
  if (!(halfAngle_rad >= 0)) throw new RangeError(`a half-angle of 0 or more is needed, not ${halfAngle_rad}`)
  return halfAngle_rad >= PI ? { length: TAU, closed: true } : { length: 2 * halfAngle_rad, closed: false }
}

/**
 * Expected Euler characteristic of the part of the set in which a Gaussian field of zero mean and unit variance exceeds
 * u: high up, the expected number of separate places. Without rows it is sum L_j rho_j(u) with
 * rho_0 = P(Z > u), rho_j = (2 pi)^(-(j + 1)/2) He_(j - 1)(u) exp(-u^2/2); L_j are the coefficients of the product of
 * (1 + length t) for open and (length t) for closed directions: a rectangle a x b has 1, a + b, a b; a cylinder of
 * girth c keeps of its boundary the two circles only, 0, c, c a. source: adler-taylor-2007, 12.4.1; worsley-1995
 *
 * With rows, the places are joined where neighboring rows exceed u at the same place: count rho_j less (count - 1) times
 * the density rho_j' of that happening in two fields at once, which is exact for a covariance that is a product of one
 * along the rows and one across them, and tends to the continuous direction as the rows come close. rho_j' follows from
 * the Gaussian measure of the tube around the wedge {both > u}. source: taylor-2006
 *
 * Holds for stationary fields with two derivatives whose gradient components are uncorrelated. RangeError for a set that
 * makes no sense.
 */
export function eulerOfField(u: number, set: FieldSet): number {
  checkSet(set)
  return eulerSum(u, curvaturesOf(set.extents), set.rows)
}

/** L_0 … L_d. */
export function curvaturesOf(extents: readonly Extent[]): readonly number[] {
  let product = [1]
  for (const { length, closed } of extents) {
    product = Array.from(
      { length: product.length + 1 },
      (_, j) => (closed ? 0 : (product[j] ?? 0)) + length * (product[j - 1] ?? 0)
    )
  }
  return product
}

export function eulerSum(u: number, curvatures: readonly number[], rows: Rows | undefined): number {
  const single = densities(u)
  const both = rows === undefined || rows.count === 1 ? undefined : pairDensities(u, rows.correlation)
  const count = rows?.count ?? 1
  return curvatures.reduce((sum, curvature, j) => {
    return curvature === 0 ? sum : sum + curvature * (count * single[j]!() - (count - 1) * (both?.[j]?.() ?? 0))
  }, 0)
}

type Densities = readonly (() => number)[]

function densities(u: number): Densities {
  const density = normalDensity(u)
  return [
    () => normalSurvival(u),
    () => density / Math.sqrt(TAU),
    () => (u * density) / TAU,
    () => ((u * u - 1) * density) / (TAU * Math.sqrt(TAU))
  ]
}

/**
 * The same for two fields of correlation r that both exceed u: a wedge whose faces lie at distance u, its edge at
 * distance u sqrt(2/(1 + r)), its normals acos(r) apart.
 */
function pairDensities(u: number, r: number): Densities {
  const slope = Math.sqrt((1 - r) / (1 + r))
  const face = (): number => normalDensity(u) * normalSurvival(u * slope)
  return [
    () => orthant(u, slope),
    () => (2 * face()) / Math.sqrt(TAU),
    () => (2 * u * face() + (acos(r) * exp((-u * u) / (1 + r))) / TAU) / TAU
  ]
}

const PANELS = 128
/** Boole's rule, over and over: ends of neighbors fall together. */
const WEIGHTS = [14, 32, 12, 32]
/** Where the integrand has fallen by exp(-24), the rest is left out. */
const DEPTH = 24

/**
 * P(both > u) of a standard normal pair of correlation r, slope = sqrt((1 - r)/(1 + r)): 1/pi times the integral of
 * exp(-u^2/2/cos^2 w) over w from atan(slope) to a right angle, and for u < 1/2, where that ends too steeply,
 * P(Z > u) - 2 T(u, slope) with Owen's T. Relative error below 1e-6. source: owen-1956
 */
export function orthant(u: number, slope: number): number {
  if (u < 0.5) return normalSurvival(u) - 2 * owenT(Math.abs(u), slope)
  const end = atan(Math.sqrt(slope * slope + (2 * DEPTH) / (u * u)))
  return slice(u, atan(slope), end) / PI
}

function owenT(h: number, a: number): number {
  if (a <= 1) return slice(h, 0, atan(a)) / TAU
  const [p, q] = [normalCumulative(h), normalCumulative(a * h)]
  return 0.5 * (p + q) - p * q - owenT(a * h, 1 / a)
}

function slice(u: number, start: number, end: number): number {
  const step = (end - start) / PANELS
  const height = (i: number): number => {
    const c = cos(start + i * step)
    return exp((-0.5 * u * u) / (c * c))
  }
  let sum = 7 * (height(PANELS) - height(0))
  for (let i = 0; i < PANELS; i++) sum += WEIGHTS[i % 4]! * height(i)
  return (2 * step * sum) / 45
}

export function checkSet({ extents, rows }: FieldSet): void {
  const most = rows === undefined ? 3 : 2
  if (extents.length > most) throw new RangeError(`at most ${most} directions can be taken, not ${extents.length}`)
  for (const { length } of extents) {
    if (!(length >= 0 && length < Number.POSITIVE_INFINITY)) {
      throw new RangeError(`a length of 0 or more is needed, not ${length}`)
    }
  }
  if (rows !== undefined) checkRows(rows)
}

function checkRows({ count, correlation }: Rows): void {
  if (!(count >= 1 && Math.floor(count) === count)) throw new RangeError(`1 row or more is needed, not ${count}`)
  if (!(Math.abs(correlation) < 1)) throw new RangeError(`a correlation in (-1, 1) is needed, not ${correlation}`)
}
