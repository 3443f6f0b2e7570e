export type { CoilPlace, CrackInPart, SurfaceCrack } from './crack.ts'
export { type CrackPlan, planCrack } from './plan.ts'
export { type CrackAnswer, type CrackSignal, crackAnswer } from './response.ts'
export type { CrackStatement } from './statement.ts'
