import type { CellGrid, ComplexTable } from './dipole.kernel.ts'

/** Two layers of dipoles on a crack, the same one twice for an absolute coil: p and q, [cell along * deep + row]. */
export interface Layers {
  readonly p: ComplexTable
  readonly q: ComplexTable
  /** 1 where a cell belongs to the crack. */
  readonly inside: Uint8Array
}

/**
 * Sum over the crack of (grad p . grad q) dS, not conjugated, by differences of neighboring cells that both belong to it;
 * real part to out[0], imaginary part to out[1].
 */
export function gradientSum({ p, q, inside }: Layers, grid: CellGrid, out: Float64Array): void {
  const { along, deep, width, height } = grid
  out.fill(0)
  for (let m = 0; m < along; m++) {
    for (let n = 0; n < deep; n++) {
      const at = m * deep + n
      if (inside[at] === 0) continue
      if (m + 1 < along && inside[at + deep] === 1) addStep(p, q, at, at + deep, height / width, out)
      if (n + 1 < deep && inside[at + 1] === 1) addStep(p, q, at, at + 1, width / height, out)
    }
  }
}

function addStep(p: ComplexTable, q: ComplexTable, from: number, to: number, share: number, out: Float64Array): void {
  const pRe = p.re[to]! - p.re[from]!
  const pIm = p.im[to]! - p.im[from]!
  const qRe = q.re[to]! - q.re[from]!
  const qIm = q.im[to]! - q.im[from]!
  out[0]! += share * (pRe * qRe - pIm * qIm)
  out[1]! += share * (pRe * qIm + pIm * qRe)
}
