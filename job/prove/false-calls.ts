import { binomialLowerBound, binomialUpperBound, type Interval } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'
import type { StudyRow } from './rows.ts'

/** Calls on sites known to hold no flaw. One opportunity is one blank site looked at once. */
export interface FalseCalls {
  readonly blanks: number
  readonly calls: number
  readonly rate: number
  /** one-sided, exact */
  readonly upper: number
  /** two-sided at the same confidence, exact */
  readonly interval: Interval
}

/**
 * Rate x/N of false calls with its exact upper bound, Beta^-1(confidence; x + 1, N - x). Refuses: prove/no-blanks.
 * source: clopper-pearson-1934
 */
export function falseCallsOf(blanks: readonly StudyRow[], confidence: number): Result<FalseCalls, Code> {
  if (blanks.length === 0) return noBlanks()
  const calls = blanks.filter(({ hit }) => hit).length
  const counted = { successes: calls, trials: blanks.length }
  const twoSided = 0.5 + 0.5 * confidence
  return {
    ...{ blanks: blanks.length, calls, rate: calls / blanks.length, upper: binomialUpperBound(counted, confidence) },
    interval: { lower: binomialLowerBound(counted, twoSided), upper: binomialUpperBound(counted, twoSided) }
  }
}

const noBlanks = (): Result<never, Code> =>
  refuse('prove/no-blanks', {
    found: 'no site known to hold no flaw',
    needed: 'blanks among the flaws, several times as many as flaws',
    remedy: 'add blanks: who calls every site finds all flaws, and only blanks show it'
  })
