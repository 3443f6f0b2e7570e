import { exp, log } from '@trueloop/ground/numerics'

/** What somebody expects before the trial: sizes found in half and in nine of ten cases, mm. */
export interface Expected {
  readonly a50_mm: number
  readonly a90_mm: number
}

/** What a trial of these sizes will be able to show if that comes true. */
export interface Reach {
  /** a90/95 that is to be expected, over a90. */
  readonly bound_over_a90: number
  /** Slope over its standard error: below 1.645 a trial most often shows nothing at all. */
  readonly slope_in_errors: number
}

const Z95 = 1.6448536269514722

/**
 * Hits and misses of single looks, logit of ln a: b1 = ln 9 / ln(a90 / a50), b0 = -b1 ln a50; information sum p (1 - p) x x',
 * its inverse V; a90/95 = a90 exp(z se), se^2 = (V00 + 2 x V01 + x^2 V11) / b1^2 at x = ln a90. By propagation, which falls
 * short of its 95 % (88 % at 60 flaws): for comparing plans, never for a result. source: nist-e-handbook, propagation of error
 */
export function reachOf(sizes_mm: readonly number[], { a50_mm, a90_mm }: Expected): Reach | undefined {
  if (!(a50_mm > 0 && a90_mm > a50_mm)) return undefined
  const slope = log(9) / log(a90_mm / a50_mm)
  const offset = -slope * log(a50_mm)
  let [s0, s1, s2] = [0, 0, 0]
  for (const size of sizes_mm) {
    if (!(size > 0)) continue
    const x = log(size)
    const p = 1 / (1 + exp(-(offset + slope * x)))
    const weight = p * (1 - p)
    s0 += weight
    s1 += weight * x
    s2 += weight * x * x
  }
  const determinant = s0 * s2 - s1 * s1
  if (!(determinant > 1e-12 * s0 * s2)) return undefined
  const x90 = log(a90_mm)
  const variance = (s2 - 2 * x90 * s1 + x90 * x90 * s0) / determinant / (slope * slope)
  return {
    bound_over_a90: exp(Z95 * Math.sqrt(variance)),
    slope_in_errors: slope / Math.sqrt(s0 / determinant)
  }
}

/** Sizes from least to most in equal ratios: even over the rise where nothing better is known. */
export const spreadSizes = (least_mm: number, most_mm: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, at) => least_mm * exp((log(most_mm / least_mm) * at) / Math.max(1, count - 1)))
