export { AngleRuler, type AngleSource, type Revolution, type Turning } from './angle-ruler.ts'
export {
  type Band,
  bandedPulse,
  bandReach,
  elementsOf,
  gridStep,
  lowPassGain,
  pulseLoss,
  UNIT
} from './band.ts'
export { type Code, codes, refuse } from './codes.ts'
export { type Conditioned, conditioner, slidingMean } from './condition.ts'
export { type ConditionedRevolution, type ConditionedUnit, Conditioning } from './conditioned.ts'
export { DropLog, type Dropped } from './drops.ts'
export { fineAround } from './fine.ts'
export { joinRows } from './joining.kernel.ts'
export { joiningWeights } from './joining.ts'
export { PositionRuler, type PositionSource, type TrackUnit, type Travel } from './position-ruler.ts'
export { type ScanKernels, type ScannedUnit, Scanning, type ScanningRule, scanKernels } from './scanning.ts'
export { type Axis, type Signal, type State, standardized, type Turn } from './signal.ts'
export type { Stood } from './standing.ts'
export { TimeLine } from './timeline.ts'
export type { PlaceBasis } from './track-places.ts'
export type { Unit } from './unit.ts'
