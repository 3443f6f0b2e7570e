export type { AnswerBasis } from './basis.ts'
export type { CoilPlace, CrackInPart, SurfaceCrack } from './crack.ts'
export { type DifferentialProbe, pairAnswer } from './pair-answer.ts'
export type { PickUpPair } from './pair-incident.ts'
export { type CrackPlan, planCrack } from './plan.ts'
export { type CrackAnswer, type CrackSignal, crackAnswer } from './response.ts'
export {
  type MeasuredNotch,
  type MeasuredValue,
  type ModeledNotch,
  type NotchScale,
  type ScaledAnswer,
  scaledOnNotch,
  scaleFromNotch
} from './scale.ts'
export type { CrackChange } from './solve.ts'
export type { CrackStatement } from './statement.ts'
export { wallCrackAnswer } from './wall-answer.ts'
export { type CrackInWall, planWallCrack, type WallCrackPlan, type WallPlace } from './wall-crack.ts'
export { type WallPair, wallPairAnswer } from './wall-pair.ts'
