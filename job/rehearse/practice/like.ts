import { atan2, cos } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { bellWidth, type HoleSheet } from '../../plan/index.ts'
import type { Standardization } from '../../standardize/index.ts'
import { refuse } from '../codes.ts'
import type { TableShelf } from '../field/index.ts'
import { generate } from '../generate.ts'
import type { HoleScene } from '../scene.ts'
import { type Columns, type OwnReference, over, type Point, sizeOf, standardizedFrom } from './own.ts'
import { type Staged, standardScene } from './scenes.ts'

/** Scenes that are recorded as the instrument of a job records: its gain and rotation, its speed and pitch, its noise. */

const mm = (value: number): number => value * 1e-3

/** What of the generator has to differ, so that its reference scan is like that of the job. */
interface Tuning {
  /** factor of the step from metal to air, by which an examination knows contact */
  readonly air: Point
  /** 1, or −1 where the other pick-up of the pair comes first */
  readonly order: 1 | -1
  readonly noise: number
  readonly liftOff: number
  readonly run: number
  /** factor of the whole recorded signal: gain and rotation */
  readonly gain: Point
}

const untuned: Tuning = { air: { x: 1, y: 0 }, order: 1, noise: 1, liftOff: 1, run: 1, gain: { x: 1, y: 0 } }

/** Dresses a scene of the technique as the instrument of the job would have recorded it. */
export type Dress = (scene: HoleScene) => HoleScene

/**
 * Both reference scans are read by the standardization of the product: standardized = turn · recorded, so that the factor
 * from generated to recorded units is turn_generated / turn_own. Refuses rehearse/not-like-it.
 */
export function dressFor(staging: Staged, own: OwnReference, shelf: TableShelf): Result<Dress> {
  const { standardization: wanted } = own
  const read = (tuning: Tuning): Result<Standardization> => {
    const scene = dressed(standardScene(staging), { own, tuning, staging })
    const { reference_standard } = staging.sheet
    const sheet: HoleSheet = {
      ...staging.sheet,
      reference_standard: { ...reference_standard, angle_datum: 'index pulse' }
    }
    const found = standardizedFrom(sheet, recordedFrom({ scene, seed: 1 }, own, shelf))
    return isRefusal(found) ? notLikeIt(found.found) : found
  }
  const plain = read(untuned)
  if (isRefusal(plain)) return plain
  const nearer = tunedBy(plain, wanted)
  const like = read(nearer)
  if (isRefusal(like)) return like
  const tuning = { ...nearer, gain: over(like.turn, wanted.turn) }
  return (scene) => dressed(scene, { own, tuning, staging })
}

function tunedBy(plain: Standardization, wanted: Standardization): Tuning {
  return {
    ...untuned,
    air: over(wanted.airStep, plain.airStep),
    order: facing(plain, wanted),
    noise: wanted.noise.matched / plain.noise.matched,
    liftOff: rootOf(liftOffIn(wanted) / liftOffIn(plain)),
    run: wanted.wallMotion / plain.wallMotion
  }
}

/** What the noise along lift-off has more than that across it. */
const liftOffIn = ({ noise }: Standardization): number => Math.max(noise.xx - noise.yy, 0)

const rootOf = (ratio: number): number => (ratio > 0 && ratio < 1e6 ? Math.sqrt(ratio) : 1)

/** −1 where the lobes of the alarm notch come in the other order. */
function facing(plain: Standardization, wanted: Standardization): 1 | -1 {
  const phase = ({ notches, named }: Standardization): number => notches.find(({ id }) => id === named)!.phase_rad
  return cos(phase(plain) - phase(wanted)) < 0 ? -1 : 1
}

interface Dressing {
  readonly own: OwnReference
  readonly tuning: Tuning
  readonly staging: Staged
}

