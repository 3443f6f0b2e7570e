import { atan2, cos, median, principalAxes, robustScatter, sin, spread } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Equipment, WeldStandard, WeldTechnique } from '../plan/index.ts'
import { Conditioning, DropLog, PositionRuler, type TrackUnit, type Travel, type Turn, UNIT } from '../signal/index.ts'
import { refuse } from './codes.ts'
import type { ReferenceRun } from './hole.ts'
import { outOfOrder } from './order.ts'
import type { LimitMet, NotchReading, Standardization } from './standardization.ts'
import { trackBand, trackStep } from './track.ts'
import { MOST_UNITS } from './wall.ts'

/** Number of the method by which a reference block for welds is read. */
export const WELD_REFERENCE_METHOD = 2

export interface WeldReference {
  readonly technique: WeldTechnique
  readonly standard: WeldStandard
  readonly equipment: Equipment
  readonly rate_Hz: number
}

const DOF = 3
const LEAST_RATIO = 1.2
/** A slot is looked for within this distance of its stated position, and plate farther than this from any slot is clear. */
const NEAR_FIELDS = 1.5
const CLEAR_FIELDS = 4

interface Column {
  readonly at: number[]
  readonly x: number[]
  readonly y: number[]
}

/** Opens the reading of a run over the slots of a reference block. The skeleton of the weld: one coating, one track. */
export function openWeldReference(input: WeldReference): Result<ReferenceRun> {
  const field = input.technique.field_width_mm * 1e-3
  const step_m = trackStep(field)
  const drops = new DropLog()
  const run: Column = { at: [], x: [], y: [] }
  const conditioning = new Conditioning<'position', TrackUnit>(trackBand(), ({ signal }) => {
    for (let i = 0; i < signal.x.length; i++) {
      run.at.push(signal.first + i)
      run.x.push(signal.x[i]!)
      run.y.push(signal.y[i]!)
    }
    return run.at.length > MOST_UNITS * signal.x.length ? tooLong() : undefined
  })
  const units: TrackUnit[] = []
  const ruler = new PositionRuler({ rate_Hz: input.rate_Hz, step_m, band: trackBand() }, drops, (unit) => {
    const led = units.length === 0 ? conditioning.take(lead(unit)) : undefined
    units[0] = unit
    return led ?? conditioning.take(unit)
  })
  return {
    take: (segment) => ruler.take(segment),
    close: () => {
      const travel = ruler.end()
      if (isRefusal(travel)) return travel
      const last = units[0]
      const trailed = last === undefined ? undefined : conditioning.take(trail(last))
      if (isRefusal(trailed)) return trailed
      const inside = within(run, travel)
      const read = readRun(input, { run: inside, travel, step_m, field })
      return isRefusal(read) ? read : { standardization: read, dropped: drops.entries(), notes: NOTES }
    }
  }
}

const NOTES = ['the sense of lift-off along its line is taken from the slots: no step into air on a block']

/** The track begins and ends inside a unit: its first and last values are held, so that the whole track is conditioned. */
export const lead = (unit: TrackUnit): TrackUnit => held(unit, unit.number - 1, 0)
export const trail = (unit: TrackUnit): TrackUnit => held(unit, unit.number + 1, unit.signal.x.length - 1)

function held(unit: TrackUnit, number: number, which: number): TrackUnit {
  const fill = (column: Float64Array) => new Float64Array(column.length).fill(column[which]!)
  const { x, y } = unit.signal
  const signal = { ...unit.signal, first: number * x.length, x: fill(x), y: fill(y) }
  return { ...unit, number, signal, hollow: x.length, empty: [] }
}

function within({ at, x, y }: Column, { from, to }: Travel): Column {
  const keep = at.flatMap((point, i) => (point >= from && point <= to ? [i] : []))
  return { at: keep.map((i) => at[i]!), x: keep.map((i) => x[i]!), y: keep.map((i) => y[i]!) }
}

interface Read {
  readonly run: Column
  readonly travel: Travel
  readonly step_m: number
  readonly field: number
}

