import type { LawFit } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Code } from '../codes.ts'
import { read } from '../question.ts'
import { signalCurve } from './curve.ts'
import { falseCallChance } from './noise.ts'
import { repeatedCurve } from './repeats.ts'
import { type GivenSignalRow, sortSignals } from './rows.ts'
import { type SignalStudy, signalStudySchema } from './study.ts'

/** What one threshold would give: sizes on one side, false calls on the other. */
export interface SweptThreshold {
  readonly threshold: number
  /** per opportunity, by the law of the noise */
  readonly falseCalls?: number
  readonly sizes: Result<SweptSizes, Code>
}

export interface SweptSizes {
  readonly a50_m: number
  readonly asked_m: number
  readonly stated: Result<number, Code>
}

/**
 * A study at several thresholds, for the choice of one before the next trial; the study's own stays what it was.
 * Refuses: prove/bad-question; in each row what `sortSignals` and the response refuse.
 */
export function sweepThresholds(
  asked: unknown,
  rows: readonly GivenSignalRow[],
  { thresholds, noise }: { readonly thresholds: readonly number[]; readonly noise?: LawFit }
): Result<readonly SweptThreshold[], Code> {
  const study = read(signalStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  return thresholds.map((threshold) => ({
    threshold,
    ...(noise === undefined ? {} : { falseCalls: falseCallChance(noise, threshold) }),
    sizes: sizesAt(rows, { ...study, threshold })
  }))
}

function sizesAt(rows: readonly GivenSignalRow[], study: SignalStudy): Result<SweptSizes, Code> {
  const sorted = sortSignals(rows, study)
  if (isRefusal(sorted)) return sorted
  if (study.inspectors !== 'one') return worstSizes(sorted.flaws, study)
  const curve = signalCurve(sorted.flaws, study)
  if (isRefusal(curve)) return curve
  const { a50_m, asked_m, stated } = curve
  return { a50_m, asked_m, stated }
}

function worstSizes(flaws: Parameters<typeof repeatedCurve>[0], study: SignalStudy): Result<SweptSizes, Code> {
  const curve = repeatedCurve(flaws, study)
  if (isRefusal(curve)) return curve
  const worst = curve.groups.reduce((a, b) => (b.asked_m > a.asked_m ? b : a))
  return { a50_m: worst.a50_m, asked_m: worst.asked_m, stated: curve.stated }
}
