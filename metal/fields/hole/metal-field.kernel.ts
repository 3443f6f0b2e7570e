import { cos, exp, sin } from '@trueloop/ground/numerics'
import { ratiosOfI, scaledK01 } from './modified.kernel.ts'
import type { Wall } from './wall.kernel.ts'

/** One wave number along the hole (1/m) and what the coil puts on the wall there, order by order. */
export interface WallMode {
  readonly k: number
  readonly f: Float64Array
}

/** Where in the metal the field is wanted. */
export interface MetalPlaces {
  /** Depths below the wall, m; they rise. */
  readonly depths: Float64Array
  /** cos(m phi), [order * angles + angle]. */
  readonly turns: Float64Array
  readonly angles: number
}

/** Where a field has fallen to this part of what it is at the wall it is not followed to higher orders, which fall faster. */
const GONE = 1e-12
const scaled = new Float64Array(4)
let inner = new Float64Array(0)

/**
 * Adds to out.re, out.im [depth * angles + angle] the sum over orders m of (1 for m = 0, else 2) cos(m phi) times
 * (k mur / g^2) f_m / (b (k I'/I - Y)) [g K'(g rho) / K(g b) - m^2 / (b rho) K(g rho) / (g K'(g b))], all of order m, I and
 * its derivative at k b; rho = b + depth; g and Y as at wallSum. Only ratios of neighboring orders are formed. Derived anew
 * as wallSum. source: burke-theodoulidis-2004
 */
export function addMetalField(
  { k, f }: WallMode,
  { radius, diffusion, permeability }: Wall,
  { depths, turns, angles }: MetalPlaces,
  out: { readonly re: Float64Array; readonly im: Float64Array }
): void {
  const rows = depths.length
  const x = k * radius
  const count = f.length
  if (inner.length <= count) inner = new Float64Array(count + 1)
  ratiosOfI(x, count, inner)
  const size = Math.sqrt(k * k * k * k + diffusion * diffusion)
  const gRe = Math.sqrt(0.5 * (size + k * k))
  const gIm = (0.5 * diffusion) / gRe
  const uRe = gRe / size
  const uIm = -gIm / size
  // 1 / g^2, and k mur / g^2
  const u2Re = uRe * uRe - uIm * uIm
  const u2Im = 2 * uRe * uIm
  const frontRe = k * permeability * u2Re
  const frontIm = k * permeability * u2Im
  const aRe = permeability * k * k * uRe
  const aIm = permeability * k * k * uIm
  const push = (permeability * diffusion) / (radius * radius)
  const cRe = -push * (u2Re * uIm + u2Im * uRe)
  const cIm = push * (u2Re * uRe - u2Im * uIm)
  // K1 / K0 at the wall
  scaledK01(gRe * radius, gIm * radius, scaled)
  const k0Re = scaled[0]!
  const k0Im = scaled[1]!
  const k0 = 1 / (k0Re * k0Re + k0Im * k0Im)
  let hRe = (scaled[2]! * k0Re + scaled[3]! * k0Im) * k0
  let hIm = (scaled[3]! * k0Re - scaled[2]! * k0Im) * k0
  // at each depth: K_(m+1) / K_m at g rho, and K_m(g rho) / K_m(g b)
  const rRe = new Float64Array(rows)
  const rIm = new Float64Array(rows)
  const sRe = new Float64Array(rows)
  const sIm = new Float64Array(rows)
  for (let d = 0; d < rows; d++) {
    const rho = radius + depths[d]!
    scaledK01(gRe * rho, gIm * rho, scaled)
    const over = 1 / (scaled[0]! * scaled[0]! + scaled[1]! * scaled[1]!)
    rRe[d] = (scaled[2]! * scaled[0]! + scaled[3]! * scaled[1]!) * over
    rIm[d] = (scaled[3]! * scaled[0]! - scaled[2]! * scaled[1]!) * over
    const fall = k0 * exp(-gRe * depths[d]!)
    const wRe = fall * cos(gIm * depths[d]!)
    const wIm = -fall * sin(gIm * depths[d]!)
    const tRe = scaled[0]! * k0Re + scaled[1]! * k0Im
    const tIm = scaled[1]! * k0Re - scaled[0]! * k0Im
    sRe[d] = tRe * wRe - tIm * wIm
    sIm[d] = tRe * wIm + tIm * wRe
  }
  let end = rows
  for (let m = 0; m < count; m++) {
    if (m > 0) {
      while (end > 0 && Math.abs(sRe[end - 1]!) + Math.abs(sIm[end - 1]!) < GONE) end--
      if (end === 0) return
      const over = 1 / (hRe * hRe + hIm * hIm)
      const backRe = hRe * over
      const backIm = -hIm * over
      const step = (2 * m) / radius
      for (let d = 0; d < end; d++) {
        // times K_m / K_(m-1) there, by the same at the wall
        const tRe = sRe[d]! * rRe[d]! - sIm[d]! * rIm[d]!
        const tIm = sRe[d]! * rIm[d]! + sIm[d]! * rRe[d]!
        sRe[d] = tRe * backRe - tIm * backIm
        sIm[d] = tRe * backIm + tIm * backRe
        const r = 1 / (rRe[d]! * rRe[d]! + rIm[d]! * rIm[d]!)
        const there = (2 * m) / (radius + depths[d]!)
        rRe[d] = there * uRe + rRe[d]! * r
        rIm[d] = there * uIm - rIm[d]! * r
      }
      hRe = step * uRe + backRe
      hIm = step * uIm + backIm
    }
    const mm = m * m
    // K'/K at the wall, Y, and 1 / (b (k I'/I - Y))
    const qRe = (m / radius) * uRe - hRe
    const qIm = (m / radius) * uIm - hIm
    const q = 1 / (qRe * qRe + qIm * qIm)
    const yRe = aRe * qRe - aIm * qIm + (cRe * qRe + cIm * qIm) * mm * q
    const yIm = aRe * qIm + aIm * qRe + (cIm * qRe - cRe * qIm) * mm * q
    const lowRe = k * (inner[m + 1]! + m / x) - yRe
    const scale = ((m === 0 ? 1 : 2) * f[m]!) / (radius * (lowRe * lowRe + yIm * yIm))
    const eRe = scale * (frontRe * lowRe - frontIm * yIm)
    const eIm = scale * (frontRe * yIm + frontIm * lowRe)
    // m^2 / (b g K'/K)
    const vRe = ((uRe * qRe + uIm * qIm) * q * mm) / radius
    const vIm = ((uIm * qRe - uRe * qIm) * q * mm) / radius
    for (let d = 0; d < end; d++) {
      // g K'/K = m / rho - g K_(m+1) / K_m
      const rho = 1 / (radius + depths[d]!)
      const bRe = m * rho - (gRe * rRe[d]! - gIm * rIm[d]!) - vRe * rho
      const bIm = -(gRe * rIm[d]! + gIm * rRe[d]!) - vIm * rho
      const pRe = bRe * sRe[d]! - bIm * sIm[d]!
      const pIm = bRe * sIm[d]! + bIm * sRe[d]!
      const re = eRe * pRe - eIm * pIm
      const im = eRe * pIm + eIm * pRe
      const from = m * angles
      const to = d * angles
      for (let a = 0; a < angles; a++) {
        const turn = turns[from + a]!
        out.re[to + a]! += turn * re
        out.im[to + a]! += turn * im
      }
    }
  }
}
