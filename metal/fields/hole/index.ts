export { coaxialInHole } from './coaxial.ts'
export type { CoaxialCoil, RadialCoil } from './coil.ts'
export { type HoleProbe, holeImpedanceChange } from './impedance.ts'
export { radialProbe } from './radial.ts'
