import { cos, exp, sin } from '@trueloop/ground/numerics'

/** Layers from the top down as columns; the air above the metal is not among them. The last one has no bottom. */
export interface LayerColumns {
  /** omega mu0 mur sigma, in 1/m^2. */
  readonly diffusion: Float64Array
  /** Relative permeability. */
  readonly permeability: Float64Array
  /** In m; the last value is not read. */
  readonly thickness: Float64Array
}

/** One complex number a wave number. */
interface Column {
  re: Float64Array
  im: Float64Array
}

/** exp(-45) = 3e-20 of what lies below a layer is nothing beside what its upper face throws back. */
const GONE = -45

const column = (): Column => ({ re: new Float64Array(0), im: new Float64Array(0) })
const reflection = column()
let below = column()
let above = column()

function clear(into: Column, count: number): void {
  if (into.re.length < count) Object.assign(into, { re: new Float64Array(count), im: new Float64Array(count) })
  into.re.fill(0, 0, count)
  into.im.fill(0, 0, count)
}

/**
 * Sum of weight[i] Gamma(alpha[i]): real part to out[0], imaginary part to out[1].
 *
 * Gamma is the reflection of the stack for a wave number alpha (1/m) along the surface, with gamma_k = sqrt(alpha^2 +
 * j omega mu0 mur sigma), y_k = gamma_k / mur_k, air above y_0 = alpha. From the deepest face up:
 * R_k = (r_k + R_(k+1) e) / (1 + r_k R_(k+1) e), e = exp(-2 gamma_k d_k), r_k = (y_(k-1) - y_k) / (y_(k-1) + y_k).
 * This is the recursion of Y with tanh(gamma d), written for Gamma = (alpha - Y) / (alpha + Y): only falling
 * exponentials, so nothing overflows; and the difference in r_k is taken as (y_(k-1)^2 - y_k^2) / (sum), where alpha^2
 * drops out before it is rounded, so weak conductors keep their digits. Layer by layer over all wave numbers, in short
 * loops that are alike for every stack. source: dodd-deeds-1968
 */
export function reflectionSum(
  alpha: Float64Array,
  weight: Float64Array,
  { diffusion, permeability, thickness }: LayerColumns,
  out: Float64Array
): void {
  for (const one of [reflection, below, above]) clear(one, alpha.length)
  const last = diffusion.length - 1
  roots(alpha, diffusion[last]!, below)
  for (let k = last; k >= 0; k--) {
    if (k < last) fall(alpha.length, thickness[k]!)
    const upper = { diffusion: k === 0 ? 0 : diffusion[k - 1]!, permeability: k === 0 ? 1 : permeability[k - 1]! }
    roots(alpha, upper.diffusion, above)
    face(alpha, upper, { diffusion: diffusion[k]!, permeability: permeability[k]! })
    ;[below, above] = [above, below]
  }
  let re = 0
  let im = 0
  for (let i = 0; i < alpha.length; i++) {
    re += weight[i]! * reflection.re[i]!
    im += weight[i]! * reflection.im[i]!
  }
  out[0] = re
  out[1] = im
}

/** gamma of one layer. */
function roots(alpha: Float64Array, s: number, { re, im }: Column): void {
  for (let i = 0; i < alpha.length; i++) {
    const aa = alpha[i]! * alpha[i]!
    const root = Math.sqrt(0.5 * (Math.sqrt(aa * aa + s * s) + aa))
    re[i] = root
    im[i] = (0.5 * s) / root
  }
}

/** The reflection seen from the upper face of a layer: times exp(-2 gamma d). */
function fall(count: number, thickness: number): void {
  const { re, im } = reflection
  for (let i = 0; i < count; i++) {
    const size = -2 * thickness * below.re[i]!
    if (size < GONE) {
      re[i] = 0
      im[i] = 0
      continue
    }
    const least = exp(size)
    const angle = -2 * thickness * below.im[i]!
    const c = least * cos(angle)
    const s = least * sin(angle)
    const t = re[i]! * c - im[i]! * s
    im[i] = re[i]! * s + im[i]! * c
    re[i] = t
  }
}

interface Side {
  readonly diffusion: number
  readonly permeability: number
}

/** What the face between two layers adds to the reflection from below it. */
function face(alpha: Float64Array, upper: Side, lower: Side): void {
  const { re, im } = reflection
  const { permeability: m } = upper
  const { permeability: n } = lower
  // y_(k-1)^2 - y_k^2 = dRe alpha^2 + j dIm
  const dRe = ((n - m) * (n + m)) / (n * n * m * m)
  const dIm = upper.diffusion / (m * m) - lower.diffusion / (n * n)
  for (let i = 0; i < alpha.length; i++) {
    const pRe = above.re[i]! / m + below.re[i]! / n
    const pIm = above.im[i]! / m + below.im[i]! / n
    const tRe = dRe * alpha[i]! * alpha[i]!
    const qRe = pRe * pRe - pIm * pIm
    const qIm = 2 * pRe * pIm
    const q = 1 / (qRe * qRe + qIm * qIm)
    const rRe = (tRe * qRe + dIm * qIm) * q
    const rIm = (dIm * qRe - tRe * qIm) * q
    const bRe = 1 + rRe * re[i]! - rIm * im[i]!
    const bIm = rRe * im[i]! + rIm * re[i]!
    const b = 1 / (bRe * bRe + bIm * bIm)
    const nRe = rRe + re[i]!
    const nIm = rIm + im[i]!
    re[i] = (nRe * bRe + nIm * bIm) * b
    im[i] = (nIm * bRe - nRe * bIm) * b
  }
}
