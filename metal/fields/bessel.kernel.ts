import { cos, PI, sin } from '@trueloop/ground/numerics'

/** Below: the power series. Its largest term is 2.25, so nothing is lost. */
const SERIES_END = 3
/** From here on the asymptotic series falls below 1e-17 before it turns: its smallest term is about e^(-2x). */
const ASYMPTOTIC_START = 25

/**
 * Bessel functions J0 and J1 of a real argument x >= 0 into out[0] and out[1]. Error, tested against mpmath up to 1e5:
 * below (1e-15 + 1.2e-16 x) of the size of the oscillation, sqrt(2 / (pi x)) or 1; the second part is what half a unit
 * in the last place of x does to the phase. J1 near 0 is good relative to itself; near other zeros it can't be.
 * Power series, downward recurrence with the sum 1 = J0 + 2 (J2 + J4 + ...), asymptotic series of Hankel.
 * source: abramowitz-stegun-1964, 9.1.10, 9.1.46, 9.2.5 to 9.2.10, 9.12 example 1
 */
export function besselJ01(x: number, out: Float64Array): void {
  if (x < SERIES_END) bySeries(x, out)
  else if (x < ASYMPTOTIC_START) byRecurrence(x, out)
  else byHankel(x, out)
}

function bySeries(x: number, out: Float64Array): void {
  const q = -0.25 * x * x
  let term = 1
  let j0 = 0
  let j1 = 0
  for (let k = 1; k < 24; k++) {
    j0 += term
    j1 += term / k
    term *= q / (k * k)
  }
  out[0] = j0
  out[1] = 0.5 * x * j1
}

/** From an even order where J is below 1e-17 of the largest, down. */
function byRecurrence(x: number, out: Float64Array): void {
  const twice = 2 / x
  let above = 0
  let here = 1e-60
  let evens = 0
  for (let n = 2 * Math.ceil(0.5 * x + 18); n > 0; n--) {
    if (n % 2 === 0) evens += here
    const below = n * twice * here - above
    above = here
    here = below
  }
  const scale = 1 / (here + 2 * evens)
  out[0] = here * scale
  out[1] = above * scale
}

function byHankel(x: number, out: Float64Array): void {
  const s = sin(x)
  const c = cos(x)
  const size = 1 / Math.sqrt(PI * x)
  hankel(0, x, out)
  const j0 = size * (out[0]! * (c + s) - out[1]! * (s - c))
  hankel(4, x, out)
  out[1] = size * (out[0]! * (s - c) + out[1]! * (s + c))
  out[0] = j0
}

/** The series P and Q of Hankel for mu = 4 nu^2, into out[0] and out[1]. */
function hankel(mu: number, x: number, out: Float64Array): void {
  let term = 1
  let p = 1
  let q = 0
  for (let k = 1; k < 60; k++) {
    term *= (mu - (2 * k - 1) * (2 * k - 1)) / (8 * k * x)
    const sign = k % 4 < 2 ? 1 : -1
    if (k % 2 === 0) p += sign * term
    else q += sign * term
    if (Math.abs(term) < 1e-17) break
  }
  out[0] = p
  out[1] = q
}
