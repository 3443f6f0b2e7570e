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
export { angleBetween, angleOf, type DepthScale, depthAt, pointAt } from './place.ts'
export { compareRecheck, type Drift, type RecheckResult } from './recheck.ts'
export { isClearOfLiftOff } from './separation.ts'
export type {
  AxialProfile,
  FittedNoise,
  FittedRows,
  FromLiftOff,
  JoinedNoise,
  LimitMet,
  Noise,
  NotchReading,
  Standardization
} from './standardization.ts'
export { trackBand, trackStep } from './track.ts'
export { lead, openWeldReference, trail, WELD_REFERENCE_METHOD, type WeldReference } from './weld.ts'
