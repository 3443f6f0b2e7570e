import { besselJ01 } from './bessel.kernel.ts'

/** Below: each order by its power series. */
const SERIES_END = 1
/** From here on J0 and J1 by besselJ01, and upward from them; below, downward. */
const UPWARD_START = 25

/**
 * Bessel functions J_n of a real argument x >= 0 into out[n], for n from 0 to `last` <= 24. Error, tested against mpmath up
 * to 1e4: as at besselJ01, below (2e-15 + 1.2e-16 x) of the size of the oscillation, sqrt(2 / (pi x)) or 1. Power series;
 * downward recurrence with the sum 1 = J0 + 2 (J2 + J4 + ...); upward recurrence, which is stable while n < x.
 * source: abramowitz-stegun-1964, 9.1.10, 9.1.27, 9.1.46, 9.12 example 1
 */
export function besselOrders(x: number, last: number, out: Float64Array): void {
  if (x < SERIES_END) bySeries(x, last, out)
  else if (x < UPWARD_START) downward(x, last, out)
  else upward(x, last, out)
}

function bySeries(x: number, last: number, out: Float64Array): void {
  const half = 0.5 * x
  const q = -half * half
  let first = 1
  for (let n = 0; n <= last; n++) {
    let term = first
    let sum = first
    for (let k = 1; k < 12; k++) {
      term *= q / (k * (k + n))
      sum += term
    }
    out[n] = sum
    first *= half / (n + 1)
  }
}

/** From an even order where J is below 1e-17 of that of `last`, down. */
function downward(x: number, last: number, out: Float64Array): void {
  const twice = 2 / x
  let above = 0
  let here = 1e-60
  let evens = 0
  for (let n = 2 * Math.ceil(0.5 * Math.max(x, last) + 18); n > 0; n--) {
    if (n <= last) out[n] = here
    if (n % 2 === 0) evens += here
    const below = n * twice * here - above
    above = here
    here = below
  }
  out[0] = here
  const scale = 1 / (here + 2 * evens)
  for (let n = 0; n <= last; n++) out[n]! *= scale
}

function upward(x: number, last: number, out: Float64Array): void {
  const twice = 2 / x
  besselJ01(x, out)
  for (let n = 1; n < last; n++) out[n + 1] = n * twice * out[n]! - out[n - 1]!
}
