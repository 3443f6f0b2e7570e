/** Recordings with known truth: generated, and the one definition of what counts as found, false and voided. */

export { type ClassedHole, type ClassRow, classTable } from './classing.ts'
export { type Code, codes, refuse } from './codes.ts'
export { type DemoRecording, demoRecordings, demoSpares } from './demo.ts'
export { demoDrawing } from './demo-drawing.ts'
export { type DemoHole, demoHoles } from './demo-holes.ts'
export { demoPassphrase, demoPeople, demoRegisters } from './demo-people.ts'
export { demoSheet } from './demo-sheet.ts'
export { type DrawnHole, drawBlank } from './draw/blank.ts'
export {
  type Condition,
  conditions,
  drawFaulty,
  type FaultKind,
  faultKinds,
  underCondition
} from './draw/condition.ts'
export { drawFlawed, type FlawWish, mostFlaws } from './draw/flawed.ts'
export type { Aspects, Spread } from './draw/geometry.ts'
export { drawNuisance, nuisanceKinds } from './draw/nuisance.ts'
export { drawSetup, type Setup } from './draw/setup.ts'
export {
  type FieldFlaw,
  type FieldProbe,
  type FieldWinding,
  memoryShelf,
  notReady,
  pairProbeOf,
  type ResponseTable,
  type TableShelf
} from './field/index.ts'
export { generate, generateSegments, type Recording } from './generate.ts'
export {
  type Habit,
  type HabitForm,
  type HabitPeak,
  habitCalls,
  habitOf,
  habitPeaks,
  NOTCH_ON_SCREEN
} from './habit.ts'
export { type HandFeed, handFeed } from './hand-feed.ts'
export {
  type Columns,
  type Mixed,
  MOST_HOLES,
  MOST_MIXED,
  mixable,
  mixOf,
  type OwnReference,
  ownReferenceIn,
  ownReferenceOf,
  type Practice,
  practiceOf,
  recordedFrom,
  type ToMix
} from './practice/index.ts'
export { atRate, atSpeed, resample, type Sampled } from './resample.ts'
export type * from './scene.ts'
export {
  type Call,
  type CalledSize,
  type Find,
  findsOf,
  type Ground,
  type HoleOutcome,
  isCaught,
  isFalse,
  isFoundBy,
  limits,
  type NotchRange,
  type Rules,
  type Score,
  type Step,
  score,
  voidedHoles
} from './score.ts'
export { SEEDS } from './seeds.ts'
export {
  type CoatingFigures,
  scoreTracks,
  type TrackCall,
  type TrackOutcome,
  type TrackRules,
  type TrackScore,
  type TrueTrackFlaw
} from './track-score.ts'
export { SETUPS, type TrialHole, type TrialLimits, type TrialName, type TrialPart, trials } from './trials.ts'
export { type Nuisance, type NuisanceKind, type TrueFlaw, type Truth, truthOf } from './truth.ts'
export { type SampleFormat, type WaveForm, waveFrames, waveHeader, writeWave } from './wave-writer.ts'
export {
  generateTrack,
  type TrackFlaw,
  type TrackRecording,
  type TrackScene,
  trackSegment,
  type Wander
} from './weld.ts'
export type { Absolute, TrackPaint } from './weld-coating.ts'
export { trackCsv, type WeldDemoRecording, weldDemoRecording, weldDemoRecordings } from './weld-demo.ts'
export { weldDemoSheet } from './weld-demo-sheet.ts'
export type { TrackNuisance } from './weld-nuisances.ts'
