import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Same, workedAgain } from '../again.ts'
import { type Code, refuse } from '../codes.ts'
import { type FalseCalls, falseCallsOf } from '../false-calls.ts'
import { hashOfRows, type ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'
import type { Exclusion } from '../rows.ts'
import { type SignalAdvice, signalAdvice } from './advice.ts'
import { type SignalCurve, signalCurve } from './curve.ts'
import { type TriedResponse, tryAll } from './fits.ts'
import { type RepeatedCurve, repeatedCurve } from './repeats.ts'
import { type GivenSignalRow, type SignalRow, sortSignals } from './rows.ts'
import { type SignalStudy, signalStudySchema } from './study.ts'

/** Grows when any figure of a study would come out otherwise. */
export const signalMethod = 2

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface SignalResult {
  readonly kind: 'signal-response-result'
  readonly method: number
  readonly program: string
  readonly study: SignalStudy
  readonly data: {
    readonly sha256: string
    readonly rows: number
    readonly flaws: number
    readonly blanks: number
    readonly below: number
    readonly read: number
    readonly above: number
    readonly exclusions: readonly Exclusion[]
  }
  /** blanks whose signal reached the threshold */
  readonly falseCalls: Result<FalseCalls, Code>
  /** all four responses; rows of repeats are no independent rows, and none is tried on them */
  readonly fits: readonly TriedResponse[]
  /** one row a flaw */
  readonly curve?: Result<SignalCurve, Code>
  /** repeats, several inspectors */
  readonly repeated?: Result<RepeatedCurve, Code>
  /** the size called with the share and confidence asked, m */
  readonly stated_m: Result<number, Code>
  readonly advice: readonly SignalAdvice[]
}

/**
 * A study of signal against size from its rows; sizes in m. Blanks feed the false-call rate alone. It holds for the
 * flaws, people and conditions of the trial, and for its threshold.
 * Refuses: prove/bad-question and what `sortSignals` refuses; in `curve`, `repeated` and `stated_m` what hinders a
 * response or a bound; in `falseCalls`: prove/no-blanks. source: mil-hdbk-1823a-2009; berens-1989
 */
export function proveSignal(
  asked: unknown,
  rows: readonly GivenSignalRow[],
  { hash, program }: ProveWith
): Result<SignalResult, Code> {
  const study = read(signalStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const sorted = sortSignals(rows, study)
  if (isRefusal(sorted)) return sorted
  const { flaws, blanks, exclusions } = sorted
  if (flaws.length === 0) return noFlaws(blanks.length)
  const isOne = study.inspectors === 'one'
  const curve = isOne ? signalCurve(flaws, study) : undefined
  const repeated = isOne ? undefined : repeatedCurve(flaws, study)
  const of: Result<{ readonly stated: Result<number, Code> }, Code> = curve ?? repeated!
  const falseCalls = falseCallsOf(
    blanks.map((row) => calledBlank(row, study)),
    study.confidence
  )
  const fits = isOne ? tryAll(flaws) : []
  const count = (side: number): number => flaws.filter((row) => row.side === side).length
  const counts = { rows: rows.length, flaws: flaws.length, blanks: blanks.length }
  return {
    ...{ kind: 'signal-response-result', method: signalMethod, program, study },
    data: {
      ...{ sha256: hashOfSignals(rows, hash), ...counts },
      ...{ below: count(-1), read: count(0), above: count(1), exclusions }
    },
    ...{ falseCalls, fits, ...(curve === undefined ? {} : { curve }), ...(repeated === undefined ? {} : { repeated }) },
    stated_m: isRefusal(of) ? of : of.stated,
    advice: signalAdvice({ study, flaws, falseCalls, fits, curve, repeated })
  }
}

/** A blank is called where its signal, or the limit it lies beyond, reaches the threshold. */
const calledBlank = ({ row, size_m, site, inspector, signal, side }: SignalRow, { threshold }: SignalStudy) => ({
  ...{ row, size_m, site, inspector },
  hit: side >= 0 && signal >= threshold
})

/** Hash of the rows as given, excluded ones too. */
export const hashOfSignals = (rows: readonly GivenSignalRow[], hash: ProveWith['hash']): string =>
  hashOfRows(
    rows.map((row) => ({ ...row, hit: null })),
    hash
  )

/**
 * The same study again from the result alone and the rows that its hash names; `same` is said to the bit.
 * Refuses: prove/other-data, prove/other-method, and as `proveSignal`.
 */
export const proveSignalAgain = (
  before: SignalResult,
  rows: readonly GivenSignalRow[],
  { hash, program }: ProveWith
): Result<Same<SignalResult>, Code> =>
  workedAgain(before, { method: signalMethod, sha256: hashOfSignals(rows, hash) }, () =>
    proveSignal(before.study, rows, { hash, program })
  )

const noFlaws = (blanks: number): Refusal<Code> =>
  refuse('prove/no-rows', {
    found: `no flaw that is used, ${blanks} blanks`,
    needed: 'flaws of several sizes',
    remedy: 'look at why the rows were excluded'
  })
