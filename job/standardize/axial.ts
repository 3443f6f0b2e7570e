import { UNIT } from '../signal/index.ts'
import { fittedShape } from './form.ts'
import type { Read } from './hole-input.ts'
import { rowsOf } from './hole-rows.ts'
import type { MetNotch } from './notches.ts'
import { depthAt } from './place.ts'
import type { AxialProfile, FittedNoise, FittedRows } from './standardization.ts'

/** A notch along the axis: its fitted size from revolution to revolution, at its angle. */

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Revolutions kept on either side of the strongest. */
const MOST_ROWS = 12
/** A profile is measured this far over the −6 dB extent, to either side of its middle, in no more revolutions than so. */
const OVER_EXTENT = 1.5
const MOST_PROFILE_ROWS = 48
const LEAST_OVER_NOISE = 10

export interface Along {
  readonly extent_m: number
  readonly rows: FittedRows
}

interface Following {
  /** weights of the fit */
  readonly shape: Float64Array
  /** elements of the wall at the notch's angle, one for each revolution over it */
  readonly rows: readonly number[]
  readonly read: Read
}

/** Follows a notch along the axis: −6 dB extent and the fitted sizes around its strongest revolution. */
export function alongAxis(standing: Columns, following: Following): Along {
  const { z, size, fits, at } = followed(standing, following)
  const { from, to } = extentOf({ z, size, at }, following.read)
  const near = <T>(list: readonly T[]) => list.slice(Math.max(0, at - MOST_ROWS), at + MOST_ROWS + 1)
  return {
    extent_m: to - from,
    rows: { z_m: near(z), x: near(fits).map(({ x }) => x), y: near(fits).map(({ y }) => y) }
  }
}

export interface Profiling {
  readonly standing: Columns
  readonly read: Read
  readonly shape: Float64Array
  readonly noise: FittedNoise
}

/** The axial profile of the smallest mid-bore notch that stands far enough above the noise; undefined where none does. */
export function axialProfile(
  met: readonly MetNotch[],
  { standing, read, shape, noise }: Profiling
): AxialProfile | undefined {
  const bore = met.filter(({ notch }) => notch.place === 'mid-bore')
  const smallest = [...bore].sort(({ notch: a }, { notch: b }) => a.depth_mm - b.depth_mm || a.length_mm - b.length_mm)
  for (const one of smallest) {
    const seen = followed(standing, { shape, rows: rowsOf(one, read), read })
    if (seen.size[seen.at]! < LEAST_OVER_NOISE * along(noise, seen.own)) continue
    return { notch: one.notch.id, length_mm: one.notch.length_mm, profile: profileOf(seen, read) }
  }
  return undefined
}

/** Standard deviation of a covariance along a direction. */
function along({ xx, xy, yy }: FittedNoise, { x, y }: { readonly x: number; readonly y: number }): number {
  return Math.sqrt(Math.max(0, xx * x * x + 2 * xy * x * y + yy * y * y) / (x * x + y * y))
}

function profileOf({ z, size, at }: Followed, read: Read): AxialProfile['profile'] {
  const { from, to } = extentOf({ z, size, at }, read)
  const middle = 0.5 * (from + to)
  const reach = OVER_EXTENT * (to - from)
  const profile = z.map((depth, i) => ({ i, dz_m: depth - middle, share: size[i]! / size[at]! }))
  return profile
    .filter(({ i, dz_m }) => Math.abs(i - at) <= MOST_PROFILE_ROWS && Math.abs(dz_m) <= reach)
    .filter(({ dz_m }) => dz_m + middle >= 0 && dz_m + middle <= thicknessOf(read))
    .map(({ dz_m, share }) => ({ dz_m, share }))
}

interface Followed {
  readonly z: readonly number[]
  /** part of each fitted size along the notch's own direction */
  readonly size: readonly number[]
  /** place of the strongest of the notch's own revolutions inside the wall in these lists */
  readonly at: number
}

function followed(standing: Columns, { shape, rows, read }: Following) {
  const { wall, scale } = read
  const half = (shape.length - 1) / 2
  const first = rows[0]! - UNIT * Math.floor((rows[0]! - half) / UNIT)
  const elements: number[] = []
  for (let i = first; i + half < wall.length; i += UNIT) elements.push(i)
  const fits = elements.map((i) => fittedShape(standing, shape, [i]))
  const own = fittedShape(standing, shape, rows)
  const norm = Math.sqrt(own.x * own.x + own.y * own.y)
  const size = fits.map(({ x, y }) => (x * own.x + y * own.y) / norm)
  const z = elements.map((i) => depthAt(scale, wall.first + i))
  const seen = rows.map((row) => elements.indexOf(row)).filter((i) => i >= 0)
  const inside = seen.filter((i) => z[i]! >= 0 && z[i]! <= thicknessOf(read))
  const at = inside.reduce((best, i) => (size[i]! > size[best]! ? i : best), inside[0] ?? seen[0] ?? 0)
  return { z, size, fits, own, at }
}

/** Depths between which the size stays at half its top or more, linear between revolutions, no further than the faces. */
function extentOf({ z, size, at }: Followed, read: Read): { readonly from: number; readonly to: number } {
  const thickness = thicknessOf(read)
  const half = 0.5 * size[at]!
  const end = (sense: 1 | -1): number => {
    for (let i = at; ; i += sense) {
      const next = size[i + sense]
      if (next === undefined) return z[i]!
      if (next >= half) continue
      const share = (size[i]! - half) / (size[i]! - next)
      return z[i]! + share * (z[i + sense]! - z[i]!)
    }
  }
  const within = (depth: number) => Math.min(thickness, Math.max(0, depth))
  return { from: within(end(-1)), to: within(end(1)) }
}

const thicknessOf = ({ scale, edges }: Read): number => (edges.exit - edges.entry) * scale.metresPerPoint
