import { behind, bestPlace, lengthsFor, type Seeing } from './behind.ts'
import { lowest } from './picks.ts'
import { type Rows, within } from './rows.ts'

/** The footprint of the probe along the axis, measured on notches of certified length. */

export interface Seen {
  readonly rows: Rows
  readonly length_mm: number
}

export interface Footprint {
  /** width at half height */
  readonly width_mm: number
  /** by how much lengths told through it differ from the certified ones */
  readonly scatter_mm: number
}

const STEPS = 18
/** Widths looked at, as shares of the shortest −6 dB extent: a point shows the width itself, nothing shows less. */
const LEAST = 0.4
const MOST = 1.3

/**
 * Width at which notches of their certified lengths explain their rows best (least squares over all of them), and the
 * scatter of the lengths of those that are at least as long as it. Undefined without notches.
 */
export function footprintOf(
  notches: readonly Seen[],
  seeing: Omit<Seeing, 'width_mm'>,
  lengthScatter: number
): Footprint | undefined {
  if (notches.length === 0) return undefined
  const shortest = Math.min(...notches.map(({ rows: { half } }) => half.to - half.from))
  if (!(shortest > 0)) return undefined
  const widths = Array.from({ length: STEPS + 1 }, (_, i) => shortest * (LEAST + ((MOST - LEAST) * i) / STEPS))
  const near = notches.map(({ rows, length_mm }) => ({ rows: within(rows, shortest), length_mm }))
  const misfits = widths.map((width_mm) => misfitOf(near, { ...seeing, width_mm }))
  const width_mm = lowest(widths, misfits)
  return { width_mm, scatter_mm: scatterOf(notches, { ...seeing, width_mm }, lengthScatter * width_mm) }
}

const misfitOf = (notches: readonly Seen[], seeing: Seeing): number =>
  notches.reduce((sum, { rows, length_mm }) => {
    return sum + strengthShare(rows, bestPlace(rows, seeing, length_mm).misfit, seeing)
  }, 0)

/** A misfit as a share of the notch's whole energy over the noise: strong notches do not drown the others. */
function strengthShare({ x, y }: Rows, misfit: number, { noise }: Seeing): number {
  const energy = x.reduce((sum, _, i) => sum + (x[i]! * x[i]!) / noise.xx + (y[i]! * y[i]!) / noise.yy, 0)
  return energy > 0 ? misfit / energy : 0
}

function scatterOf(notches: readonly Seen[], seeing: Seeing, least: number): number {
  const long = notches.filter(({ length_mm }) => length_mm >= seeing.width_mm)
  if (long.length === 0) return least
  const squares = long.map(({ rows, length_mm }) => {
    const lengths = lengthsFor(rows, seeing.width_mm)
    const off =
      lowest(
        lengths,
        behind(rows, seeing, lengths).map(({ misfit }) => misfit)
      ) - length_mm
    return off * off
  })
  return Math.max(least, Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / long.length))
}
