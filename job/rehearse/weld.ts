import { cos, median, type Random, randomFrom, sin, TAU } from '@trueloop/ground/numerics'
import type { Segment } from '../scan/index.ts'
import { axialProfile } from './bell.ts'
import { lineField } from './lattice.ts'
import { absoluteAt, paintAt, type TrackPaint, throughPaint } from './weld-coating.ts'
import { liftAt, nuisanceAt, type TrackNuisance } from './weld-nuisances.ts'

/**
 * A weld probe drawn along a track with an encoder. Lengths in m, directions in rad, signals in units of an endlessly deep
 * slot; everything explicit.
 */
export interface TrackScene {
  readonly length_m: number
  readonly rate_Hz: number
  /** speed swings by `swing` (a share, below 1) once every `swing_m` */
  readonly speed: { readonly mean_m_s: number; readonly swing: number; readonly swing_m: number }
  readonly encoderStep_m: number
  /** field along the track, width at half height */
  readonly field_m: number
  readonly flaws: readonly TrackFlaw[]
  /** depth of half the largest signal; direction of a flaw and its turn with depth */
  readonly flaw: { readonly half_depth_m: number; readonly direction_rad: number; readonly turn_rad_per_m: number }
  /** slow change of the material along the track, and of lift-off */
  readonly material: Wander
  readonly liftoff: Wander
  readonly instrument: { readonly gain: number; readonly rotation_rad: number; readonly x: number; readonly y: number }
  /** rms of x and of y at every sample, before the gain */
  readonly noise: number
  /** paint, and with it an absolute channel; bare metal and no such channel where it is absent */
  readonly paint?: TrackPaint
  readonly nuisances?: readonly TrackNuisance[]
}

export interface TrackFlaw {
  readonly depth_m: number
  readonly from_m: number
  readonly to_m: number
}

export interface Wander {
  readonly rms: number
  readonly knot_m: number
  readonly direction_rad: number
}

export interface TrackRecording {
  readonly rate_Hz: number
  readonly x: Float64Array
  readonly y: Float64Array
  /** m, in whole encoder steps */
  readonly position: Float64Array
  /** recorded units; there where the scene has paint */
  readonly absolute?: Float64Array
  readonly truth: {
    readonly flaws: readonly { depth_mm: number; start_mm: number; end_mm: number }[]
    readonly coating_mm?: { readonly least: number; readonly median: number; readonly greatest: number }
  }
}

/** Largest signal over a flaw longer than the field. */
export const trackFlawSize = (scene: TrackScene, flaw: TrackFlaw): number =>
  flaw.depth_m / (flaw.depth_m + scene.flaw.half_depth_m)

/** Simulates the track; the same scene and seed give the same bits everywhere. */
export function generateTrack(scene: TrackScene, seed: number): TrackRecording {
  const samples = Math.ceil(timeOf(scene, scene.length_m) * scene.rate_Hz)
  const random = randomFrom(`rehearse track ${seed}`)
  const signal = trackSignal(scene, random)
  const white = random.fork('white')
  const column = () => new Float64Array(samples)
  const out = { rate_Hz: scene.rate_Hz, x: column(), y: column(), position: column() }
  const painted = scene.paint === undefined ? undefined : painting(scene, scene.paint, random)
  const absolute = painted === undefined ? undefined : column()
  for (let i = 0; i < samples; i++) {
    const at = positionAt(scene, i / scene.rate_Hz)
    const [x, y] = recorded(scene, signal(at), white)
    out.x[i] = x
    out.y[i] = y
    out.position[i] = Math.round(at / scene.encoderStep_m) * scene.encoderStep_m
    if (absolute !== undefined) absolute[i] = painted!.read(at)
  }
  const truth = { ...truthOf(scene), ...(painted === undefined ? {} : { coating_mm: painted.met() }) }
  return { ...out, truth, ...(absolute === undefined ? {} : { absolute }) }
}

