import type { CellGrid, ComplexTable } from './dipole.kernel.ts'

/**
 * Sum over the crack of (grad p . grad p) dS, not conjugated, by differences of neighboring cells that both belong to it;
 * p [cell along * deep + row]; real part to out[0], imaginary part to out[1].
 */
export function gradientSum(p: ComplexTable, inside: Uint8Array, grid: CellGrid, out: Float64Array): void {
  const { along, deep, width, height } = grid
  const perWidth = height / width
  const perHeight = width / height
  let re = 0
  let im = 0
  for (let m = 0; m < along; m++) {
    for (let n = 0; n < deep; n++) {
      const at = m * deep + n
      if (inside[at] === 0) continue
      if (m + 1 < along && inside[at + deep] === 1) {
        const dRe = p.re[at + deep]! - p.re[at]!
        const dIm = p.im[at + deep]! - p.im[at]!
        re += perWidth * (dRe * dRe - dIm * dIm)
        im += perWidth * 2 * dRe * dIm
      }
      if (n + 1 < deep && inside[at + 1] === 1) {
        const dRe = p.re[at + 1]! - p.re[at]!
        const dIm = p.im[at + 1]! - p.im[at]!
        re += perHeight * (dRe * dRe - dIm * dIm)
        im += perHeight * 2 * dRe * dIm
      }
    }
  }
  out[0] = re
  out[1] = im
}