const dressed = (scene: HoleScene, { own, tuning, staging }: Dressing): HoleScene => ({
  ...scene,
  motion: motionOf(scene, own, staging.sheet),
  recorder: { ...scene.recorder, rate_Hz: own.rate_Hz, index: indexOf(scene.recorder.index, own) },
  probe: probeOf(scene.probe, tuning),
  instrument: instrumentOf(scene.instrument, own, tuning),
  wall: wallOf(scene.wall, tuning),
  noise: noiseOf(scene.noise, tuning)
})

/** Turns in the air before and after the hole, where the scan of the standard does not say. */
const AIR_turn = { least: 3, most: 60 }

/** Speed and pitch as met, and as much air as the scan of the standard has. */
function motionOf({ motion }: HoleScene, { rate_Hz, samples, standardization }: OwnReference, sheet: HoleSheet) {
  const { speed_window, joinedNoise } = standardization
  const { technique, reference_standard } = sheet
  const speed_Hz = 0.5 * (speed_window.least + speed_window.most)
  const stated_mm = technique.pitch_mm ?? 0.6 * technique.max_pitch_mm
  const pitch_mm = joinedNoise === undefined ? stated_mm : bellWidth(technique.lobe_spacing_mm) / joinedNoise.perWidth
  const air = 0.5 * ((samples / rate_Hz) * speed_Hz - reference_standard.thickness_mm / pitch_mm)
  const turns = Math.min(AIR_turn.most, Math.max(AIR_turn.least, air))
  const feed = { kind: 'constant', pitch_m: mm(pitch_mm), leadIn_turn: turns, leadOut_turn: turns } as const
  return { ...motion, rpm: 60 * speed_Hz, feed }
}

function indexOf(index: HoleScene['recorder']['index'], { index: own }: OwnReference) {
  if (own === undefined) return index
  return { ...index, height: own.high - own.low, width_turn: Math.min(0.9, Math.max(0.005, own.share)) }
}

function probeOf(probe: HoleScene['probe'], { air, order }: Tuning): HoleScene['probe'] {
  const { size, direction_rad } = probe.air
  return {
    ...probe,
    imbalance: order * probe.imbalance,
    air: { size: size * sizeOf(air), direction_rad: direction_rad + atan2(air.y, air.x) }
  }
}

function instrumentOf({ gain, rotation_rad }: HoleScene['instrument'], { wall }: OwnReference, tuning: Tuning) {
  const { gain: by } = tuning
  return { gain: gain * sizeOf(by), rotation_rad: rotation_rad + atan2(by.y, by.x), offset: wall }
}

const wallOf = (wall: HoleScene['wall'], { liftOff, run }: Tuning): HoleScene['wall'] => ({
  ...wall,
  eccentricity_m: run * wall.eccentricity_m,
  ovality_m: run * wall.ovality_m,
  roughness: { ...wall.roughness, rms_m: liftOff * wall.roughness.rms_m },
  wobble: { ...wall.wobble, rms_m: liftOff * wall.wobble.rms_m }
})

const noiseOf = (noise: HoleScene['noise'], { noise: by }: Tuning): HoleScene['noise'] => ({
  ...noise,
  white: by * noise.white,
  band: { ...noise.band, rms: by * noise.band.rms },
  wall: { ...noise.wall, rms: by * noise.wall.rms }
})

/** A recording to be made. */
export interface ToRecord {
  readonly scene: HoleScene
  readonly seed: number
}

/** The columns of a dressed scene, the index at the levels of the job. Throws as `generate`. */
export function recordedFrom({ scene, seed }: ToRecord, { index: own }: OwnReference, shelf: TableShelf): Columns {
  const { rate_Hz, x, y, index } = generate(scene, seed, shelf)
  return own === undefined ? { rate_Hz, x, y } : { rate_Hz, x, y, index: index.map((value) => own.low + value) }
}

const notLikeIt = (found: string): Result<never> =>
  refuse('rehearse/not-like-it', {
    found: `a model of this probe whose own reference scan can't be standardized: ${found}`,
    needed: 'windings, lobe spacing and standard that belong together',
    remedy: 'check the windings of technique.probe and technique.lobe_spacing_mm against the drawing of the probe',
    where: { path: 'technique.probe' }
  })
