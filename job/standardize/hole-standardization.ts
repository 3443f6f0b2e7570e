import { atan2, cos, sin } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import { type Turn, UNIT } from '../signal/index.ts'
import type { Edges } from './edges.ts'
import { formAt, matchedWeights } from './form.ts'
import type { HoleReference, Read, Standardized } from './hole-input.ts'
import { noiseOf, peakNear, readingOf, standingWall, wallMotion } from './hole-reading.ts'
import { unknownNotch } from './hole-refusals.ts'
import { limitsOf, refusedLimit } from './limits.ts'
import type { Rotation } from './rotation.ts'
import type { Standardization } from './standardization.ts'

/** Number of the method by which a reference scan of a hole is read; changes whenever a result changes. */
export const HOLE_REFERENCE_METHOD = 1

const PULSE_LOSS_TO_SAY = 0.1

/** Makes the Standardization of what was read from a wall; refuses when a limit is not met. */
export function standardize(input: HoleReference, read: Read): Result<Omit<Standardized, 'dropped'>> {
  const { technique } = input
  const named = read.met.find(({ notch }) => notch.id === technique.alarm.notch)
  if (named === undefined) return unknownNotch(technique.alarm.notch)
  const turn = turnOf(read.rotation, read.edges, named.amplitude)
  const rawForm = formAt(read.wall, named.at, { turn, spacing: read.spacing, unit: UNIT })
  const standing = standingWall(read, turn)
  const unscaled = matchedWeights(rawForm)
  const peak = peakNear(standing.y, unscaled, named.at)
  const weights = unscaled.map((w) => w / peak)
  const form = { ...rawForm, x: rawForm.x.map((v) => v * peak), y: rawForm.y.map((v) => v * peak) }
  const noise = noiseOf(standing, read.free, weights)
  const notches = read.met.map((one) => readingOf(one, { turn, named: named.amplitude, standing, weights, form, read }))
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
    wallMotion: wallMotion(read, turn),
    band: { ...read.band, unit: 'cycles per revolution' },
    limits
  }
  return { standardization, notes: notesOf(read) }
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
function turnOf(rotation: Rotation, edges: Edges, amplitude: number): Turn {
  const c = cos(rotation.axis_rad)
  const s = sin(rotation.axis_rad)
  const alongAxis = edges.step.x * c + edges.step.y * s
  const sign = alongAxis > 0 ? -1 : 1
  return { x: (sign * c) / amplitude, y: (-sign * s) / amplitude }
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
