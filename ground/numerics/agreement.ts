import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { normalQuantile } from './distribution.ts'

/** Agreement of two raters beyond chance. */
export interface CohenKappa {
  readonly observed: number
  readonly byChance: number
  readonly kappa: number
  readonly error: number
  readonly lower: number
  readonly upper: number
  /** standard error where there is no agreement beyond chance: for the test of that alone */
  readonly errorOfNone: number
  /** the largest kappa that these shares of the categories allow */
  readonly largest: number
}

const total = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)

/**
 * kappa = (po - pe)/(1 - pe) of a table [category of the first rater][of the second] of counts, with its large-sample
 * interval. Refuses: numerics/degenerate (one category only: pe = 1). Throws RangeError for a table that is not square.
 * source: cohen-1960; fleiss-cohen-everitt-1969
 */
export function cohenKappa(
  table: readonly (readonly number[])[],
  confidence: number
): Result<CohenKappa, NumericsCode> {
  if (table.length < 2 || table.some((row) => row.length !== table.length))
    throw new RangeError('a square table of two categories or more is needed')
  const n = total(table.flat())
  const p = table.map((row) => row.map((count) => count / n))
  const first = p.map(total)
  const second = first.map((_, j) => total(p.map((row) => row[j]!)))
  const observed = total(p.map((row, i) => row[i]!))
  const byChance = total(first.map((share, i) => share * second[i]!))
  if (!(1 - byChance > 1e-12)) return oneCategory(n)
  const kappa = (observed - byChance) / (1 - byChance)
  const on = total(p.map((row, i) => row[i]! * square(1 - (first[i]! + second[i]!) * (1 - kappa))))
  const off = total(
    p.flatMap((row, i) => row.map((share, j) => (i === j ? 0 : share * square(second[i]! + first[j]!))))
  )
  const whole = square(kappa - byChance * (1 - kappa))
  const scale = n * square(1 - byChance)
  const error = Math.sqrt(Math.max(0, on + square(1 - kappa) * off - whole) / scale)
  const cross = total(first.map((share, i) => share * second[i]! * (share + second[i]!)))
  const reach = normalQuantile(0.5 + 0.5 * confidence) * error
  return {
    observed,
    byChance,
    kappa,
    error,
    lower: kappa - reach,
    upper: kappa + reach,
    errorOfNone: Math.sqrt(Math.max(0, byChance + square(byChance) - cross) / scale),
    largest: (total(first.map((share, i) => Math.min(share, second[i]!))) - byChance) / (1 - byChance)
  }
}

const square = (x: number): number => x * x

/** Agreement of several raters beyond chance. */
export interface FleissKappa {
  readonly observed: number
  readonly byChance: number
  readonly kappa: number
  readonly errorOfNone: number
  /** each category against all others; undefined where it was never or always chosen */
  readonly ofCategories: readonly (number | undefined)[]
}

/**
 * kappa of counts [subject][category], each subject rated equally often.
 * Refuses: numerics/degenerate (one category only), numerics/too-few-points (fewer than two ratings or subjects).
 * Throws RangeError for subjects rated unequally often. source: fleiss-1971
 */
export function fleissKappa(counts: readonly (readonly number[])[]): Result<FleissKappa, NumericsCode> {
  const [subjects, ratings] = [counts.length, total(counts[0] ?? [])]
  if (counts.some((row) => total(row) !== ratings)) throw new RangeError('subjects rated equally often are needed')
  if (subjects < 2 || ratings < 2) return tooFew(subjects, ratings)
  const shares = counts[0]!.map((_, j) => total(counts.map((row) => row[j]!)) / (subjects * ratings))
  const pairs = counts.map((row) => (total(row.map(square)) - ratings) / (ratings * (ratings - 1)))
  const observed = total(pairs) / subjects
  const byChance = total(shares.map(square))
  if (!(1 - byChance > 1e-12)) return oneCategory(subjects * ratings)
  const mixed = total(shares.map((p) => p * (1 - p)))
  const skew = total(shares.map((p) => p * (1 - p) * (1 - 2 * p)))
  const scale = mixed * Math.sqrt(subjects * ratings * (ratings - 1))
  return {
    observed,
    byChance,
    kappa: (observed - byChance) / (1 - byChance),
    errorOfNone: Math.sqrt(2 * (square(mixed) - skew)) / scale,
    ofCategories: shares.map((p, j) => {
      const apart = total(counts.map((row) => row[j]! * (ratings - row[j]!)))
      return p > 0 && p < 1 ? 1 - apart / (subjects * ratings * (ratings - 1) * p * (1 - p)) : undefined
    })
  }
}

function oneCategory(count: number): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: `${count} ratings, all of one category`,
    needed: 'ratings of two categories or more',
    remedy: 'state the share of agreement alone: agreement beyond chance is not defined here'
  })
}

function tooFew(subjects: number, ratings: number): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${subjects} subjects rated ${ratings} times each`,
    needed: 'two subjects or more, each rated twice or more',
    remedy: 'have every subject rated by another person'
  })
}
