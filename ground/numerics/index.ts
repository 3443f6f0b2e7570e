/** Numerics of our own: the same bits in every engine. Needs no trade knowledge; all quantities are plain numbers. */

export * from './agreement.ts'
export { type AmongFit, fitAmong, placeAmong, shareAmong } from './binary/among.ts'
export {
  type AsymptoteFit,
  asymptoteInterval,
  asymptotePlace,
  asymptotePlaceBound,
  fitAsymptotes
} from './binary/asymptotes.ts'
export {
  crossingPlace,
  curvePlace,
  type Interval,
  likelihoodPlace,
  likelihoodShares,
  type PlaceQuestion,
  placeError,
  predictorVariance,
  profileIntervals,
  type Side,
  slopeStatistic,
  waldShares
} from './binary/bounds.ts'
export { type BinaryFit, type Curve, fitBinary } from './binary/fit.ts'
export { akaike, bendTest, decilesTest, type FitTest, placesTest } from './binary/goodness.ts'
export { type Link, linkPlace, linkShare, links } from './binary/links.ts'
export { type BinaryRows, type Split, splitOf, type Tally, tallyOf } from './binary/tally.ts'
export type { Estimate } from './binary/target.ts'
export * from './binomial.ts'
export * from './bootstrap/bounds.ts'
export { placeStatistic } from './bootstrap/place.ts'
export * from './bootstrap/resamples.ts'
export { IndexStream, STREAM_PERIOD } from './bootstrap/stream.ts'
export { cubicBSpline, cubicBSplineSpectrum, sinc } from './bspline.ts'
export { type CurvePrediction, type CurveQuestion, curveInverse } from './calibration/curve-inverse.ts'
export {
  type CurveForm,
  type FittedCurve,
  fitCurve,
  fitPolynomial,
  fitPower,
  fitSaturating
} from './calibration/curves.ts'
export {
  type Calibration,
  calibrate,
  type InversePrediction,
  type InverseQuestion,
  type InverseSet,
  inversePrediction,
  type Standards
} from './calibration/inverse.ts'
export { type Isotonic, isotonic } from './calibration/isotonic.ts'
export { type LackOfFit, lackOfFit } from './calibration/lack-of-fit.ts'
export { type MonotoneCurve, monotoneAt, monotoneCurve, monotoneInverse } from './calibration/monotone.ts'
export * from './censored/reach.ts'
export { type CensoredData, type CensoredFit, censoredRegression } from './censored/regression.ts'
export { type NumericsCode, numericsCodes } from './codes.ts'
export * from './distribution.ts'
export * from './elementary.ts'
export { coneExtent, type Extent, eulerOfField, type FieldSet, type Rows } from './euler.ts'
export { type Fft, planFft } from './fft.ts'
export {
  type ComplexColumns,
  type FilterPlan,
  type PermutedSpectrum,
  planFilter,
  type SpectrumPair
} from './fft-filter.ts'
export { exceedanceOfField, levelForEstimatedScale, levelForExceedance, type ScaledFieldSet } from './field.ts'
export { digamma, logGamma } from './gamma.ts'
export * from './histogram.ts'
export {
  type BetaShape,
  betaOdds,
  betaShares,
  gammaPlace,
  gammaShares,
  type Shares,
  type Tail,
  type TailShare
} from './incomplete.ts'
export * from './law-fits.ts'
export { leastSquares, type Regression, type RegressionFit } from './least-squares.ts'
export { fitLine, type Line, type LineFit, type LinePoints, robustLine } from './line.ts'
export { type NoncentralT, noncentralTCumulative, noncentralTQuantile, noncentralTSurvival } from './noncentral.ts'
export { fitNonlinear, type NonlinearFit } from './nonlinear/fit.ts'
export type { Model, NonlinearRegression } from './nonlinear/place.ts'
export { logNormalCumulative, normalHazard } from './normal-tail.ts'
export { median, medianInPlace, quantile, quantileInPlace, type Spread, spread } from './order.ts'
export { type CenteredPair, type PairHistograms, pairScatter, pairScatterOfCounts } from './pair-scatter.ts'
export * from './paired.ts'
export { Random, type RandomState, randomFrom } from './random.ts'
export { type BoxCox, boxCox } from './residuals/box-cox.ts'
export { type ResidualChecks, residualChecks } from './residuals/checks.ts'
export { andersonDarling, type Statistic, shapiroWilk } from './residuals/normality.ts'
export {
  type Binormal,
  binormal,
  binormalHits,
  type OperatingPoint,
  operatingPoints,
  type RocArea,
  rocArea,
  type TwoSamples,
  youdenThreshold
} from './roc.ts'
export { type Between, rootBetween } from './root.ts'
export * from './sampling.ts'
export {
  type Cloud,
  normalConsistency,
  type PrincipalAxes,
  principalAxes,
  robustScatter,
  type Scatter,
  type Symmetric2
} from './scatter.ts'
export { type SignalToNoise, type Stretch, signalToNoise } from './signal-to-noise.ts'
export { choleskyFactor, type SymmetricMatrix, solveSymmetric } from './solve.ts'
export { borrowColumn, giveBack, outgrown, workColumn } from './spare-columns.ts'
export type { Correlation, Draws, Input, Knowledge, Measurement } from './uncertainty/inputs.ts'
export {
  isPropagationValid,
  type MonteCarlo,
  monteCarlo,
  type Trials as DrawTrials
} from './uncertainty/monte-carlo.ts'
export { type BudgetLine, type Coverage, coverage, type Propagation, propagate } from './uncertainty/propagation.ts'
export { type CrossedAnova, crossedAnova, groupAnova, type Source } from './variance/crossed.ts'
export { type MixedFit, mixedFit } from './variance/mixed.ts'
export type { MixedData } from './variance/products.ts'
export { type RangeLaw, rangeLaw } from './variance/range.ts'
export * from './variance/sums.ts'
