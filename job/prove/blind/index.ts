export { checkTrial, type TrialWarning, trialWarnings } from './check.ts'
export { type ClosedTrial, type Closing, closeTrial, type NotExamined } from './close.ts'
export { type ProposedCounts, proposedCounts } from './counts.ts'
export { callOf, type ExaminedResults, type LeftOpen, resultsOfJob } from './examined.ts'
export { type Outlook, type OutlookAsked, type OutlookRow, outlookOf, rowOf as outlookRow } from './outlook.ts'
export { type Expected, type Reach, reachOf, spreadSizes } from './reach.ts'
export {
  answersOf,
  calledWords,
  closedCallsOf,
  closedLooksOf,
  closedRowsOf,
  closedSignalsOf,
  runningTrialOf,
  trialOf
} from './read.ts'
export { signalReachOf } from './signal-reach.ts'
export {
  type Answers,
  type BuiltTrial,
  buildTrial,
  type ExaminedFrom,
  type FlawKind,
  flawKindsOf,
  type RunningTrial,
  type Site,
  type TrialInput,
  type TrialResult,
  trialInputSchema
} from './trial.ts'
