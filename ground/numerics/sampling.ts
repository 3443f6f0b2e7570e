import {
  betaOdds,
  betaShares,
  checkShare,
  fromOdds,
  gammaPlace,
  gammaShares,
  oddsOf,
  type TailShare
} from './incomplete.ts'

/** Degrees of freedom of a ratio of two variances. */
export interface VarianceRatio {
  readonly above: number
  readonly below: number
}

/** P(X <= x) of chi-square with any positive degrees of freedom. source: abramowitz-stegun-1964, 26.4.19 */
export const chiSquareCumulative = (x: number, dof: number): number =>
  x < 0 ? 0 : gammaShares(0.5 * dof, 0.5 * x).lower

/** P(X > x) of chi-square. source: abramowitz-stegun-1964, 26.4.19 */
export const chiSquareSurvival = (x: number, dof: number): number => (x < 0 ? 1 : gammaShares(0.5 * dof, 0.5 * x).upper)

/** x with the share of chi-square below it ('lower') or above it ('upper'). RangeError outside [0, 1]. */
export const chiSquareQuantile = (wanted: TailShare, dof: number): number => 2 * gammaPlace(0.5 * dof, wanted)

/** P(X <= x) of the beta law; 0 below and 1 above [0, 1]. source: nist-dlmf, 8.17.2 */
export const betaCumulative = (x: number, a: number, b: number): number =>
  betaShares({ a, b }, oddsOf(Math.max(0, x))).lower

/** P(X > x) of the beta law. source: nist-dlmf, 8.17.4 */
export const betaSurvival = (x: number, a: number, b: number): number =>
  betaShares({ a, b }, oddsOf(Math.max(0, x))).upper

/** x with the share of the beta law below it ('lower') or above it ('upper'). */
export const betaQuantile = (wanted: TailShare, a: number, b: number): number => fromOdds(betaOdds({ a, b }, wanted))

/** P(|T| > |t|) of Student's t. source: abramowitz-stegun-1964, 26.7.1 */
export function studentTwoSided(t: number, dof: number): number {
  return betaShares({ a: 0.5 * dof, b: 0.5 }, dof / t / t).lower
}

/** P(T > t) of Student's t with any positive degrees of freedom; the far tail keeps its digits. */
export const studentSurvival = (t: number, dof: number): number => {
  const tail = 0.5 * studentTwoSided(t, dof)
  return t >= 0 ? tail : 1 - tail
}

/** P(T <= t) of Student's t. */
export const studentCumulative = (t: number, dof: number): number => studentSurvival(-t, dof)

/** t with the share p below it; -Infinity at 0, Infinity at 1. RangeError outside. */
export function studentQuantile(p: number, dof: number): number {
  checkShare(p)
  if (p > 0.5) return studentUpperQuantile(1 - p, dof)
  return p === 0.5 ? 0 : -studentUpperQuantile(p, dof)
}

/** t with the share q above it. */
export function studentUpperQuantile(q: number, dof: number): number {
  checkShare(q)
  if (q > 0.5) return -studentUpperQuantile(1 - q, dof)
  if (q === 0.5) return 0
  return Math.sqrt(dof / betaOdds({ a: 0.5 * dof, b: 0.5 }, { tail: 'lower', share: 2 * q }))
}

/** P(F <= f) of a ratio of variances. source: abramowitz-stegun-1964, 26.6.2 */
export const fisherCumulative = (f: number, { above, below }: VarianceRatio): number =>
  betaShares({ a: 0.5 * above, b: 0.5 * below }, (Math.max(0, f) * above) / below).lower

/** P(F > f) of a ratio of variances. source: abramowitz-stegun-1964, 26.6.2 */
export const fisherSurvival = (f: number, { above, below }: VarianceRatio): number =>
  betaShares({ a: 0.5 * above, b: 0.5 * below }, (Math.max(0, f) * above) / below).upper

/** f with the share of a ratio of variances below it ('lower') or above it ('upper'). */
export const fisherQuantile = (wanted: TailShare, { above, below }: VarianceRatio): number =>
  (betaOdds({ a: 0.5 * above, b: 0.5 * below }, wanted) * below) / above
