import { atan2, cos, PI } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { bellWidth, type HoleSheet } from '../../plan/index.ts'
import type { Standardization } from '../../standardize/index.ts'
import { refuse } from '../codes.ts'
import { plain } from '../demo-scene.ts'
import type { TableShelf } from '../field/index.ts'
import { generate } from '../generate.ts'
import type { HoleScene, PairProbe } from '../scene.ts'
import { type Columns, type OwnReference, over, type Point, sizeOf, standardizedFrom, times } from './own.ts'
import { type Staged, standardScene } from './scenes.ts'

/** Scenes that are recorded as the instrument of a job records: its gain and rotation, its speed and pitch, its noise. */

const mm = (value: number): number => value * 1e-3

/** What of the generator has to differ, so that its reference scan is like that of the job. */
interface Tuning {
  /** factor of the step from metal to air, by which an examination knows contact */
  readonly air: Point
  /** 1, or −1 where the other pick-up of the pair comes first */
  readonly order: 1 | -1
  /** of the flaws: the alarm notch lies as in the job, seen from lift-off */
  readonly turn_rad: number
  readonly noise: number
  readonly liftOff: number
  readonly run: number
  /** factor of the whole recorded signal: gain and rotation */
  readonly gain: Point
}

/** Quiet: gain, rotation and step are no matter of noise, and it grows evenly with these shares. */
const quiet: Tuning = {
  ...({ air: { x: 1, y: 0 }, order: 1, turn_rad: 0 } as const),
  ...{ noise: 0.2, liftOff: 0.2, run: 1 },
  gain: { x: 1, y: 0 }
}

/** What the air and the direction of the notch need before gain, rotation and noise are read. */
const ROUNDS = 2

/** How scenes of a technique become recordings of the job's own instrument. */
export interface Likeness {
  /** the pair as it has to be for that, its flaws turned against the field where the alarm notch of the job asks for it */
  readonly probe: PairProbe
  readonly dress: Dress
}

/** Dresses a scene of the technique as the instrument of the job would have recorded it. */
export type Dress = (scene: HoleScene) => HoleScene

/**
 * Both reference scans are read by the standardization of the product: standardized = turn · recorded, so that the factor
 * from generated to recorded units is turn_generated / turn_own. Noise makes the notch of the job a little too large, and
 * what is made with it: by a few hundredths where the notch is ten times the noise. Refuses rehearse/not-like-it.
 */
export function likeOwn(staging: Staged, own: OwnReference, shelf: TableShelf): Result<Likeness> {
  const { standardization: wanted } = own
  const model = { ...staging, sheet: withNamedNotch(staging.sheet) }
  const read = (tuning: Tuning): Result<Standardization> => {
    const scene = dressed(standardScene(model), { own, tuning, staging })
    const found = standardizedFrom(model.sheet, recordedFrom({ scene, seed: 1 }, own, shelf))
    return isRefusal(found) ? notLikeIt(found.found) : found
  }
  let tuning = quiet
  for (let round = 0; round < ROUNDS; round++) {
    const found = read(tuning)
    if (isRefusal(found)) return found
    tuning = nearer(tuning, found, wanted)
  }
  const like = read(tuning)
  if (isRefusal(like)) return like
  const tuned = { ...tuning, ...noiseFor(tuning, like, wanted), gain: over(like.turn, wanted.turn) }
  return {
    probe: probeOf(staging.probe, tuned),
    dress: (scene) => dressed(scene, { own, tuning: tuned, staging })
  }
}

/** The alarm notch alone gives gain and rotation; the model need not show what lies deeper in its noise than in the job's. */
function withNamedNotch({ reference_standard: standard, ...sheet }: HoleSheet): HoleSheet {
  const notches = standard.notches.filter(({ id }) => id === sheet.technique.alarm.notch)
  return { ...sheet, reference_standard: { ...standard, notches, angle_datum: 'index pulse' } }
}

function nearer(tuning: Tuning, found: Standardization, wanted: Standardization): Tuning {
  const turn_rad = phaseOf(wanted) - phaseOf(found)
  const isOther = cos(turn_rad) < 0
  return {
    ...tuning,
    air: times(tuning.air, over(wanted.airStep, found.airStep)),
    order: isOther ? (tuning.order === 1 ? -1 : 1) : tuning.order,
    turn_rad: tuning.turn_rad + turn_rad - PI * Math.round(turn_rad / PI)
  }
}

/** Median size of two normal deviates of 1: √(2 ln 2). */
const MEDIAN_SIZE = 1.1774

/** Noise across lift-off, noise along it, and the run of the wall that is left beside both. */
function noiseFor(tuning: Tuning, found: Standardization, wanted: Standardization) {
  const noise = (tuning.noise * wanted.noise.matched) / found.noise.matched
  const { white, band, wall } = plain.noise
  const rms = noise * Math.sqrt(white * white + band.rms * band.rms + wall.rms * wall.rms)
  const rest = wanted.wallMotion * wanted.wallMotion - MEDIAN_SIZE * rms * (MEDIAN_SIZE * rms)
  return {
    noise,
    liftOff: tuning.liftOff * rootOf(liftOffIn(wanted) / liftOffIn(found)),
    run: (tuning.run * Math.sqrt(Math.max(0, rest))) / found.wallMotion
  }
}

/** What the noise along lift-off has more than that across it. */
const liftOffIn = ({ noise }: Standardization): number => Math.max(noise.xx - noise.yy, 0)

/** One step goes no further than that: where there is next to nothing of it, its share is not known. */
const STEP = { least: 0.1, most: 10 }

const rootOf = (ratio: number): number =>
  Number.isNaN(ratio) ? 1 : Math.max(STEP.least, Math.min(STEP.most, Math.sqrt(ratio)))

/** Of the line through the lobes of the alarm notch, later less earlier. */
const phaseOf = ({ notches, named }: Standardization): number => notches.find(({ id }) => id === named)!.phase_rad

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

function probeOf(probe: HoleScene['probe'], { air, order, turn_rad }: Tuning): HoleScene['probe'] {
  const { size, direction_rad } = probe.air
  return {
    ...probe,
    imbalance: order * probe.imbalance,
    flaw: { ...probe.flaw, direction_rad: probe.flaw.direction_rad + turn_rad },
    flawTurn_rad: turn_rad,
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
    found: `in the reference scan of the model of this probe: ${found}`,
    needed:
      'a model whose reference scan is like that of the job: windings, frequency, lobe spacing and standard belong together',
    remedy: 'check the windings of technique.probe and technique.lobe_spacing_mm against the drawing of the probe',
    where: { path: 'technique.probe' }
  })
