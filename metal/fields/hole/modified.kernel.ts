import { cos, exp, PI, sin } from '@trueloop/ground/numerics'

/** From here on the asymptotic series fall below 1e-17 before they turn: their smallest term is about e^(-2|z|). */
const ASYMPTOTIC_START = 20
/** Step of the trapezoidal rule: half of it changes nothing in the 15th digit, for |z| to 20 and |arg z| to pi / 4. */
const STEP = 0.08
/** cosh(t) - 1 for t = STEP, 2 STEP ... 20, far enough for |z| down to 2e-7. */
const rises = Float64Array.from({ length: 250 }, (_, i) => {
  const half = 0.5 * (exp(0.5 * STEP * (i + 1)) - exp(-0.5 * STEP * (i + 1)))
  return 2 * half * half
})

/**
 * exp(z) K0(z) to out[0] + j out[1] and exp(z) K1(z) to out[2] + j out[3], for z = re + j im with |arg z| <= pi / 4
 * and 2e-7 <= |z|. Error, tested against mpmath: below 3e-15 of the value. K_nu(z) is the integral over t from 0 to
 * infinity of exp(-z cosh t) cosh(nu t), by the trapezoidal rule, which converges exponentially; beyond 20 the
 * asymptotic series. source: nist-dlmf 10.32.9, 10.40.2; trefethen-weideman-2014
 */
export function scaledK01(re: number, im: number, out: Float64Array): void {
  if (re * re + im * im < ASYMPTOTIC_START * ASYMPTOTIC_START) byTrapezoids(re, im, out)
  else byAsymptotics(re, im, out)
}

function byTrapezoids(re: number, im: number, out: Float64Array): void {
  let re0 = 0.5
  let im0 = 0
  let re1 = 0.5
  let im1 = 0
  for (let i = 0; i < rises.length && re * rises[i]! < 42; i++) {
    const rise = rises[i]!
    const size = exp(-re * rise)
    const c = im === 0 ? size : size * cos(im * rise)
    const s = im === 0 ? 0 : -size * sin(im * rise)
    re0 += c
    im0 += s
    re1 += c * (rise + 1)
    im1 += s * (rise + 1)
  }
  out[0] = STEP * re0
  out[1] = STEP * im0
  out[2] = STEP * re1
  out[3] = STEP * im1
}

function byAsymptotics(re: number, im: number, out: Float64Array): void {
  // sqrt(pi / (2 z))
  const size = Math.sqrt(re * re + im * im)
  const rootRe = Math.sqrt((0.25 * PI * (size + re)) / (size * size))
  const rootIm = (-0.25 * PI * im) / (size * size * rootRe)
  for (let order = 0; order < 2; order++) {
    let termRe = 1
    let termIm = 0
    let sumRe = 1
    let sumIm = 0
    for (let k = 1; k < 40 && Math.abs(termRe) + Math.abs(termIm) > 1e-18; k++) {
      const factor = (4 * order - (2 * k - 1) * (2 * k - 1)) / (8 * k * size * size)
      const next = factor * (termRe * re + termIm * im)
      termIm = factor * (termIm * re - termRe * im)
      termRe = next
      sumRe += termRe
      sumIm += termIm
    }
    out[2 * order] = rootRe * sumRe - rootIm * sumIm
    out[2 * order + 1] = rootRe * sumIm + rootIm * sumRe
  }
}

/** exp(-x) I0(x) for x >= 0: power series, all terms positive, or asymptotic. source: nist-dlmf 10.25.2, 10.40.1 */
export function scaledI0(x: number): number {
  let term = 1
  let sum = 1
  if (x < ASYMPTOTIC_START) {
    for (let k = 1; term > 1e-17 * sum; k++) {
      term *= (0.25 * x * x) / (k * k)
      sum += term
    }
    return exp(-x) * sum
  }
  for (let k = 1; k < 40 && term > 1e-18; k++) {
    term *= ((2 * k - 1) * (2 * k - 1)) / (8 * k * x)
    sum += term
  }
  return sum / Math.sqrt(2 * PI * x)
}

/**
 * I_m(x) / I_(m-1)(x) to out[m] for m = 1 to count, x > 0: the continued fraction downward, begun where what it is begun
 * with has fallen below the last place (its error falls by the square of the ratio with each step).
 * source: nist-dlmf 10.33.1, 10.29.1
 */
export function ratiosOfI(x: number, count: number, out: Float64Array): void {
  const start = count + 20 + Math.ceil(6 * Math.sqrt(x))
  const twice = 2 / x
  let ratio = x / (start + Math.sqrt(start * start + x * x))
  for (let m = start - 1; m > count; m--) ratio = 1 / (m * twice + ratio)
  for (let m = count; m > 0; m--) {
    ratio = 1 / (m * twice + ratio)
    out[m] = ratio
  }
}
