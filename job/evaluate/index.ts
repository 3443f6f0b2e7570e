export { type Code, codes } from './codes.ts'
export { extentThrough, filledShare, seenAt } from './footprint.ts'
export type { Faces } from './length.ts'
export type { Documents, Measured, SizedUnder } from './measured.ts'
export { type Known, observedRatio } from './observed.ts'
export { type AnswerLeft, sizeBehindLoss } from './oversize.ts'
export { type Sizing, sizing } from './parameters.ts'
export { proposalOf } from './proposal.ts'
export { ratioAgainst, type Setup, studyAgainst } from './ratio.ts'
export {
  furtherCutFigure,
  type ReamAsked,
  type ReamFact,
  type ReamFigure,
  type ReamStart,
  type ReamState,
  type ReamStep,
  type ReamTerms,
  reamFigure,
  reamState,
  reamSteps,
  type Shown,
  type SizedIndication
} from './ream/index.ts'
export { type RowNoise, rowsOf } from './rows.ts'
export { sizeOf } from './size.ts'
export type { DepthRange, RatioUsed, SizeStatement } from './statement.ts'
export { clearNotches, type Shaped } from './tails.ts'
export { type TrackMeasured, type TrackStudy, trackSize } from './track-size.ts'
