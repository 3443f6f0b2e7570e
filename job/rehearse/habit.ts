import { cos, median, PI, principalAxes, sin } from '@trueloop/ground/numerics'
import type { Hole, HoleStandard, HoleTechnique, Notch } from '../plan/index.ts'
import { folded } from './bell.ts'
import { filtered, turnsFrom } from './habit-signal.ts'
import type { Sampled } from './resample.ts'
import type { InstrumentFilter } from './scene.ts'
import type { Call } from './score.ts'
import { swings } from './swing.kernel.ts'
import { degreesApart } from './truth.ts'

/**
 * Usual practice as a yardstick, never a part of the examination: the signal is band-passed in time by corners for the
 * nominal speed, turned until lift-off is level on the reference scan, and the vertical peak-to-peak within a pulse is
 * compared with a share of the alarm notch's.
 */
export interface HabitForm {
  readonly technique: Pick<HoleTechnique, 'lobe_spacing_mm' | 'rotation_rpm' | 'alarm'>
  readonly standard: HoleStandard
  readonly hole: Pick<Hole, 'diameter_mm' | 'grip_mm'>
}

/** What the reference scan teaches. */
export interface Habit {
  readonly form: HabitForm
  readonly level_rad: number
  /** vertical peak-to-peak of the alarm notch, recorded units */
  readonly notch: number
  /** by how much the filters let it come late */
  readonly late_deg: number
}

/** A place of the wall; `level` is its vertical peak-to-peak in alarm notches. */
export interface HabitPeak {
  readonly level: number
  readonly angle_deg: number
  readonly z_mm: number
}

/** Practice puts the alarm notch at this share of the screen's height. */
export const NOTCH_ON_SCREEN = 0.8

/** Levels lift-off and takes the notch's height from a recording of the reference standard. Throws where it has no alarm notch. */
export function habitOf(reference: Sampled, form: HabitForm): Habit {
  const scan = scanned(reference, form, form.standard.thickness_mm)
  const notch = form.standard.notches.find(({ id }) => id === form.technique.alarm.notch)
  if (scan === undefined || notch === undefined) throw new RangeError('a reference scan with its alarm notch is needed')
  const level_rad = liftoffOf(scan, form)
  const heights = swings(vertical(scan, level_rad), pulseSamples(scan, form))
  const { height, angle_deg } = highestAt(scan, heights, notch)
  return { form, level_rad, notch: height, late_deg: 360 * folded((angle_deg - notch.angle_deg) / 360) }
}

/**
 * Every pulse length of the recording with its level in one pass, highest first, so that the alarm may be set afterwards:
 * practice looks at the screen and joins nothing. Empty where the probe was never in the metal.
 */
export function habitPeaks({ form, level_rad, notch, late_deg }: Habit, recording: Sampled): readonly HabitPeak[] {
  const scan = scanned(recording, form, form.hole.grip_mm)
  if (scan === undefined) return []
  const heights = swings(vertical(scan, level_rad), pulseSamples(scan, form))
  const all = blockPeaks(scan, heights, { block: pulseSamples(scan, form), grip_mm: form.hole.grip_mm })
  const levels = all.map(({ level, angle_deg, z_mm }) => {
    return { level: level / notch, angle_deg: degreesOf((angle_deg - late_deg) / 360), z_mm }
  })
  return levels.sort((a, b) => b.level - a.level)
}

/** The places at this share of the screen or above, as calls: practice sizes nothing. */
export const habitCalls = (peaks: readonly HabitPeak[], screenShare: number): readonly Call[] =>
  peaks
    .filter(({ level }) => level * NOTCH_ON_SCREEN >= screenShare)
    .map(({ angle_deg, z_mm }) => ({ verdict: 'relevant', angle_deg, z_mm, size: { kind: 'withheld' } }))

/** A recording band-passed, with the place of every sample. */
interface Scan {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly raw: Sampled
  readonly turns: Float64Array
  readonly z_mm: Float64Array
  readonly perTurn: number
}

function scanned(raw: Sampled, form: HabitForm, grip_mm: number): Scan | undefined {
  const { rate_Hz, x, y, index } = raw
  const perTurn = (60 * rate_Hz) / form.technique.rotation_rpm
  const turns = turnsFrom(index, perTurn)
  const z_mm = depthsFrom(raw, turns, grip_mm)
  if (z_mm === undefined) return undefined
  const band = bandOf(form)
  return { x: filtered(x, band, rate_Hz), y: filtered(y, band, rate_Hz), ...{ raw, turns, z_mm, perTurn } }
}

/**
 * Corners in Hz at the nominal speed, from the footprint w (of a derivative of a bell, 1.18 lobe spacings): high-pass at
 * 0.2 πD/w, low-pass at πD/w cycles a revolution, which is v/w, the published frequency of a notch.
 */
function bandOf({ technique, hole }: HabitForm): readonly [InstrumentFilter, InstrumentFilter] {
  const pulses = (PI * hole.diameter_mm) / (1.18 * technique.lobe_spacing_mm)
  const turns_Hz = technique.rotation_rpm / 60
  return [
    { kind: 'high-pass', order: 1, corner_Hz: 0.2 * pulses * turns_Hz },
    { kind: 'low-pass', order: 1, corner_Hz: pulses * turns_Hz }
  ]
}

const pulseSamples = ({ perTurn }: Scan, { technique, hole }: HabitForm): number =>
  Math.max(3, Math.round((1.5 * technique.lobe_spacing_mm * perTurn) / (PI * hole.diameter_mm)))

