import type { ResponseTable } from './table.ts'

/** Where a value is put. */
export interface Complex {
  re: number
  im: number
}

/** The table as numbers in local names: what a look-up needs of it. */
type Read = Pick<ResponseTable, 'around' | 'along' | 'isAlike' | 're' | 'im'>

/**
 * Value of a table between its points, by cubics through four of them each way (Catmull-Rom): continuous with its first
 * derivative, the points themselves exact, nothing beyond the grid. `around_m` may have either sign (odd), `along_m` too.
 */
export function lookUp(table: Read, around_m: number, along_m: number, to: Complex): void {
  to.re = 0
  to.im = 0
  const u = Math.abs(around_m) / table.around.step_m
  const v = ((table.isAlike ? Math.abs(along_m) : along_m) - table.along.first_m) / table.along.step_m
  const [rows, columns] = [table.around.count, table.along.count]
  if (u >= rows - 1 || v < 0 || v >= columns - 1) return
  const i = Math.floor(u)
  const j = Math.floor(v)
  const s = u - i
  const t = v - j
  for (let a = -1; a <= 2; a++) {
    const weight = cubic(a, s)
    // the row before the first is the first behind it with the other sign
    const row = Math.abs(i + a)
    const sign = i + a < 0 ? -weight : weight
    if (row >= rows) continue
    for (let b = -1; b <= 2; b++) {
      let column = j + b
      if (column < 0) {
        if (!table.isAlike) continue
        column = -column
      }
      if (column >= columns) continue
      const w = sign * cubic(b, t)
      to.re += w * table.re[row * columns + column]!
      to.im += w * table.im[row * columns + column]!
    }
  }
  if (around_m < 0) return
  to.re = -to.re
  to.im = -to.im
}

/** Weight of the point `at` (-1, 0, 1, 2) for a place t between points 0 and 1. */
function cubic(at: number, t: number): number {
  if (at === -1) return 0.5 * t * (t * (2 - t) - 1)
  if (at === 0) return 0.5 * (t * t * (3 * t - 5) + 2)
  if (at === 1) return 0.5 * t * (t * (4 - 3 * t) + 1)
  return 0.5 * t * t * (t - 1)
}
