import { binaryExponent, type Pair, productError, sumError, twoTo } from './exact.ts'

// Constants and tables: reference/coefficients.py.
const LN2_HIGH = 0.6931471803691238
const LN2_LOW = 1.9082149292705877e-10
// biome-ignore lint/suspicious/noApproximativeNumericConstant: bits of our own, not the engine's
const INVERSE_LN10: Pair = { hi: 0.4342944819032518, lo: 1.098319650216765e-17 }
// biome-ignore lint/suspicious/noApproximativeNumericConstant: bits of our own, not the engine's
const SQRT2 = 1.4142135623730951
const FIRST = 22

/** 1024 times the reciprocal of j/32 in 10 bits, for j = 22 … 46, and minus its logarithm in two parts. */
const RECIPROCAL = Float64Array.of(
  ...[1489, 1425, 1365, 1311, 1260, 1214, 1170, 1130, 1092, 1057, 1024, 993, 964],
  ...[936, 910, 886, 862, 840, 819, 799, 780, 762, 745, 728, 712]
)
const LOG_HIGH = Float64Array.of(
  ...[-0.3743882270845559, -0.3304552871032978, -0.287437902019607, -0.24707367816424675, -0.2073951943460706],
  ...[-0.17020416601999047, -0.1332872221923487, -0.09850110610693316, -0.06429435070539725, -0.03171818027078454],
  ...[0, 0.030741141554280503, 0.06038051098890748, 0.08985632912186105, 0.11802720608855737, 0.14475485499437216],
  ...[0.17221653493576, 0.1980699137620938, 0.22338772174638366, 0.24811085983317843, 0.27217788591581565],
  ...[0.2955252499128068, 0.31808758721989355, 0.34117075740276714, 0.3633938941874773]
)
const LOG_LOW = Float64Array.of(
  ...[-1.0580428636747582e-17, -5.234550051171221e-18, -7.394381439315427e-18, -1.924729790509845e-18],
  ...[6.623981508424082e-18, -5.824871705125833e-18, -5.4138932268586174e-18, 3.2823579183838276e-18],
  ...[-2.607864228825769e-18, -5.084159452446861e-19, 0, -1.0529562910593368e-18, -2.1569637373409678e-18],
  ...[-6.273760163689594e-19, 3.6022683425363865e-18, -9.638054543649367e-18, -4.7047460454344384e-18],
  ...[3.742843482461439e-18, 9.585954127785412e-18, -4.963800871206339e-18, 1.9460544362807653e-17],
  ...[3.2722484018602266e-19, 2.5797875611385575e-17, -1.9366790062602867e-17, 2.106844752226605e-17]
)

/** (log(1 + f) - f + f^2/2) / f^3 on |f| <= 0.0222 by its power series. */
function cubicRest(f: number): number {
  const high = 1 / 8 - f * (1 / 9 - f * (1 / 10 - f * (1 / 11 - f * (1 / 12))))
  return 1 / 3 - f * (1 / 4 - f * (1 / 5 - f * (1 / 6 - f * (1 / 7 - f * high))))
}

/** The binary exponent that leaves a significand in [sqrt(1/2), sqrt(2)). x positive and normal. */
function centeredExponent(x: number): number {
  const k = binaryExponent(x)
  return x * twoTo(-k) >= SQRT2 ? k + 1 : k
}

/**
 * log(hi + lo) as an unevaluated sum, relative error below 2^-64; hi positive and normal, below 2^1022.
 * Table of logarithms of short reciprocals, then a short series. source: tang-1990
 */
export function logOfSum(hi: number, lo: number): Pair {
  const k = centeredExponent(hi)
  const down = twoTo(-k)
  const m = hi * down
  const row = Math.round(m * 32) - FIRST
  const c = RECIPROCAL[row]! * (1 / 1024)
  const p = m * c
  const f = p - 1
  const rest = productError(m, c, p) + lo * down * c
  const fh = f + rest
  const fl = f - fh + rest
  return assembled(k, row, { hi: fh, lo: fl })
}

/** k ln 2 + log(table) + f - f^2/2 + f^3 P(f), the large terms added without error. */
function assembled(k: number, row: number, f: Pair): Pair {
  const a = k * LN2_HIGH
  const b = a + LOG_HIGH[row]!
  const c = b + f.hi
  const square = f.hi * f.hi
  const d = c - 0.5 * square
  const errors = sumError(a, LOG_HIGH[row]!, b) + sumError(b, f.hi, c) + sumError(c, -0.5 * square, d)
  const small = k * LN2_LOW + LOG_LOW[row]! + f.lo * (1 - f.hi) - 0.5 * productError(f.hi, f.hi, square)
  const lo = errors + (small + f.hi * square * cubicRest(f.hi))
  const hi = d + lo
  return { hi, lo: d - hi + lo }
}

/** log of any positive finite double, subnormal or large, as an unevaluated sum. */
export function logPair(x: number): Pair {
  if (x < 2.2250738585072014e-308) return lowered(logOfSum(x * twoTo(60), 0))
  return logOfSum(x, 0)
}

/** Takes back the factor 2^60 that made a subnormal number normal. */
function lowered(log: Pair): Pair {
  const a = -60 * LN2_HIGH
  const s = a + log.hi
  const lo = sumError(a, log.hi, s) + (log.lo - 60 * LN2_LOW)
  const hi = s + lo
  return { hi, lo: s - hi + lo }
}

/** What log, log10 and pow share: NaN for NaN and below 0, -Infinity at 0, Infinity at Infinity; else undefined. */
function logAtEdge(x: number): number | undefined {
  if (x > 0 && x < Number.POSITIVE_INFINITY) return undefined
  if (x === 0) return Number.NEGATIVE_INFINITY
  return x > 0 ? x : Number.NaN
}

/** Natural logarithm; subnormals included. Below 1 unit in the last place. source: tang-1990 */
export function log(x: number): number {
  return logAtEdge(x) ?? logPair(x).hi
}

/** Logarithm to base 10; exact at every power of ten that a double holds exactly. source: tang-1990 */
export function log10(x: number): number {
  const edge = logAtEdge(x)
  if (edge !== undefined) return edge
  const l = logPair(x)
  const p = l.hi * INVERSE_LN10.hi
  return p + (productError(l.hi, INVERSE_LN10.hi, p) + (l.hi * INVERSE_LN10.lo + l.lo * INVERSE_LN10.hi))
}

/** log(1 + x) without cancellation near 0; keeps -0. Below 1 unit in the last place. source: tang-1990 */
export function log1p(x: number): number {
  if (Math.abs(x) < 5e-17) return x
  const u = 1 + x
  if (x > 1e18) return log(x)
  return logAtEdge(u) ?? logOfSum(u, sumError(1, x, u)).hi
}