const degreesOf = (turn: number): number => 360 * (turn - Math.floor(turn))

/** Direction of the widest spread of the wall where no notch and no face is near: what lifts off. */
function liftoffOf({ raw, turns, z_mm }: Scan, { standard, technique, hole }: HabitForm): number {
  const reach_deg = Math.max(30, (1.6 * 360 * technique.lobe_spacing_mm) / (PI * hole.diameter_mm))
  const isClean = (angle_deg: number, z: number): boolean =>
    z > 1.5 &&
    z < standard.thickness_mm - 1.5 &&
    !standard.notches.some((notch) => isAt(notch, z) && degreesApart(angle_deg, notch.angle_deg) < reach_deg)
  const [n, sx, sy, xx, xy, yy] = [0, 1, 2, 3, 4, 5]
  const sums = new Float64Array(6)
  for (let i = 0; i < turns.length; i++) {
    if (!isClean(degreesOf(turns[i]!), z_mm[i]!)) continue
    const [x, y] = [raw.x[i]!, raw.y[i]!]
    for (const [k, value] of [1, x, y, x * x, x * y, y * y].entries()) sums[k]! += value
  }
  const mean = (k: number): number => sums[k]! / sums[n]!
  return principalAxes({
    xx: mean(xx) - mean(sx) * mean(sx),
    xy: mean(xy) - mean(sx) * mean(sy),
    yy: mean(yy) - mean(sy) * mean(sy)
  }).angle_rad
}

const isAt = ({ z0_mm, z1_mm }: Notch, z_mm: number): boolean => z_mm > z0_mm - 2 && z_mm < z1_mm + 2

function vertical({ x, y }: Scan, level_rad: number): Float64Array {
  const [c, s] = [cos(level_rad), sin(level_rad)]
  return x.map((value, i) => c * y[i]! - s * value)
}

function highestAt({ turns, z_mm }: Scan, heights: Float64Array, notch: Notch) {
  let most = { height: 0, angle_deg: notch.angle_deg }
  for (let i = 0; i < heights.length; i++) {
    const angle_deg = degreesOf(turns[i]!)
    const isNear = z_mm[i]! > notch.z0_mm - 0.8 && z_mm[i]! < notch.z1_mm + 0.8
    if (isNear && degreesApart(angle_deg, notch.angle_deg) < 25 && heights[i]! > most.height)
      most = { height: heights[i]!, angle_deg }
  }
  return most
}

/** The highest sample of every block of a pulse's length, within the hole. */
function blockPeaks(
  { turns, z_mm }: Scan,
  heights: Float64Array,
  { block, grip_mm }: { readonly block: number; readonly grip_mm: number }
): readonly HabitPeak[] {
  const peaks: HabitPeak[] = []
  for (let from = 0; from < heights.length; from += block) {
    const to = Math.min(heights.length, from + block)
    let best = from
    for (let i = from + 1; i < to; i++) if (heights[i]! > heights[best]!) best = i
    const z = z_mm[best]!
    if (z >= 0 && z <= grip_mm) peaks.push({ level: heights[best]!, angle_deg: degreesOf(turns[best]!), z_mm: z })
  }
  return peaks
}

/**
 * Depth at every sample: even between the steps from air into the metal and out of it, where the signal of a turn is half
 * way. Undefined where it never leaves the air.
 */
function depthsFrom({ x, y }: Sampled, turns: Float64Array, grip_mm: number): Float64Array | undefined {
  const rows = meansByTurn(x, y, turns)
  const air = rows[0]
  if (air === undefined || rows.length < 5) return undefined
  const middle = rows.slice(Math.floor(rows.length / 3), Math.ceil((2 * rows.length) / 3))
  const metal = { x: median(middle.map((row) => row.x)), y: median(middle.map((row) => row.y)) }
  const step = { x: metal.x - air.x, y: metal.y - air.y }
  const square = step.x * step.x + step.y * step.y
  const shares = rows.map((row) => ((row.x - air.x) * step.x + (row.y - air.y) * step.y) / square)
  const entry = crossing(shares, rows)
  const exit = crossing([...shares].reverse(), [...rows].reverse())
  if (entry === undefined || exit === undefined || exit <= entry) return undefined
  return turns.map((turn) => (grip_mm * (turn - entry)) / (exit - entry))
}

interface Row {
  readonly turn: number
  readonly x: number
  readonly y: number
}

/** Half-way turn of the first step from below to above one half. */
function crossing(shares: readonly number[], rows: readonly Row[]): number | undefined {
  const k = shares.findIndex((share) => share >= 0.5)
  if (k <= 0) return undefined
  const [before, after] = [shares[k - 1]!, shares[k]!]
  return rows[k - 1]!.turn + ((rows[k]!.turn - rows[k - 1]!.turn) * (0.5 - before)) / (after - before)
}

/** Means over whole turns, by the turn in their middle. */
function meansByTurn(x: Float64Array, y: Float64Array, turns: Float64Array): readonly Row[] {
  const rows: Row[] = []
  let from = 0
  for (let i = 1; i <= turns.length; i++) {
    if (i < turns.length && Math.floor(turns[i]!) === Math.floor(turns[from]!)) continue
    const sum = { x: 0, y: 0 }
    for (let j = from; j < i; j++) {
      sum.x += x[j]!
      sum.y += y[j]!
    }
    rows.push({ turn: Math.floor(turns[from]!) + 0.5, x: sum.x / (i - from), y: sum.y / (i - from) })
    from = i
  }
  return rows
}
