import { atan2, median, PI } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import type { HoleStandard, Notch } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import { refuse } from './codes.ts'
import { longestChord } from './loop.kernel.ts'
import { angleBetween, angleOf, type DepthScale, depthAt, pointAt } from './place.ts'
import type { Wall } from './wall.ts'

/** A notch as met on the wall, in recorded units. */
export interface MetNotch {
  readonly notch: Notch
  /** element of the wall at the middle between the lobes, at its strongest revolution */
  readonly at: number
  readonly amplitude: number
  readonly phase_rad: number
  readonly angle_deg: number
  readonly z_m: number
  readonly angleOff_deg: number
  readonly zOff_m: number
}

/** How far from its certified place a notch is looked for: first alone, then with the others' common offset known. */
interface Window {
  readonly angle_deg: number
  readonly depth_m: number
}

const WIDE: Window = { angle_deg: 12, depth_m: 0.8e-3 }
const NARROW: Window = { angle_deg: 4, depth_m: 0.5e-3 }
const LEAST_OVER_WALL = 3
/** From here on a notch stands so far above the wall that its place can't be the wall's noise. */
const SURELY_OVER_WALL = 6

export interface NotchSearch {
  readonly standard: HoleStandard
  readonly scale: DepthScale
  /** lobe spacing in ruler points */
  readonly spacing: number
  /** added to every certified angle, degrees: 0 where the standard's datum is the index pulse */
  readonly turned_deg: number
}

/**
 * Finds every notch of the standard by its known place: the largest difference between two points a lobe spacing apart,
 * within 12° and 0.8 mm of where the certificate has it. The notches that stand far above the wall then tell by how much
 * the whole standard is turned, and every notch is looked for again within 4° and 0.5 mm of its place so corrected: a
 * weak one can't be taken from the noise beside it. Refuses `standardize/notch-missing`.
 */
export function findNotches(wall: Wall, search: NotchSearch): Result<readonly MetNotch[]> {
  const { notches } = search.standard
  const wide = notches.map((notch) => lookFor(wall, search, { notch, window: WIDE }))
  const sure = wide.flatMap((seen) => (seen !== undefined && seen.overWall >= SURELY_OVER_WALL ? [seen] : []))
  if (sure.length === 0) return missing(notches[0]!)
  const offset = median(sure.map((seen) => seen.angleOff_deg))
  const found: MetNotch[] = []
  for (const notch of notches) {
    const seen = lookFor(wall, { ...search, turned_deg: search.turned_deg + offset }, { notch, window: NARROW })
    if (seen === undefined || seen.overWall < LEAST_OVER_WALL) return missing(notch)
    found.push(measured(wall, search, { notch, seen }))
  }
  return found
}

interface Seen {
  readonly at: number
  readonly between: number
  readonly overWall: number
  readonly angleOff_deg: number
}

interface Looking {
  readonly notch: Notch
  readonly window: Window
}

function lookFor(wall: Wall, search: NotchSearch, { notch, window }: Looking): Seen | undefined {
  const expected = notch.angle_deg + search.turned_deg
  const rows = rowsNear(wall, search, { notch, window })
  const best = strongest(wall, rows, search.spacing)
  if (best === undefined) return undefined
  const quiet = quietElsewhere(wall, rows, search.spacing)
  const angleOff_deg = angleBetween(angleOf(wall.first + best.at + best.between), expected)
  return { ...best, overWall: quiet > 0 ? best.difference / quiet : Number.MAX_VALUE, angleOff_deg }
}

function measured(
  wall: Wall,
  search: NotchSearch,
  { notch, seen }: { readonly notch: Notch; readonly seen: Seen }
): MetNotch {
  const chord = longestChord(wall.x, wall.y, windowAround(wall, seen.at, search.spacing))
  const z_m = depthMiddle(wall, seen.at, search)
  const angle_deg = angleOf(wall.first + seen.at + seen.between)
  return {
    notch,
    at: seen.at,
    amplitude: chord.length,
    phase_rad: atan2(chord.y, chord.x),
    angle_deg,
    z_m,
    angleOff_deg: angleBetween(angle_deg, notch.angle_deg + search.turned_deg),
    zOff_m: z_m - 0.5e-3 * (notch.z0_mm + notch.z1_mm)
  }
}

