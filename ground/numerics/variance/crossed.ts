import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { fisherSurvival } from '../sampling.ts'

/** One row of an analysis of variance. */
export interface Source {
  readonly sum: number
  readonly dof: number
  readonly mean: number
}

export interface CrossedAnova {
  readonly rows: number
  readonly columns: number
  readonly repeats: number
  readonly ofRows: Source
  readonly ofColumns: Source
  readonly interaction: Source
  readonly within: Source
  /** chance of a larger F, rows and columns against the interaction, that against the readings within */
  readonly chances: { readonly rows: number; readonly columns: number; readonly interaction: number }
}

const source = (sum: number, dof: number): Source => ({ sum, dof, mean: sum / dof })

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

const squares = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0)

/**
 * Two crossed factors with equal repeats, `cells[row][column][repeat]`, both at random:
 * expected means within E; interaction E + r I; rows E + r I + (columns) r R; columns E + r I + (rows) r C.
 * Refuses: numerics/too-few-points (fewer than two rows, columns or repeats). Throws RangeError for unequal cells.
 * source: searle-casella-mcculloch-1992, 4.3
 */
export function crossedAnova(cells: readonly (readonly (readonly number[])[])[]): Result<CrossedAnova, NumericsCode> {
  const [p, o, r] = [cells.length, cells[0]?.length ?? 0, cells[0]?.[0]?.length ?? 0]
  if (cells.some((row) => row.length !== o || row.some((cell) => cell.length !== r)))
    throw new RangeError('cells of one size are needed')
  if (p < 2 || o < 2 || r < 2) return tooFew(`${p} x ${o} cells of ${r}`)
  const first = cells[0]![0]![0]!
  const away = cells.map((row) => row.map((cell) => cell.map((y) => y - first)))
  const means = away.map((row) => row.map(meanOf))
  const grand = meanOf(means.flat())
  const rowMeans = means.map(meanOf)
  const columnMeans = means[0]!.map((_, j) => meanOf(means.map((row) => row[j]!)))
  const beside = means.flatMap((row, i) => row.map((m, j) => m - rowMeans[i]! - columnMeans[j]! + grand))
  const inside = away.flatMap((row, i) => row.flatMap((cell, j) => cell.map((y) => y - means[i]![j]!)))
  const ofRows = source(o * r * squares(rowMeans.map((m) => m - grand)), p - 1)
  const ofColumns = source(p * r * squares(columnMeans.map((m) => m - grand)), o - 1)
  const interaction = source(r * squares(beside), (p - 1) * (o - 1))
  const within = source(squares(inside), p * o * (r - 1))
  const chances = {
    rows: chanceOf(ofRows, interaction),
    columns: chanceOf(ofColumns, interaction),
    interaction: chanceOf(interaction, within)
  }
  return { rows: p, columns: o, repeats: r, ofRows, ofColumns, interaction, within, chances }
}

/** NaN where both are zero. */
const chanceOf = (above: Source, below: Source): number => {
  const ratio = above.mean / below.mean
  if (!Number.isFinite(ratio)) return Number.isNaN(ratio) ? ratio : 0
  return fisherSurvival(ratio, { above: above.dof, below: below.dof })
}

/** Groups of readings, equal or not: F of the group means. Refuses: numerics/too-few-points. source: nist-strd */
export function groupAnova(
  groups: readonly (readonly number[])[]
): Result<{ readonly between: Source; readonly within: Source; readonly ratio: number }, NumericsCode> {
  const count = groups.reduce((sum, group) => sum + group.length, 0)
  if (groups.length < 2 || groups.some((group) => group.length === 0) || count <= groups.length)
    return tooFew(`${count} readings in ${groups.length} groups`)
  const first = groups[0]![0]!
  const away = groups.map((group) => group.map((y) => y - first))
  const grand = away.flat().reduce((sum, y) => sum + y, 0) / count
  const means = away.map(meanOf)
  const between = source(
    means.reduce((sum, mean, i) => sum + away[i]!.length * (mean - grand) * (mean - grand), 0),
    groups.length - 1
  )
  const inside = away.flatMap((group, i) => group.map((y) => y - means[i]!))
  const within = source(squares(inside), count - groups.length)
  return { between, within, ratio: between.mean / within.mean }
}

function tooFew(found: string): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found,
    needed: 'two groups or more of each kind, and repeated readings in them',
    remedy: 'read every part again, by every operator'
  })
}
