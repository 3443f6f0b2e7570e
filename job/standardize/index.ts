export { absoluteUnder } from './absolute.ts'
export { scaleOf } from './coating-response.ts'
export type { CoatingRead, CoatingScale } from './coating-scale.ts'
export { type Code, codes } from './codes.ts'
export { type Edges, findEdges, type MeanTrace, TRACE_STEP } from './edges.ts'
export { type Form, fittedShape, matchedWeights, shapeOf, unitShape } from './form.ts'
export {
  bandOf,
  HOLE_REFERENCE_METHOD,
  type HoleReference,
  openHoleReference,
  type ReferenceRun,
  type Standardized,
  spacingOf
} from './hole.ts'
export { type Chord, longestChord } from './loop.kernel.ts'
export { matchedOutput } from './matched.kernel.ts'
export { lineAngle } from './notches.ts'
export { openParent, type ParentInput, type ParentReading } from './parent.ts'
export { angleBetween, angleOf, type DepthScale, depthAt, pointAt } from './place.ts'
export { compareRecheck, type Drift, type RecheckResult } from './recheck.ts'
export { isClearOfLiftOff } from './separation.ts'
export { slotUnder } from './slot-answers.ts'
export type {
  AxialProfile,
  CoatingResponse,
  FittedNoise,
  FittedRows,
  FromLiftOff,
  JoinedNoise,
  LeftOut,
  LimitMet,
  Noise,
  NotchReading,
  ShimResponse,
  SlotAnswer,
  Standardization
} from './standardization.ts'
export { trackBand, trackStep } from './track.ts'
export { lead, trail } from './track-run.ts'
export { openWeldReference, standardizeWeld, WELD_REFERENCE_METHOD } from './weld.ts'
export { openShimRun, type ShimReading, type ShimRun, type WeldReference } from './weld-shim.ts'