/** Elements of the wall to look at, one list for each revolution that passes near the notch. */
function rowsNear(
  wall: Wall,
  { scale, turned_deg }: NotchSearch,
  { notch, window }: Looking
): readonly (readonly [number, number])[] {
  const from = pointAt(scale, notch.z0_mm * 1e-3 - window.depth_m) - wall.first
  const to = pointAt(scale, notch.z1_mm * 1e-3 + window.depth_m) - wall.first
  const half = (window.angle_deg / 360) * UNIT
  const offset = ((notch.angle_deg + turned_deg) / 360) * UNIT - wall.first
  const rows: (readonly [number, number])[] = []
  for (let turn = Math.floor((from - offset) / UNIT) - 1; offset + turn * UNIT - half <= to; turn++) {
    const a = Math.ceil(Math.max(from, offset + turn * UNIT - half))
    const b = Math.floor(Math.min(to, offset + turn * UNIT + half))
    if (b > a && a >= 0 && b < wall.length) rows.push([a, b])
  }
  return rows
}

function differenceAt({ x, y, length }: Wall, at: number, half: number): number {
  const a = at - half
  const b = at + half
  if (a < 0 || b >= length) return 0
  const dx = x[b]! - x[a]!
  const dy = y[b]! - y[a]!
  return Math.sqrt(dx * dx + dy * dy)
}

function strongest(wall: Wall, rows: readonly (readonly [number, number])[], spacing: number) {
  const half = Math.round(0.5 * spacing)
  let at = -1
  let difference = -1
  for (const [a, b] of rows) {
    for (let i = a; i <= b; i++) {
      const d = differenceAt(wall, i, half)
      if (d > difference) {
        difference = d
        at = i
      }
    }
  }
  if (at < 0) return undefined
  const [before, after] = [differenceAt(wall, at - 1, half), differenceAt(wall, at + 1, half)]
  const bend = before - 2 * difference + after
  return { at, difference, between: bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0 }
}

/** Median of the same measure at the same angles over the whole wall outside the notch's own rows. */
function quietElsewhere(wall: Wall, rows: readonly (readonly [number, number])[], spacing: number): number {
  const half = Math.round(0.5 * spacing)
  const [first, last] = [rows[0]!, rows.at(-1)!]
  const values: number[] = []
  for (let i = first[0] % UNIT; i < wall.length; i += UNIT) {
    if (i > first[0] - UNIT && i < last[1] + UNIT) continue
    for (let k = 0; k <= first[1] - first[0]; k += 4) values.push(differenceAt(wall, i + k, half))
  }
  return values.length > 0 ? median(values) : 0
}

export const windowAround = (wall: Wall, at: number, spacing: number) => ({
  from: Math.max(0, at - Math.round(spacing)),
  to: Math.min(wall.length, at + Math.round(spacing) + 1)
})

/** Middle of the −6 dB extent along the axis at the angle of the strongest place, m. */
function depthMiddle(wall: Wall, at: number, { scale, spacing }: NotchSearch): number {
  const half = Math.round(0.5 * spacing)
  const top = differenceAt(wall, at, half)
  const end = (sense: 1 | -1) => {
    let before = top
    for (let i = at + sense * UNIT; i >= 0 && i < wall.length; i += sense * UNIT) {
      const now = differenceAt(wall, i, half)
      if (now < 0.5 * top) return depthAt(scale, wall.first + i - sense * UNIT * ((0.5 * top - now) / (before - now)))
      before = now
    }
    return depthAt(scale, wall.first + at)
  }
  return 0.5 * (end(1) + end(-1))
}

const missing = (notch: Notch) =>
  refuse('standardize/notch-missing', {
    found: `nothing above the wall within ${WIDE.angle_deg}° and ${WIDE.depth_m * 1e3} mm of the place of ${notch.id}`,
    needed: 'every notch of the reference standard',
    remedy: 'check standard, angle datum, sense of rotation and grip in the job sheet; scan the standard again'
  })

/** Angle between two lines of the plane, rad, 0 to π/2. */
export function lineAngle(a_rad: number, b_rad: number): number {
  const turns = (a_rad - b_rad) / PI
  return PI * Math.abs(turns - Math.floor(turns + 0.5))
}
