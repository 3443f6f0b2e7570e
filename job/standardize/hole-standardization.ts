import { atan2, cos, sin } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { bellWidth } from '../plan/index.ts'
import { joiningWeights, type Turn, UNIT } from '../signal/index.ts'
import { axialProfile } from './axial.ts'
import type { Edges } from './edges.ts'
import { fittedNoise, joinedNoise } from './fitted-noise.ts'
import { formAt, matchedWeights, unitShape } from './form.ts'
import type { HoleReference, Read, Standardized } from './hole-input.ts'
import { noiseOf, peakNear, readingOf, type Standing, standingWall, wallMotion } from './hole-reading.ts'
import { unknownNotch } from './hole-refusals.ts'
import { limitsOf, refusedLimit } from './limits.ts'
import { type Rotation, senseOf } from './rotation.ts'
import { separationNotes } from './separation.ts'
import type { Standardization } from './standardization.ts'

/** Number of the method by which a reference scan of a hole is read; changes whenever a result changes. */
export const HOLE_REFERENCE_METHOD = 2

const PULSE_LOSS_TO_SAY = 0.1

/** Makes the Standardization of what was read from a wall; refuses when a limit is not met. */
export function standardize(input: HoleReference, read: Read): Result<Omit<Standardized, 'dropped'>> {
  const { technique } = input
  const named = read.met.find(({ notch }) => notch.id === technique.alarm.notch)
  if (named === undefined) return unknownNotch(technique.alarm.notch)
  const sense = senseOf(read.rotation, read.edges.step)
  if (isRefusal(sense)) return sense
  const turn = turnOf(read.rotation, sense, named.amplitude)
  const rawForm = formAt(read.wall, named.at, { turn, spacing: read.spacing, unit: UNIT })
  const standing = standingWall(read, turn)
  const unscaled = matchedWeights(rawForm)
  const peak = peakNear(standing.y, unscaled, named.at)
  const weights = unscaled.map((w) => w / peak)
  const form = { ...rawForm, x: rawForm.x.map((v) => v * peak), y: rawForm.y.map((v) => v * peak) }
  const noise = noiseOf(standing, read.free, weights)
  const frame = { turn, named: named.amplitude, standing, weights, form, read, technique }
  const notches = read.met.map((one) => readingOf(one, frame))
  const sizeNoise = fittedNoise(standing, read.free, unitShape(form))
  const axial = axialProfile(read.met, { standing, read, shape: unitShape(form), noise: sizeNoise })
  const limits = limitsOf({ technique, rotation: read.rotation, notches, noise })
  const refused = refusedLimit(limits)
  if (refused !== undefined) return refused
  const standardization: Standardization = {
    kind: 'standardization',
    version: 1,
    method: HOLE_REFERENCE_METHOD,
    application: 'fastener hole',
    ...heldFor(input, read),
    turn,
    rotation: {
      angle_rad: -atan2(turn.y, turn.x),
      uncertainty_rad: read.rotation.uncertainty_rad,
      axisRatio: read.rotation.axisRatio,
      points: read.rotation.points,
      basis: 'vibration noise of the clear wall; sense from the step between air and metal'
    },
    airStep: { ...turned(read.edges.step, turn), spread: stepSpread(read.edges) },
    named: named.notch.id,
    notches,
    form,
    noise,
    sizeNoise,
    joinedNoise: joinedNoiseOf(read, { standing, shape: unitShape(form), spacing_mm: technique.lobe_spacing_mm }),
    ...(axial === undefined ? {} : { axial }),
    wallMotion: wallMotion(read, turn),
    band: { ...read.band, unit: 'cycles per revolution' },
    limits
  }
  return { standardization, notes: [...notesOf(read), ...separationNotes(notches)] }
}

/** Noise of joined sizes, with as many revolutions joined as this scan had over one width of the field. */
function joinedNoiseOf(
  { free, scale }: Read,
  {
    standing,
    shape,
    spacing_mm
  }: { readonly standing: Standing; readonly shape: Float64Array; readonly spacing_mm: number }
) {
  const perWidth = (bellWidth(spacing_mm) * 1e-3) / (scale.metresPerPoint * UNIT)
  return joinedNoise(standing, free, { shape, weights: joiningWeights(perWidth), perWidth })
}

/** The set-up that it holds for. */
const heldFor = ({ technique, standard, equipment }: HoleReference, { turning: { speed } }: Read) => ({
  standard: standard.id,
  equipment,
  frequency_kHz: technique.frequency_kHz,
  metal: standard.metal,
  diameter_mm: standard.hole_diameter_mm,
  speed_window: {
    least: speed.mean * (1 - technique.speed_tolerance),
    most: speed.mean * (1 + technique.speed_tolerance),
    unit: '1/s' as const
  }
})

/** Lift-off line to the horizontal, its sense so that the way from metal to air is −x, and the named notch to 1. */
function turnOf({ axis_rad }: Rotation, sense: 1 | -1, amplitude: number): Turn {
  return { x: (sense * cos(axis_rad)) / amplitude, y: (-sense * sin(axis_rad)) / amplitude }
}

const turned = (p: Turn, turn: Turn): Turn => ({ x: p.x * turn.x - p.y * turn.y, y: p.x * turn.y + p.y * turn.x })

function stepSpread({ entryStep, exitStep, step }: Edges): number {
  const d = Math.sqrt(
    (entryStep.x - exitStep.x) * (entryStep.x - exitStep.x) + (entryStep.y - exitStep.y) * (entryStep.y - exitStep.y)
  )
  return d / Math.sqrt(step.x * step.x + step.y * step.y)
}

function notesOf({ turning, loss }: Read): readonly string[] {
  const notes: string[] = []
  if (turning.fromSignal)
    notes.push('no index pulse: turns were taken from the signal, angles are relative to an unknown datum')
  if (loss > PULSE_LOSS_TO_SAY) notes.push(`the band takes ${Math.round(100 * loss)} % of the notch pulse away`)
  return notes
}
