import { millsRatio, normalCumulative, normalDensity, normalSurvival } from './distribution.ts'
import { log, log1p } from './elementary.ts'

const HALF_LOG_TAU = 0.9189385332046728

/** log P(Z <= x) of the standard normal, no underflow in the lower tail, no loss in the upper one. */
export const logNormalCumulative = (x: number): number =>
  x <= 0 ? log(millsRatio(-x)) - 0.5 * x * x - HALF_LOG_TAU : log1p(-normalSurvival(x))

/** Density over cumulative of the standard normal: the derivative of `logNormalCumulative`; near -x far below zero. */
export const normalHazard = (x: number): number =>
  x <= 0 ? 1 / millsRatio(-x) : normalDensity(x) / normalCumulative(x)