/** Reads the absolute channel over the paint and keeps what paint was met. */
function painting(scene: TrackScene, paint: TrackPaint, random: Random) {
  const white = random.fork('absolute')
  const met: number[] = []
  return {
    read: (at: number): number => {
      met.push(paintAt(paint, at))
      return absoluteAt(paint.absolute, at, met.at(-1)! + liftOf(scene, at)) + paint.absolute.noise * white.normal()
    },
    met: () => ({
      least: met.reduce((a, b) => Math.min(a, b)),
      median: median(met),
      greatest: met.reduce((a, b) => Math.max(a, b))
    })
  }
}

const liftOf = ({ nuisances = [] }: TrackScene, at: number): number =>
  nuisances.reduce((sum, one) => sum + liftAt(one, at), 0)

/** The recording as one segment. */
export const trackSegment = ({ x, y, position, absolute }: TrackRecording): Segment => ({
  first: 0,
  channels: [{ x, y }],
  aux: { position, ...(absolute === undefined ? {} : { absolute }) }
})

/** Position after t: the time to a position is s/v + swing · swing_m/(2π v) · (1 − cos(2π s/swing_m)), inverted by Newton. */
function positionAt(scene: TrackScene, time: number): number {
  const { mean_m_s, swing, swing_m } = scene.speed
  let at = time * mean_m_s
  for (let k = 0; k < 60; k++) {
    const step = ((timeOf(scene, at) - time) * mean_m_s) / (1 + swing * sin((TAU * at) / swing_m))
    at -= step
    if (Math.abs(step) < 1e-13) break
  }
  return at
}

const timeOf = ({ speed: { mean_m_s, swing, swing_m } }: TrackScene, at: number): number =>
  (at + ((swing * swing_m) / TAU) * (1 - cos((TAU * at) / swing_m))) / mean_m_s

type Plane = readonly [number, number]

function trackSignal(scene: TrackScene, random: Random): (at: number) => Plane {
  const range = { from: 0, to: scene.length_m }
  const wander = ({ rms, knot_m }: Wander, label: string) =>
    lineField({ rms, knot: knot_m, along: range }, random.fork(label))
  const parts: readonly [number, (at: number) => number][] = [
    [scene.material.direction_rad, wander(scene.material, 'material')],
    [scene.liftoff.direction_rad, wander(scene.liftoff, 'lift-off')],
    ...scene.flaws.map((flaw): [number, (at: number) => number] => [directionOf(scene, flaw), flawAlong(scene, flaw)]),
    ...(scene.nuisances ?? []).map((one): [number, (at: number) => number] => [
      one.direction_rad,
      (at) => nuisanceAt(one, at)
    ])
  ]
  return (at) =>
    parts.reduce<Plane>(
      ([x, y], [direction, size]) => {
        const value = size(at)
        return value === 0 ? [x, y] : [x + value * cos(direction), y + value * sin(direction)]
      },
      [0, 0]
    )
}

const directionOf = ({ flaw }: TrackScene, { depth_m }: TrackFlaw): number =>
  flaw.direction_rad + flaw.turn_rad_per_m * depth_m

function flawAlong(scene: TrackScene, flaw: TrackFlaw): (at: number) => number {
  const profile = axialProfile({ z0_m: flaw.from_m, z1_m: flaw.to_m }, scene.field_m)
  const size = trackFlawSize(scene, flaw)
  const { paint } = scene
  if (paint === undefined) return (at) => size * profile(at)
  return (at) => size * profile(at) * throughPaint(paint, paintAt(paint, at) + liftOf(scene, at))
}

function recorded({ instrument, noise }: TrackScene, [x, y]: Plane, white: Random): Plane {
  const { gain, rotation_rad } = instrument
  const nx = x + noise * white.normal()
  const ny = y + noise * white.normal()
  const c = gain * cos(rotation_rad)
  const s = gain * sin(rotation_rad)
  return [c * nx - s * ny + instrument.x, s * nx + c * ny + instrument.y]
}

const truthOf = ({ flaws }: TrackScene): TrackRecording['truth'] => ({
  flaws: flaws.map(({ depth_m, from_m, to_m }) => ({
    depth_mm: depth_m * 1000,
    start_mm: from_m * 1000,
    end_mm: to_m * 1000
  }))
})
