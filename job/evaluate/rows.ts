import type { FittedNoise, FittedRows } from '../standardize/index.ts'

/** Fitted sizes along the axis, in mm and made ready for a fit. */

/** Scatter of the fitted size in one revolution, 1 = the named notch, squared. */
export type RowNoise = Pick<FittedNoise, 'xx' | 'yy'>

export interface Rows {
  readonly z_mm: readonly number[]
  readonly x: readonly number[]
  readonly y: readonly number[]
  /** depths between which the size stays at half its top or more */
  readonly half: { readonly from: number; readonly to: number }
}

/** Noise below a thousandth of the named notch is not claimed: the band and its arithmetic leave as much. */
const QUIETEST = 1e-6

export const atLeastQuiet = ({ xx, yy }: RowNoise): RowNoise => ({
  xx: Math.max(QUIETEST, xx),
  yy: Math.max(QUIETEST, yy)
})

/**
 * Rows with their −6 dB extent, outward from the strongest: the part of each along the strongest, each component weighed
 * by its noise. Undefined for fewer than three revolutions.
 *
 * @param near_mm where it is known to lie: rows may pass over something else that is stronger
 */
export function rowsOf({ z_m, x, y }: FittedRows, { xx, yy }: RowNoise, near_mm?: number): Rows | undefined {
  if (z_m.length < 3) return undefined
  const strength = z_m.map((_, i) => (x[i]! * x[i]!) / xx + (y[i]! * y[i]!) / yy)
  const at = near_mm === undefined ? strongest(strength) : uphill(strength, nearest(z_m, near_mm))
  const size = z_m.map((_, i) => ((x[i]! * x[at]!) / xx + (y[i]! * y[at]!) / yy) / strength[at]!)
  const z_mm = z_m.map((z) => 1e3 * z)
  const [one, other] = [halfAt(z_mm, size, { at, sense: -1 }), halfAt(z_mm, size, { at, sense: 1 })]
  return { z_mm, x, y, half: { from: Math.min(one, other), to: Math.max(one, other) } }
}

const strongest = (strength: readonly number[]): number =>
  strength.reduce((best, value, i) => (value > strength[best]! ? i : best), 0)

const nearest = (z_m: readonly number[], near_mm: number): number =>
  z_m.reduce((best, z, i) => (Math.abs(1e3 * z - near_mm) < Math.abs(1e3 * z_m[best]! - near_mm) ? i : best), 0)

/** Up from a row to the top that it belongs to. */
function uphill(strength: readonly number[], from: number): number {
  let at = from
  for (;;) {
    const next = [at - 1, at + 1].find((i) => (strength[i] ?? 0) > strength[at]!)
    if (next === undefined) return at
    at = next
  }
}

function halfAt(
  z: readonly number[],
  size: readonly number[],
  { at, sense }: { readonly at: number; readonly sense: 1 | -1 }
): number {
  for (let i = at; ; i += sense) {
    const next = size[i + sense]
    if (next === undefined) return z[i]!
    if (next >= 0.5) continue
    return z[i]! + ((size[i]! - 0.5) / (size[i]! - next)) * (z[i + sense]! - z[i]!)
  }
}

/** The rows no farther than `reach_mm` beyond the −6 dB extent: what lies beyond belongs to something else. */
export function within({ z_mm, x, y, half }: Rows, reach_mm: number): Rows {
  const isNear = (_: number, i: number) => z_mm[i]! >= half.from - reach_mm && z_mm[i]! <= half.to + reach_mm
  return { z_mm: z_mm.filter(isNear), x: x.filter(isNear), y: y.filter(isNear), half }
}
