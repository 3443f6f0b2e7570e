/**
 * One weighting pass over a cloud of points for the Student-t estimate: standardizes each point with the present
 * location and triangular factor, weighs it, and sums. Sums run in blocks so that rounding does not grow with length.
 */

export interface Frame {
  /** Present location: a fixed origin near the points, and what is added to it. Apart, so that a far origin costs no digits. */
  readonly xOrigin: number
  readonly yOrigin: number
  x: number
  y: number
  /** Lower triangular factor of the present scatter: scatter = L L'. */
  l11: number
  l21: number
  l22: number
}

export interface Sums {
  w: number
  u: number
  v: number
  uu: number
  uv: number
  vv: number
}

const BLOCK = 512

/** `count` may be empty: every point then counts once. Weight of a point: count (dof + 2) / (dof + squared distance). */
export function scatterKernel(
  cloud: { readonly x: Float64Array; readonly y: Float64Array; readonly weights?: Float64Array },
  frame: Frame,
  dof: number
): Sums {
  const { x, y, weights } = cloud
  const total: Sums = { w: 0, u: 0, v: 0, uu: 0, uv: 0, vv: 0 }
  const { xOrigin, yOrigin, l21 } = frame
  const [xMove, yMove] = [frame.x, frame.y]
  const [i11, i22] = [1 / frame.l11, 1 / frame.l22]
  for (let start = 0; start < x.length; start += BLOCK) {
    const end = Math.min(start + BLOCK, x.length)
    let sw = 0
    let su = 0
    let sv = 0
    let suu = 0
    let suv = 0
    let svv = 0
    for (let i = start; i < end; i++) {
      const u = (x[i]! - xOrigin - xMove) * i11
      const v = (y[i]! - yOrigin - yMove - l21 * u) * i22
      const count = weights === undefined ? 1 : weights[i]!
      const w = (count * (dof + 2)) / (dof + u * u + v * v)
      sw += w
      su += w * u
      sv += w * v
      suu += w * u * u
      suv += w * u * v
      svv += w * v * v
    }
    total.w += sw
    total.u += su
    total.v += sv
    total.uu += suu
    total.uv += suv
    total.vv += svv
  }
  return total
}
