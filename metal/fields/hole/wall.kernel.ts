import { ratiosOfI, scaledK01 } from './modified.kernel.ts'

/** The wall as the field sees it. */
export interface Wall {
  /** Radius of the hole, m. */
  readonly radius: number
  /** omega mu0 mur sigma, 1/m^2. */
  readonly diffusion: number
  readonly permeability: number
}

const scaled = new Float64Array(4)
let inner = new Float64Array(0)

/**
 * Sum over m from 0 to the last of `weight` of weight[m] Q_m(k): real part to out[0], imaginary part to out[1].
 *
 * Q_m is the reaction of the wall to the part of a field that varies as cos(m phi) and has wave number k (1/m) along the
 * hole: Q = I K (Y - k K'/K) / (k I'/I - Y), all of order m at k b, with g^2 = k^2 + j omega mu0 mur sigma and
 * Y = mur [(k^2 / g) K'(g b) / K(g b) + (m / b)^2 (1 - k^2 / g^2) K(g b) / (g K'(g b))]. Only ratios of neighboring orders
 * are formed, so nothing overflows; K upward, I downward. Derived anew for this program: a scalar potential in air, two
 * second-order potentials in the metal. source: burke-theodoulidis-2004
 */
export function wallSum(
  k: number,
  weight: Float64Array,
  { radius, diffusion, permeability }: Wall,
  out: Float64Array
): void {
  const x = k * radius
  const count = weight.length
  if (inner.length <= count) inner = new Float64Array(count + 1)
  ratiosOfI(x, count, inner)
  scaledK01(x, 0, scaled)
  let outer = scaled[2]! / scaled[0]!
  // g, and 1 / g
  const size = Math.sqrt(k * k * k * k + diffusion * diffusion)
  const gRe = Math.sqrt(0.5 * (size + k * k))
  const gIm = (0.5 * diffusion) / gRe
  const uRe = gRe / size
  const uIm = -gIm / size
  // 1 / (g b), K1 / K0 at g b
  const vRe = uRe / radius
  const vIm = uIm / radius
  scaledK01(gRe * radius, gIm * radius, scaled)
  const d0 = 1 / (scaled[0]! * scaled[0]! + scaled[1]! * scaled[1]!)
  let hRe = (scaled[2]! * scaled[0]! + scaled[3]! * scaled[1]!) * d0
  let hIm = (scaled[3]! * scaled[0]! - scaled[2]! * scaled[1]!) * d0
  // mur k^2 / g, and mur (1 - k^2 / g^2) / (g b^2) = mur j diffusion / (g^3 b^2)
  const aRe = permeability * k * k * uRe
  const aIm = permeability * k * k * uIm
  const u2Re = uRe * uRe - uIm * uIm
  const u2Im = 2 * uRe * uIm
  const push = (permeability * diffusion) / (radius * radius)
  const cRe = -push * (u2Re * uIm + u2Im * uRe)
  const cIm = push * (u2Re * uRe - u2Im * uIm)
  let sumRe = 0
  let sumIm = 0
  for (let m = 0; m < count; m++) {
    if (m > 0) {
      outer = (2 * m) / x + 1 / outer
      const d = 1 / (hRe * hRe + hIm * hIm)
      const next = 2 * m * vRe + hRe * d
      hIm = 2 * m * vIm - hIm * d
      hRe = next
    }
    // K'/K at g b, and its inverse
    const qRe = m * vRe - hRe
    const qIm = m * vIm - hIm
    const d = (m * m) / (qRe * qRe + qIm * qIm)
    const yRe = aRe * qRe - aIm * qIm + (cRe * qRe + cIm * qIm) * d
    const yIm = aRe * qIm + aIm * qRe + (cIm * qRe - cRe * qIm) * d
    const shared = m / x
    const inward = k * (inner[m + 1]! + shared)
    const topRe = yRe - k * (shared - outer)
    const lowRe = inward - yRe
    // I K = 1 / (b (k I'/I - k K'/K)), from the Wronskian
    const scale = weight[m]! / (x * (outer + inner[m + 1]!) * (lowRe * lowRe + yIm * yIm))
    sumRe += scale * (topRe * lowRe - yIm * yIm)
    sumIm += scale * (yIm * lowRe + topRe * yIm)
  }
  out[0] = sumRe
  out[1] = sumIm
}
