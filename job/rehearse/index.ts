/** Recordings with known truth: generated, and the one definition of what counts as found, false and voided. */
export { type DemoRecording, demoRecordings } from './demo.ts'
export { type DemoHole, demoHoles } from './demo-holes.ts'
export { demoSheet } from './demo-sheet.ts'
export { generate, generateSegments, type Recording } from './generate.ts'
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
export { type Nuisance, type TrueFlaw, type Truth, truthOf } from './truth.ts'
export { type SampleFormat, type WaveForm, waveFrames, waveHeader, writeWave } from './wave-writer.ts'
export {
  generateTrack,
  type TrackFlaw,
  type TrackRecording,
  type TrackScene,
  trackSegment,
  type Wander
} from './weld.ts'
