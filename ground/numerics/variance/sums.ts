import { chiSquareQuantile } from '../sampling.ts'

/** A mean square with its degrees of freedom and its weight in a sum. */
export interface MeanSquare {
  readonly value: number
  readonly dof: number
  readonly weight: number
}

export interface Limits {
  readonly lower: number
  readonly upper: number
}

const sumOf = (terms: readonly MeanSquare[]): number =>
  terms.reduce((sum, { value, weight }) => sum + weight * value, 0)

/** Degrees of freedom of a chi-square with the mean and variance of a sum of mean squares. source: satterthwaite-1946 */
export function satterthwaite(terms: readonly MeanSquare[]): number {
  const sum = sumOf(terms)
  const spread = terms.reduce((total, { value, dof, weight }) => total + (weight * value * weight * value) / dof, 0)
  return (sum * sum) / spread
}

/** Two-sided interval of a variance by chi-square: exact for one mean square of normal values. */
export function varianceLimits(variance: number, dof: number, confidence: number): Limits {
  const share = 0.5 - 0.5 * confidence
  return {
    lower: (dof * variance) / chiSquareQuantile({ tail: 'upper', share }, dof),
    upper: (dof * variance) / chiSquareQuantile({ tail: 'lower', share }, dof)
  }
}

/**
 * Two-sided interval of a sum of mean squares with positive weights: exact where one of them rules.
 * source: graybill-wang-1980
 */
export function modifiedLargeSample(terms: readonly MeanSquare[], confidence: number): Limits {
  const sum = sumOf(terms)
  const away = (side: (limits: Limits) => number): number =>
    Math.sqrt(
      terms.reduce((total, { value, dof, weight }) => {
        const reach = weight * (value - side(varianceLimits(value, dof, confidence)))
        return total + reach * reach
      }, 0)
    )
  return { lower: sum - away(({ lower }) => lower), upper: sum + away(({ upper }) => upper) }
}
