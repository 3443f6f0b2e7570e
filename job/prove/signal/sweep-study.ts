import { type LawFit, laws } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Same, workedAgain } from '../again.ts'
import type { Code } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'
import { hashOfSignals } from './prove.ts'
import type { GivenSignalRow } from './rows.ts'
import { signalStudySchema } from './study.ts'
import { type SweptThreshold, sweepThresholds } from './sweep.ts'

const MOST_STEPS = 200

/** What other thresholds would give, before one is chosen for the next trial. Nothing in it has a default. */
export const sweepStudySchema = z.strictObject({
  kind: z.literal('threshold-sweep'),
  version: z.literal(1),
  name: z.string().min(1).describe('what the study is called'),
  of: signalStudySchema.describe('the study whose threshold is moved; its own stays what it was'),
  thresholds: z
    .strictObject({
      from: z.number(),
      to: z.number(),
      count: z.number().int().min(2).max(MOST_STEPS)
    })
    .refine(({ from, to }) => from < to, 'thresholds that rise are needed'),
  noise: z
    .strictObject({
      law: z.enum(laws),
      parameters: z.array(z.number()).min(1).max(2),
      from: z.string().min(1).describe('the study of the noise that they come from')
    })
    .nullable()
    .describe('law of the noise as a study of it gave it; null: false calls are not told')
})

export type SweepStudy = z.output<typeof sweepStudySchema>

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface SweepResult {
  readonly kind: 'sweep-result'
  readonly method: number
  readonly program: string
  readonly study: SweepStudy
  readonly data: { readonly sha256: string; readonly rows: number }
  readonly swept: readonly SweptThreshold[]
}

/** Grows when any figure of a study would come out otherwise. */
export const sweepMethod = 1

/** Sizes and false calls over thresholds at equal steps. Refuses: prove/bad-question; in each row as `sweepThresholds`. */
export function proveSweep(
  asked: unknown,
  rows: readonly GivenSignalRow[],
  { hash, program }: ProveWith
): Result<SweepResult, Code> {
  const study = read(sweepStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const { from, to, count } = study.thresholds
  const thresholds = Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1))
  const swept = sweepThresholds(study.of, rows, {
    thresholds,
    ...(study.noise === null ? {} : { noise: lawOf(study.noise) })
  })
  if (isRefusal(swept)) return swept
  return {
    ...{ kind: 'sweep-result', method: sweepMethod, program, study },
    data: { sha256: hashOfSignals(rows, hash), rows: rows.length },
    swept
  }
}

/** A law as its parameters tell it; how well it fitted is the noise study's to say. */
const lawOf = ({ law, parameters }: NonNullable<SweepStudy['noise']>): LawFit => ({
  ...{ law, parameters, logLikelihood: Number.NaN, aic: Number.NaN }
})

/** The same study again from the result alone and its rows. Refuses: prove/other-data, prove/other-method, and as `proveSweep`. */
export const proveSweepAgain = (
  before: SweepResult,
  rows: readonly GivenSignalRow[],
  { hash, program }: ProveWith
): Result<Same<SweepResult>, Code> =>
  workedAgain(before, { method: sweepMethod, sha256: hashOfSignals(rows, hash) }, () =>
    proveSweep(before.study, rows, { hash, program })
  )
