/** What size of flaw the whole system finds, and how well people and instruments agree. */

export type { Same } from './again.ts'
export {
  type AgainstTruth,
  type AgreementResult,
  type AgreementStudy,
  agreementMethod,
  agreementStudySchema,
  type Counted,
  type GivenCall,
  proveAgreement,
  proveAgreementAgain
} from './agreement/calls.ts'
export {
  compareInstruments,
  compareInstrumentsAgain,
  type GivenPair,
  type InstrumentResult,
  type InstrumentStudy,
  instrumentMethod,
  instrumentStudySchema
} from './agreement/instruments.ts'
export { agreementBlocks } from './agreement/report/agreement-blocks.ts'
export { instrumentBlocks } from './agreement/report/instrument-blocks.ts'
export { type Attachable, againstTrial, attachable, attachableDemonstration, differing, resultOf } from './attach.ts'
export * from './blind/index.ts'
export { type Code, codes, refuse } from './codes.ts'
export {
  type DemonstrationOutcome,
  demonstrationMethod,
  judgeDemonstration,
  type Trial,
  type TrialRow
} from './demonstration/judge.ts'
export {
  type DemonstrationPlan,
  demonstrationPlanSchema,
  type EarlierTrial,
  type PlannedDemonstration,
  planDemonstration,
  planHash
} from './demonstration/plan.ts'
export { demonstrationBlocks } from './demonstration/report/blocks.ts'
export {
  type Counts,
  chanceOfPassing,
  demonstrationTable,
  fewestFlaws,
  type Goal,
  shownBy
} from './demonstration/table.ts'
export { type FalseCalls, falseCallsOf } from './false-calls.ts'
export type { Components, DeviationInterval, RawVariances } from './gauge/components.ts'
export {
  type GaugeResult,
  type GaugeShare,
  type GaugeSource,
  gaugeMethod,
  gaugeSources,
  proveGauge,
  proveGaugeAgain
} from './gauge/prove.ts'
export type { RangeFigures } from './gauge/ranges.ts'
export { gaugeBlocks } from './gauge/report/blocks.ts'
export type { GivenReading } from './gauge/rows.ts'
export { type GaugeStudy, gaugeStudySchema } from './gauge/study.ts'
export type { Advice } from './hit-miss/advice.ts'
export {
  type AsymptoteFinding,
  type BoundMethod,
  type Criterion,
  criterionOf,
  criterionText,
  type SizeBound
} from './hit-miss/bounds.ts'
export type { TriedFit } from './hit-miss/fits.ts'
export type { CurvePoint, CurveResult, FitTests, GroupResult, PenalizedResult } from './hit-miss/group.ts'
export type { ObservedShare } from './hit-miss/observed.ts'
export {
  type HitMissResult,
  hashOfRows,
  hitMissMethod,
  type ProveWith,
  proveAgain,
  proveHitMiss
} from './hit-miss/prove.ts'
export { hitMissBlocks } from './hit-miss/report/blocks.ts'
export type { Resampled } from './hit-miss/resampled.ts'
export { type HitMissStudy, hitMissStudySchema, proposedStudy } from './hit-miss/study.ts'
export { type Monitored, type MonitoredPlace, type MonitorResult, monitor, monitoredIn } from './monitor.ts'
export { type PracticeAnswers, practiceAnswersOf, practiceAnswersSchema } from './practice-answers.ts'
export { percent } from './report/words.ts'
export { type StudyResult, standsForReal } from './results.ts'
export { type Exclusion, type GivenRow, type SortedRows, type StudyRow, sortRows, type TakenOut } from './rows.ts'
export type { SignalAdvice } from './signal/advice.ts'
export { likelihoodCriterion, type SignalBound, type SignalBoundMethod } from './signal/bounds.ts'
export type { ResponseChecks, SignalCurve, SignalPoint } from './signal/curve.ts'
export type { TriedResponse } from './signal/fits.ts'
export {
  chanceInScan,
  falseCallChance,
  type NoiseThreshold,
  type NoiseThresholdAsked,
  noiseThresholdSchema,
  type TriedLaw,
  thresholdFromNoise
} from './signal/noise.ts'
export {
  type GivenNoise,
  type NoiseResult,
  noiseStudySchema,
  proveNoise,
  proveNoiseAgain
} from './signal/noise-study.ts'
export {
  type OperatingResult,
  type OperatingStudy,
  operatingMethod,
  operatingStudySchema,
  proveOperatingPoints,
  proveOperatingPointsAgain
} from './signal/operating.ts'
export { hashOfSignals, proveSignal, proveSignalAgain, type SignalResult, signalMethod } from './signal/prove.ts'
export type { RepeatedCurve, RepeatedGroup } from './signal/repeats.ts'
export { signalBlocks } from './signal/report/blocks.ts'
export { noiseBlocks } from './signal/report/noise-blocks.ts'
export { operatingBlocks } from './signal/report/operating-blocks.ts'
export { sweepBlocks } from './signal/report/sweep-blocks.ts'
export { type GivenSignalRow, type SignalRow, type SortedSignals, signalsUsed } from './signal/rows.ts'
export { proposedBound, type SignalStudy, signalStudySchema } from './signal/study.ts'
export { type SweptSizes, type SweptThreshold, sweepThresholds } from './signal/sweep.ts'
export { proveSweep, proveSweepAgain, type SweepResult, sweepStudySchema } from './signal/sweep-study.ts'
export { sizeBlocks } from './uncertainty/report/blocks.ts'
export {
  type SizeBudgetLine,
  type SizeUncertainty,
  type SizeUncertaintyAsked,
  sizeUncertainty,
  sizeUncertaintyMethod,
  sizeUncertaintySchema
} from './uncertainty/size.ts'
