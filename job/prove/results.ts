import type { AgreementResult } from './agreement/calls.ts'
import type { InstrumentResult } from './agreement/instruments.ts'
import type { GaugeResult } from './gauge/prove.ts'
import type { HitMissResult } from './hit-miss/prove.ts'
import type { NoiseResult } from './signal/noise-study.ts'
import type { OperatingResult } from './signal/operating.ts'
import type { SignalResult } from './signal/prove.ts'
import type { SweepResult } from './signal/sweep-study.ts'

/** What is worked out of rows, and can be worked out again. */
export type StudyResult =
  | HitMissResult
  | SignalResult
  | NoiseResult
  | SweepResult
  | OperatingResult
  | GaugeResult
  | AgreementResult
  | InstrumentResult

export const studyKinds = [
  'hit-miss-result',
  'signal-response-result',
  'noise-result',
  'sweep-result',
  'operating-points-result',
  'gauge-result',
  'agreement-result',
  'instruments-result'
] as const satisfies readonly StudyResult['kind'][]

/** Whether what was examined stood for real flaws; gauge and agreement studies claim no capability. */
export const standsForReal = (result: StudyResult): boolean =>
  !('flaws' in result.study) || result.study.flaws === 'real'
