import { median } from '@trueloop/ground/numerics'
import type { Interpreted, Sheet } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'
import { type FittedRows, isClearOfLiftOff, type NotchReading, type Standardization } from '../standardize/index.ts'
import type { Stretch } from './along.ts'

/** The double maximum of a split pair at mid-bore: measured on the reference's notches, and met on a flaw. source: split-d-2011 */

/**
 * A second maximum counts from half the first one on; the valley lies below the lower one by a tenth of it and by four
 * deviations of the noise: less may be chance. Both stand about the notch's certified middle. No source.
 */
const LEAST_SECOND = 0.5
const LEAST_VALLEY = 0.1
const VALLEY_OVER_NOISE = 4
/** A notch tells its form along the axis from here on, as for its profile in the standardization. */
const LEAST_OVER_NOISE = 10
const OFF_MIDDLE = 0.5

interface Point {
  readonly x: number
  readonly y: number
}

/**
 * Distance along the axis of the two maxima of the mid-bore notches, m: median of those that show two, as a notch shorter
 * than that distance does; undefined where none does. A pair is no longer along the axis than twice its lobes lie apart:
 * what shows farther off is another notch.
 * @param most_m twice the distance of the lobes
 */
export function twinOf({ notches, sizeNoise }: Standardization, most_m: number): number | undefined {
  const noise = sizeNoise ?? { xx: 0, xy: 0, yy: 0 }
  const apart = notches
    .filter((notch) => notch.place.includes('mid-bore') && isClearOfLiftOff(notch))
    .flatMap(({ rows, fitted, z_m, zOff_m, length_mm }) => {
      if (rows === undefined) return []
      const far = apartIn(rows, { fitted, noise, middle_m: z_m - zOff_m })
      return far === undefined || far > most_m || far < 1e-3 * length_mm ? [] : [far]
    })
  return apart.length === 0 ? undefined : median(apart)
}

interface About {
  readonly fitted: NotchReading['fitted']
  readonly noise: { readonly xx: number; readonly xy: number; readonly yy: number }
  readonly middle_m: number
}

function apartIn({ z_m, x, y }: FittedRows, { fitted, noise, middle_m }: About): number | undefined {
  const own = direction(fitted)
  const size = z_m.map((_, i) => x[i]! * own.x + y[i]! * own.y)
  const deviation = Math.sqrt(noise.xx * own.x * own.x + 2 * noise.xy * own.x * own.y + noise.yy * own.y * own.y)
  const first = size.reduce((best, value, i) => (value > size[best]! ? i : best), 0)
  if (size[first]! < LEAST_OVER_NOISE * deviation) return undefined
  const tops = size.flatMap((_, i) => (isTop(size, i) && Math.abs(i - first) > 1 ? [i] : []))
  const seconds = tops
    .filter((i) => size[i]! >= LEAST_SECOND * size[first]! && isParted(size, [first, i], deviation))
    .sort((a, b) => size[b]! - size[a]!)
  for (const second of seconds) {
    const [a, b] = [depthOfTop(z_m, size, first), depthOfTop(z_m, size, second)]
    if (Math.abs(0.5 * (a + b) - middle_m) <= OFF_MIDDLE * 0.5 * Math.abs(b - a)) return Math.abs(b - a)
  }
  return undefined
}

function direction({ x, y }: Point): Point {
  const length = Math.sqrt(x * x + y * y)
  return { x: x / length, y: y / length }
}

const isTop = (size: readonly number[], i: number): boolean =>
  i > 0 && i < size.length - 1 && size[i]! >= size[i - 1]! && size[i]! >= size[i + 1]!

function isParted(size: readonly number[], [a, b]: readonly [number, number], deviation: number): boolean {
  const valley = Math.min(...size.slice(Math.min(a, b), Math.max(a, b) + 1))
  const lower = Math.min(size[a]!, size[b]!)
  return lower - valley >= Math.max(LEAST_VALLEY * lower, VALLEY_OVER_NOISE * deviation)
}

/** Depth of a maximum between revolutions, by the parabola through three; that of its revolution at an end. */
function depthOfTop(z_m: readonly number[], size: readonly number[], i: number): number {
  if (!isTop(size, i)) return z_m[i]!
  const bend = size[i - 1]! - 2 * size[i]! + size[i + 1]!
  const off = bend < 0 ? (0.5 * (size[i - 1]! - size[i + 1]!)) / bend : 0
  return z_m[i]! + off * (off > 0 ? z_m[i + 1]! - z_m[i]! : z_m[i]! - z_m[i - 1]!)
}

/** How far the distance of two maxima may differ from the notch's, as interpretation takes them for one. */
const TWIN_SHARE = 0.35
/** Ruler points by which the ridge at a second maximum may lie beside it. */
const BESIDE = 8

export interface Spanned {
  readonly span: Stretch
  /** the two maxima, where there are two */
  readonly apart: Stretch | undefined
}

/** Where a place stays at half its peak or more: with a second maximum of the same flaw, from before the one to behind the other. */
export function spanOf(
  { ridge, at, alike }: Interpreted,
  { sheet, twin }: { readonly sheet: Sheet; readonly twin: number | undefined }
): Spanned {
  const span = { from: ridge.from, to: ridge.to }
  if (twin === undefined) return { span, apart: undefined }
  const off = (point: number) => Math.abs(Math.abs(Math.round((point - at) / UNIT)) - twin)
  const near = alike.filter((point) => off(point) <= Math.max(1, TWIN_SHARE * twin)).sort((a, b) => off(a) - off(b))
  const second = near[0]
  if (second === undefined) return { span, apart: undefined }
  const end = second < at ? endOf(sheet, { at, second, sense: -1 }) : endOf(sheet, { at, second, sense: 1 })
  return {
    span: { from: Math.min(span.from, end), to: Math.max(span.to, end) },
    apart: { from: Math.min(at, second), to: Math.max(at, second) }
  }
}

interface Beyond {
  readonly at: number
  readonly second: number
  readonly sense: 1 | -1
}

/** Where, beyond the second maximum, the size along the first one's direction falls to half of that; linear between revolutions. */
function endOf(sheet: Sheet, { at, second, sense }: Beyond): number {
  const top = sizeAt(sheet, at)
  const own = direction(top)
  const half = 0.5 * (top.x * own.x + top.y * own.y)
  let before = strongest(sheet, second, own)
  for (let point = second + sense * UNIT; ; point += sense * UNIT) {
    const now = strongest(sheet, point, own)
    if (now === undefined || before === undefined) return point - sense * UNIT
    if (now < half) return point - sense * UNIT * (before > now ? Math.min(1, (half - now) / (before - now)) : 1)
    before = now
  }
}

function sizeAt({ first, step, cx, cy }: Sheet, point: number): Point {
  const i = Math.round((point - first) / step)
  return { x: cx[i]!, y: cy[i]! }
}

function strongest({ first, step, length, cx, cy }: Sheet, point: number, own: Point): number | undefined {
  const middle = Math.round((point - first) / step)
  if (middle < 0 || middle >= length) return undefined
  const beside = Math.round(BESIDE / step)
  let most = Number.NEGATIVE_INFINITY
  for (let i = Math.max(0, middle - beside); i <= Math.min(length - 1, middle + beside); i++)
    most = Math.max(most, cx[i]! * own.x + cy[i]! * own.y)
  return most
}
