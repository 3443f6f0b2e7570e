import { atan2, cos, median, sin, spread } from '@trueloop/ground/numerics'
import type { HoleTechnique } from '../plan/index.ts'
import { type Turn, UNIT } from '../signal/index.ts'
import { alongAxis } from './axial.ts'
import { clearFits } from './fitted-noise.ts'
import { type Form, fittedShape, shapeOf, unitShape } from './form.ts'
import type { Read } from './hole-input.ts'
import { rowsOf } from './hole-rows.ts'
import { matchedOutput } from './matched.kernel.ts'
import type { MetNotch } from './notches.ts'
import { fromLiftOff } from './separation.ts'
import type { Noise, NotchReading } from './standardization.ts'

const DEG = 0.017453292519943295

/** The conditioned wall in standardized units, columns `[n]`. */
export interface Standing {
  readonly x: Float64Array
  readonly y: Float64Array
}

export function standingWall({ wall }: Read, turn: Turn): Standing {
  const x = new Float64Array(wall.length)
  const y = new Float64Array(wall.length)
  for (let i = 0; i < wall.length; i++) {
    x[i] = wall.x[i]! * turn.x - wall.y[i]! * turn.y
    y[i] = wall.x[i]! * turn.y + wall.y[i]! * turn.x
  }
  return { x, y }
}

/** Largest matched output within a few points and revolutions of a place. */
export function peakNear(y: Float64Array, weights: Float64Array, at: number): number {
  const half = (weights.length - 1) / 2
  let peak = 0
  for (const row of [-2, -1, 0, 1, 2]) {
    const from = Math.max(half, at + row * UNIT - 8)
    const to = Math.min(y.length - half, at + row * UNIT + 9)
    if (to > from) for (const d of matchedOutput(y, weights, { from, to })) peak = Math.max(peak, Math.abs(d))
  }
  return peak
}

/** Second moments and matched output of the clear wall; robust: medians of magnitudes, scaled to a normal deviation. */
export function noiseOf({ x, y }: Standing, free: Uint8Array, weights: Float64Array): Noise {
  const half = (weights.length - 1) / 2
  const at: number[] = []
  for (let i = half; i < free.length - half; i++) if (free[i] === 1) at.push(i)
  const matched = matchedOutput(y, weights, { from: half, to: y.length - half })
  const scale = 1.482602218505602
  const sx = scale * median(at.map((i) => Math.abs(x[i]!)))
  const sy = scale * median(at.map((i) => Math.abs(y[i]!)))
  return {
    xx: sx * sx,
    xy: median(at.map((i) => x[i]! * y[i]!)),
    yy: sy * sy,
    matched: scale * median(at.map((i) => Math.abs(matched[i - half]!))),
    points: at.length
  }
}

export interface ReadingFrame {
  readonly turn: Turn
  readonly named: number
  readonly standing: Standing
  readonly weights: Float64Array
  readonly form: Form
  readonly read: Read
  readonly technique: HoleTechnique
}

export function readingOf(met: MetNotch, frame: ReadingFrame): NotchReading {
  const { turn, named, standing, weights } = frame
  const phase = met.phase_rad + atan2(turn.y, turn.x)
  return {
    id: met.notch.id,
    place: met.notch.place,
    depth_mm: met.notch.depth_mm,
    length_mm: met.notch.length_mm,
    amplitude: met.amplitude / named,
    matched: peakNear(standing.y, weights, met.at),
    phase_rad: atan2(sin(phase), cos(phase)),
    ...fittedReading(met, frame),
    angle_rad: met.angle_deg * DEG,
    z_m: met.z_m,
    angleOff_rad: met.angleOff_deg * DEG,
    zOff_m: met.zOff_m
  }
}

function fittedReading(met: MetNotch, { standing, form, read, technique }: ReadingFrame) {
  const shape = shapeOf(form)
  const rows = rowsOf(met, read)
  const fitted = fittedShape(standing, shape, rows)
  const elsewhere = clearFits(standing, shape, { free: read.free, rows: rows.map((row) => row - rows[0]!) })
  const along = alongAxis(standing, { shape: unitShape(form), rows, read })
  return {
    fitted,
    fittedNoise: { x: spread(elsewhere.x).sigma, y: spread(elsewhere.y).sigma },
    fromLiftOff: fromLiftOff(fitted, elsewhere, {
      uncertainty_rad: read.rotation.uncertainty_rad,
      least_deg: technique.min_separation_deg
    }),
    ...along
  }
}

/** Robust deviation of the wall signal less its mean over the clear wall, standardized. */
export function wallMotion({ wall, free }: Read, turn: Turn): number {
  const gain = Math.sqrt(turn.x * turn.x + turn.y * turn.y)
  const values: number[] = []
  for (let i = 0; i < wall.length; i += 4) {
    if (free[i] === 1) values.push(Math.sqrt(wall.restX[i]! * wall.restX[i]! + wall.restY[i]! * wall.restY[i]!))
  }
  return gain * median(values)
}