function readRun({ technique, standard, equipment }: WeldReference, read: Read): Result<Standardization> {
  const { run, travel, step_m, field } = read
  if (travel.clipped > 0) return clipped(travel.clipped)
  const points = standard.slots.map((slot) => (travel.sense * slot.position_mm * 1e-3) / step_m)
  const clear = run.at.flatMap((at, i) => {
    const near = points.some((point) => Math.abs(at - point) * step_m < CLEAR_FIELDS * field)
    return near ? [] : [i]
  })
  if (clear.length < 100) return tooLittle(clear.length)
  const null_ = { x: median(clear.map((i) => run.x[i]!)), y: median(clear.map((i) => run.y[i]!)) }
  const axis = liftOffLine(run, clear)
  if (isRefusal(axis)) return axis
  const peaks = standard.slots.map((_, k) =>
    peakOf(run, null_, { point: points[k]!, reach: (NEAR_FIELDS * field) / step_m })
  )
  const named = standard.slots.findIndex((slot) => slot.id === technique.alarm.slot)
  const peak = peaks[named]
  if (peak === undefined) return unknownSlot(technique.alarm.slot)
  const turn = turnOf(axis.angle_rad, peak)
  const notches = standard.slots.map((slot, k) =>
    slotReading(slot, { peak: peaks[k]!, turn, point: points[k]!, step_m })
  )
  const vertical = clear.map((i) => (run.x[i]! - null_.x) * turn.y + (run.y[i]! - null_.y) * turn.x)
  const noise = spread(vertical).sigma
  const limits = limitsOf(technique, { notches, noise })
  const failed = limits.find((limit) => !limit.met)
  if (failed !== undefined) return limitFailed(failed)
  return {
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
      uncertainty_rad: 0,
      axisRatio: axis.ratio,
      points: clear.length,
      basis: 'noise of the clear plate; sense from the slots'
    },
    airStep: { x: 0, y: 0, spread: 0 },
    named: technique.alarm.slot,
    notches,
    form: { half: 0, x: [0], y: [1] },
    noise: { xx: 0, xy: 0, yy: noise * noise, matched: noise, points: clear.length },
    wallMotion: 0,
    band: { low: 0, high: trackBand().high / (UNIT * 1e3 * step_m), unit: 'cycles per mm' },
    limits
  }
}

function liftOffLine(run: Column, clear: readonly number[]) {
  const x = Float64Array.from(clear, (i) => run.x[i]!)
  const y = Float64Array.from(clear, (i) => run.y[i]!)
  const scatter = robustScatter({ x, y }, DOF)
  if (isRefusal(scatter)) return scatter
  const axes = principalAxes(scatter)
  const ratio = Math.sqrt(axes.major / axes.minor)
  if (ratio >= LEAST_RATIO) return { angle_rad: axes.angle_rad, ratio }
  return refuse('standardize/rotation-undetermined', {
    found: `noise of the plate with an axis ratio of ${ratio.toFixed(2)}`,
    needed: `${LEAST_RATIO} or more`,
    remedy: 'record more clear plate beside the slots'
  })
}

interface Peak {
  readonly x: number
  readonly y: number
  readonly at: number
}

function peakOf(run: Column, null_: Turn, { point, reach }: { readonly point: number; readonly reach: number }): Peak {
  let best: Peak = { x: 0, y: 0, at: point }
  run.at.forEach((at, i) => {
    if (Math.abs(at - point) > reach) return
    const x = run.x[i]! - null_.x
    const y = run.y[i]! - null_.y
    if (x * x + y * y > best.x * best.x + best.y * best.y) best = { x, y, at }
  })
  return best
}

/** Lift-off to the horizontal, the named slot upward and its vertical part to 1. */
function turnOf(axis_rad: number, peak: Peak): Turn {
  const c = cos(axis_rad)
  const s = sin(axis_rad)
  const vertical = peak.y * c - peak.x * s
  return { x: c / vertical, y: -s / vertical }
}

function slotReading(
  slot: WeldStandard['slots'][number],
  {
    peak,
    turn,
    point,
    step_m
  }: { readonly peak: Peak; readonly turn: Turn; readonly point: number; readonly step_m: number }
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
    zOff_m: (peak.at - point) * step_m
  }
}

function limitsOf(
  technique: WeldTechnique,
  { notches, noise }: { readonly notches: readonly NotchReading[]; readonly noise: number }
): readonly LimitMet[] {
  const wrong = outOfOrder(notches)
  const ratio = noise > 0 ? 1 / noise : Number.MAX_VALUE
  return [
    {
      limit: 'signal-to-noise of the alarm slot',
      needed: `${technique.min_signal_to_noise} or more`,
      found: ratio.toFixed(1),
      met: ratio >= technique.min_signal_to_noise
    },
    {
      limit: 'slots in the order of their depth',
      needed: 'amplitude grows with depth',
      found: wrong ?? 'in order',
      met: wrong === undefined
    }
  ]
}

const limitFailed = (limit: LimitMet) =>
  refuse(limit.limit.startsWith('slots') ? 'standardize/notches-out-of-order' : 'standardize/notch-below-noise', {
    found: `${limit.limit}: ${limit.found}`,
    needed: limit.needed,
    remedy: 'check block, shim, probe and job sheet, and run over the block again'
  })

const tooLong = () =>
  refuse('standardize/reference-too-long', {
    found: 'a run longer than a reference block',
    needed: 'one run over the slots',
    remedy: 'cut the recording to one run'
  })

const tooLittle = (points: number) =>
  refuse('standardize/too-little-wall', {
    found: `${points} points of plate clear of slots`,
    needed: '100 points or more',
    remedy: 'record more plate before, between and after the slots'
  })

const clipped = (samples: number) =>
  refuse('standardize/clipped', {
    found: `${samples} samples at a limit of the recording`,
    needed: 'none: a clipped slot has no amplitude',
    remedy: 'lower the gain and run over the block again'
  })

const unknownSlot = (id: string) =>
  refuse('standardize/unknown-notch', {
    found: `an alarm level on "${id}"`,
    needed: 'a slot of the reference block',
    remedy: 'name one of its slots in the technique'
  })
