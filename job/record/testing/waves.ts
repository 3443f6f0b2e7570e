import type { Examination, Indication } from '../../examine/index.ts'

/** Curves of the right kind for drawings. Invented: nothing was measured, and no physics stands behind the numbers. */

const unit = 512

/** A loop of two lobes along a line at `angle`, a little open, `amplitude` from end to end. */
export function lobes(
  amplitude: number,
  angle: number,
  half = 36
): { readonly x: readonly number[]; readonly y: readonly number[] } {
  const points = Array.from({ length: 2 * half + 1 }, (_, at) => (at - half) / half)
  const main = points.map((t) => 0.5 * amplitude * (t / 0.3) * Math.exp(0.5 - 0.5 * (t / 0.3) ** 2))
  const side = points.map((t) => 0.1 * amplitude * Math.exp(-0.5 * ((t - 0.1) / 0.22) ** 2))
  return {
    x: main.map((value, at) => value * Math.cos(angle) - side[at]! * Math.sin(angle)),
    y: main.map((value, at) => value * Math.sin(angle) + side[at]! * Math.cos(angle))
  }
}

/** A wall with faint grain, edges, and bright places where indications are. */
export function wallPicture(
  indications: readonly Indication[],
  rows = 42,
  columns = 128
): NonNullable<Examination['picture']> {
  const values = Array.from({ length: rows * columns }, (_, at) => {
    const row = Math.floor(at / columns)
    const column = at % columns
    const grain = 0.06 * Math.abs(Math.sin(row * 12.9898 + column * 78.233))
    const edge = row < 3 || row > rows - 4 ? 0.25 : 0
    const bright = indications.map((one) => spot(one, row + 10, (column / columns) * 2 * Math.PI))
    return Math.round(Math.max(grain, edge, ...bright) * 1e4) / 1e4
  })
  return { rows, columns, rowFrom: 10, rowStep: 1, values }
}

function spot({ ruler, angle_rad, matched, revolutions }: Indication, revolution: number, angle: number): number {
  const center = angle_rad === 'unknown' ? 0 : angle_rad
  const off = Math.abs(((angle - center + 3 * Math.PI) % (2 * Math.PI)) - Math.PI)
  return (
    matched * Math.exp(-((revolution - Math.floor(ruler)) ** 2) / (revolutions + 1)) * Math.exp(-((off / 0.16) ** 2))
  )
}

export const snippet = (
  amplitude: number,
  angle: number,
  peak: number,
  revolutions: number
): Indication['snippet'] => ({
  step: (2 * Math.PI) / unit,
  stepUnit: 'rad',
  ...lobes(amplitude, angle),
  along: Array.from({ length: 11 }, (_, at) => amplitude * Math.exp(-((at - 5) ** 2) / (revolutions + 1))),
  alongFrom: peak - 5
})
