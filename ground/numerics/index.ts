/** Numerics of our own: the same bits in every engine. Needs no trade knowledge; all quantities are plain numbers. */
export { cubicBSpline, cubicBSplineSpectrum, sinc } from './bspline.ts'
export { type NumericsCode, numericsCodes } from './codes.ts'
export * from './distribution.ts'
export * from './elementary.ts'
export { type Fft, planFft } from './fft.ts'
export * from './histogram.ts'
export { fitLine, type Line, type LineFit, type LinePoints, robustLine } from './line.ts'
export { median, medianInPlace, quantile, quantileInPlace, type Spread, spread } from './order.ts'
export { Random, type RandomState, randomFrom } from './random.ts'
export {
  type Cloud,
  normalConsistency,
  type PrincipalAxes,
  principalAxes,
  robustScatter,
  type Scatter,
  type Symmetric2
} from './scatter.ts'
export { choleskyFactor, type SymmetricMatrix, solveSymmetric } from './solve.ts'
