import { cos, exp, PI, sin } from '@trueloop/ground/numerics'
import { gaussLegendre } from '../gauss.ts'

/** Cells of a crack: even along it and down from the surface. */
export interface CellGrid {
  readonly along: number
  readonly deep: number
  /** Width along the crack and height, m. */
  readonly width: number
  readonly height: number
}

/** Complex values in two columns. */
export interface ComplexTable {
  readonly re: Float64Array
  readonly im: Float64Array
}

export const complexTable = (size: number): ComplexTable => ({
  re: new Float64Array(size),
  im: new Float64Array(size)
})

const rule = gaussLegendre(16)

/**
 * Second derivatives along the crack plane of the field of a cell of unit dipole density, as a line integral of the
 * normal derivative of G = exp(-(1 + j) R / delta) / (4 pi R) around the cell: [cells apart along * (2 deep + 1) + cells
 * apart in depth], 1/m. Cells share their sides, so each side is integrated once, by 16 points. Error against the value of
 * a cell on itself: 1e-11 for squares, 1e-8 for 4 to 3, 3e-5 for 5 to 2, 2e-4 for 3 to 1.
 * source: bowler-1994
 */
export function dipoleTable(grid: CellGrid, delta: number): ComplexTable {
  const { along, deep, width, height } = grid
  const rows = 2 * deep + 1
  const table = complexTable(along * rows)
  const out = new Float64Array(2)
  // Upright sides, at (m + 1/2) widths: an end of cell m and the start of cell m + 1.
  for (let m = 0; m < along; m++) {
    for (let n = 0; n < rows; n++) {
      sideIntegral((m + 0.5) * width, n * height, height, 1 / delta, out)
      const at = m * rows + n
      // The side at -1/2 is the mirror image of that at +1/2, with its normal turned round.
      const times = m === 0 ? 2 : 1
      table.re[at]! += times * out[0]!
      table.im[at]! += times * out[1]!
      if (m + 1 < along) {
        table.re[at + rows]! -= out[0]!
        table.im[at + rows]! -= out[1]!
      }
    }
  }
  // Level sides, at (n + 1/2) heights.
  for (let m = 0; m < along; m++) {
    for (let n = 0; n < rows; n++) {
      sideIntegral((n + 0.5) * height, m * width, width, 1 / delta, out)
      const at = m * rows + n
      const times = n === 0 ? 2 : 1
      table.re[at]! += times * out[0]!
      table.im[at]! += times * out[1]!
      if (n + 1 < rows) {
        table.re[at + 1]! -= out[0]!
        table.im[at + 1]! -= out[1]!
      }
    }
  }
  return table
}

/** Integral of away G'(R) / R along a side `away` from the point, from middle - length / 2 to middle + length / 2. */
function sideIntegral(away: number, middle: number, length: number, decay: number, out: Float64Array): void {
  let re = 0
  let im = 0
  for (let i = 0; i < 16; i++) {
    const s = middle + 0.5 * length * rule.nodes[i]!
    const distance = Math.sqrt(away * away + s * s)
    const u = decay * distance
    const c = cos(u)
    const sn = sin(u)
    const size = (rule.weights[i]! * exp(-u)) / (distance * distance * distance)
    re += size * ((1 + u) * c + u * sn)
    im += size * (u * c - (1 + u) * sn)
  }
  const scale = (-away * length) / (8 * PI)
  out[0] = scale * re
  out[1] = scale * im
}
