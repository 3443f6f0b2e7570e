export {
  type Candidate,
  CandidateTracker,
  MOST_CANDIDATES,
  type Row,
  type Screen,
  type Screened
} from './candidates.ts'
export type { Class, Evidence } from './classes.ts'
export type { ExamineEvent } from './event.ts'
export { type Interpretation, type Interpreted, type InterpretInput, interpret } from './interpret.ts'
export { type Pair, screened } from './screened.ts'
export { selfAnswer } from './sidelobes.ts'
export { swing } from './swing.kernel.ts'
export { type Threshold, thresholdOf } from './threshold.ts'
export { type Stretch, StretchTracker } from './track.ts'
