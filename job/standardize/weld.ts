import { atan2, cos, sin } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Turn } from '../signal/index.ts'
import { UNIT } from '../signal/index.ts'
import { shimResponses, withScatter } from './coating-response.ts'
import type { ReferenceRun, Standardized } from './hole-input.ts'
import { type LiftOffLine, meanLine } from './lift-off.ts'
import type { NotchReading, Standardization } from './standardization.ts'
import { trackBand } from './track.ts'
import { weldLimits } from './weld-limits.ts'
import { limitFailed, undetermined, unknownSlot } from './weld-refusals.ts'
import { openShimRun, type Peak, type ShimReading, type WeldReference } from './weld-shim.ts'

/** Number of the method by which a reference block for welds is read. */
export const WELD_REFERENCE_METHOD = 4

const NOTES = ['the sense of lift-off along its line is taken from the slots: no step into air on a block']

/** Opens the reading of one run over a block, under the one shim that it was taken with. */
export function openWeldReference(input: WeldReference, shim_mm = 0): ReferenceRun {
  const run = openShimRun({ ...input, shim_mm })
  return {
    take: (segment) => run.take(segment),
    close: () => {
      const reading = run.close()
      return isRefusal(reading) ? reading : standardizeWeld(input, [reading])
    }
  }
}

/**
 * Joins the runs over a block under its shims into one Standardization: lift-off to the horizontal, the named slot under
 * the thinnest shim upward with its vertical part 1, the answer of every slot under every shim, the curve of the absolute
 * channel. Refuses `standardize/unknown-notch`, `standardize/rotation-undetermined`, `standardize/shims-out-of-order`,
 * `standardize/absolute-differs`, `standardize/notches-out-of-order`, `standardize/shim-left-out`,
 * `standardize/notch-below-noise`.
 */
export function standardizeWeld(input: WeldReference, runs: readonly ShimReading[]): Result<Standardized> {
  const { technique, standard, equipment } = input
  const sorted = [...runs].sort((a, b) => a.shim_mm - b.shim_mm)
  const named = standard.slots.findIndex((slot) => slot.id === technique.alarm.slot)
  const thinnest = sorted[0]
  const peak = thinnest?.peaks[named]
  if (thinnest === undefined || peak === undefined) return unknownSlot(technique.alarm.slot)
  const lines = sorted.flatMap(({ liftOff }) => (liftOff === undefined ? [] : [liftOff]))
  if (lines.length === 0) return undetermined()
  const line = meanLine(lines)
  const turn = turnOf(line.angle_rad, peak)
  const noise = noiseOf(lines, turn)
  const read = shimResponses(sorted, { turn, standard, noise })
  if (isRefusal(read)) return read
  const { leftOut } = read
  const shims = withScatter(read.shims, { leftOut, noise })
  const notches = thinnest.peaks.map((one, k) =>
    slotReading(standard.slots[k]!, one, { turn, step_m: thinnest.step_m })
  )
  const limits = weldLimits(technique, { shims, leftOut, noise })
  const failed = limits.find((limit) => !limit.met)
  if (failed !== undefined) return limitFailed(failed)
  const points = lines.reduce((sum, one) => sum + one.points, 0)
  const standardization: Standardization = {
    kind: 'standardization',
    version: 1,
    method: WELD_REFERENCE_METHOD,
    application: 'weld',
    standard: standard.id,
    equipment,
    frequency_kHz: technique.frequency_kHz,
    metal: standard.metal,
    diameter_mm: 0,
    speed_window: { least: 0, most: technique.max_speed_mm_s, unit: 'mm/s' },
    turn,
    rotation: {
      angle_rad: -atan2(turn.y, turn.x),
      uncertainty_rad: line.doubt_rad,
      axisRatio: lines.reduce((least, { axisRatio }) => Math.min(least, axisRatio), Number.POSITIVE_INFINITY),
      points,
      basis: 'noise of the clear plate; sense from the slots'
    },
    airStep: { x: 0, y: 0, spread: 0 },
    named: technique.alarm.slot,
    notches,
    form: { half: 0, x: [0], y: [1] },
    noise: { xx: 0, xy: 0, yy: noise * noise, matched: noise, points },
    wallMotion: 0,
    band: { low: 0, high: trackBand().high / (UNIT * 1e3 * thinnest.step_m), unit: 'cycles per mm' },
    limits,
    coating: { shims, leftOut, liftOff: line }
  }
  return { standardization, dropped: sorted.flatMap(({ dropped }) => dropped), notes: NOTES }
}

/** Lift-off to the horizontal, the named slot upward and its vertical part to 1. */
function turnOf(axis_rad: number, peak: Peak): Turn {
  const c = cos(axis_rad)
  const s = sin(axis_rad)
  const vertical = peak.y * c - peak.x * s
  return { x: c / vertical, y: -s / vertical }
}

/** Vertical noise of the clear plate, the largest among the runs: differences over one width of the field. */
function noiseOf(lines: readonly LiftOffLine[], turn: Turn): number {
  return lines.reduce((most, { noise: { xx, xy, yy } }) => {
    const square = turn.y * turn.y * xx + 2 * turn.y * turn.x * xy + turn.x * turn.x * yy
    return Math.max(most, Math.sqrt(square))
  }, 0)
}

interface ReadAs {
  readonly turn: Turn
  readonly step_m: number
}

function slotReading(
  slot: { readonly id: string; readonly depth_mm: number },
  peak: Peak,
  { turn, step_m }: ReadAs
): NotchReading {
  const x = peak.x * turn.x - peak.y * turn.y
  const y = peak.x * turn.y + peak.y * turn.x
  return {
    id: slot.id,
    place: 'track',
    depth_mm: slot.depth_mm,
    length_mm: 0,
    amplitude: Math.abs(y),
    matched: Math.abs(y),
    phase_rad: atan2(y, x),
    fitted: { x, y },
    fittedNoise: { x: 0, y: 0 },
    angle_rad: 0,
    z_m: peak.at * step_m,
    angleOff_rad: 0,
    zOff_m: (peak.at - peak.point) * step_m
  }
}
