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

/**
 * Sum of weight[i] Gamma(alpha[i]): real part to out[0], imaginary part to out[1].
 *
 * Gamma is the reflection of the stack for a wave number alpha (1/m) along the surface, with gamma_k = sqrt(alpha^2 +
 * j omega mu0 mur sigma), y_k = gamma_k / mur_k, air above y_0 = alpha. From the deepest face up:
 * R_k = (r_k + R_(k+1) e) / (1 + r_k R_(k+1) e), e = exp(-2 gamma_k d_k), r_k = (y_(k-1) - y_k) / (y_(k-1) + y_k).
 * This is the recursion of Y with tanh(gamma d), written for Gamma = (alpha - Y) / (alpha + Y): only falling
 * exponentials, so nothing overflows; and the difference in r_k is taken as (y_(k-1)^2 - y_k^2) / (sum), where alpha^2
 * drops out before it is rounded, so weak conductors keep their digits. source: dodd-deeds-1968
 */
export function reflectionSum(
  alpha: Float64Array,
  weight: Float64Array,
  { diffusion, permeability, thickness }: LayerColumns,
  out: Float64Array
): void {
  const last = diffusion.length - 1
  let sumRe = 0
  let sumIm = 0
  for (let i = 0; i < alpha.length; i++) {
    const a = alpha[i]!
    const aa = a * a
    let re = 0
    let im = 0
    // gamma of the layer at hand; carried up so that each root is taken once
    let s = diffusion[last]!
    let root = Math.sqrt(0.5 * (Math.sqrt(aa * aa + s * s) + aa))
    let gRe = root
    let gIm = (0.5 * s) / root
    for (let k = last; k >= 0; k--) {
      const mu = permeability[k]!
      const sAbove = k === 0 ? 0 : diffusion[k - 1]!
      const muAbove = k === 0 ? 1 : permeability[k - 1]!
      root = Math.sqrt(0.5 * (Math.sqrt(aa * aa + sAbove * sAbove) + aa))
      const hRe = root
      const hIm = (0.5 * sAbove) / root
      if (k < last) {
        const d2 = -2 * thickness[k]!
        const fall = exp(d2 * gRe)
        const angle = d2 * gIm
        const c = fall * cos(angle)
        const sn = fall * sin(angle)
        const t = re * c - im * sn
        im = re * sn + im * c
        re = t
      }
      const pRe = hRe / muAbove + gRe / mu
      const pIm = hIm / muAbove + gIm / mu
      const dRe = muAbove === mu ? 0 : (aa * ((mu - muAbove) * (mu + muAbove))) / (mu * mu * muAbove * muAbove)
      const dIm = sAbove / (muAbove * muAbove) - s / (mu * mu)
      // r = (dRe + j dIm) / p^2
      const qRe = pRe * pRe - pIm * pIm
      const qIm = 2 * pRe * pIm
      const q = 1 / (qRe * qRe + qIm * qIm)
      const rRe = (dRe * qRe + dIm * qIm) * q
      const rIm = (dIm * qRe - dRe * qIm) * q
      const bRe = 1 + rRe * re - rIm * im
      const bIm = rRe * im + rIm * re
      const b = 1 / (bRe * bRe + bIm * bIm)
      const nRe = rRe + re
      const nIm = rIm + im
      re = (nRe * bRe + nIm * bIm) * b
      im = (nIm * bRe - nRe * bIm) * b
      gRe = hRe
      gIm = hIm
      s = sAbove
    }
    sumRe += weight[i]! * re
    sumIm += weight[i]! * im
  }
  out[0] = sumRe
  out[1] = sumIm
}
