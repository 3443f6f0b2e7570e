/** True of the part and the coil, whatever the procedure: depth of penetration, coil over plane layers, coil in a hole, crack under a coil, hole that is too wide. */
export { type FieldsCode, fieldsCodes } from './codes.ts'
export * from './crack/index.ts'
export { characteristicFrequency, type Metal, phaseLag, standardDepth } from './depth.ts'
export * from './hole/index.ts'
export * from './layers/index.ts'
export { lossInDecibels, type OversizeLoss, oversizeLoss, type ProbeInHole } from './oversize.ts'
export { leastAnswerShare, type Smaller } from './smaller.ts'
