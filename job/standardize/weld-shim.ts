import { cos, exp, median, TAU } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Equipment, WeldStandard, WeldTechnique } from '../plan/index.ts'
import { type Dropped, lowPassGain, type PlaceBasis, UNIT } from '../signal/index.ts'
import { type LiftOffLine, liftOffLine } from './lift-off.ts'
import { trackBand } from './track.ts'
import { type GatheredRun, type TrackColumn, type TrackReading, trackReading } from './track-run.ts'
import { tooLittle } from './weld-refusals.ts'

/** What a block is read with. */
export interface WeldReference {
  readonly technique: WeldTechnique
  readonly standard: WeldStandard
  readonly equipment: Equipment
  readonly rate_Hz: number
  readonly places?: PlaceBasis
}

export interface ShimRun extends WeldReference {
  /** thickness of the shim that the run went over; 0 on the bare block */
  readonly shim_mm: number
}

/** Peak of a slot, recorded plane, from the null of the run; place and stated place as ruler points. */
export interface Peak {
  readonly x: number
  readonly y: number
  readonly at: number
  readonly point: number
}

/** One run over the slots under one shim, as it was read. */
export interface ShimReading {
  readonly shim_mm: number
  readonly peaks: readonly Peak[]
  readonly liftOff: LiftOffLine | undefined
  readonly absolute?: { readonly level: number; readonly spread: number }
  readonly step_m: number
  readonly clear: number
  readonly dropped: readonly Dropped[]
}

/** A slot is looked for within this distance of its stated position, and plate farther than this from any slot is clear. */
const NEAR_FIELDS = 1.5
const CLEAR_FIELDS = 4
const LEAST_CLEAR = 100
/** A peak is the top of a parabola through half a field around the strongest point: noise of a point is not in it. */
const TOP_FIELDS = 0.25

/**
 * Opens the reading of one run over the slots of a block under one shim. Refuses `standardize/clipped`,
 * `standardize/too-little-wall`, `standardize/reference-too-long` and what the ruler refuses.
 */
export function openShimRun(input: ShimRun): TrackReading<ShimReading> {
  return trackReading(input, (gathered) => readShim(input, gathered))
}

function readShim({ standard, shim_mm }: ShimRun, gathered: GatheredRun): Result<ShimReading> {
  const { run, travel, step_m, field, dropped } = gathered
  const points = standard.slots.map((slot) => (travel.sense * slot.position_mm * 1e-3) / step_m)
  const clear = run.at.flatMap((at, i) =>
    points.some((point) => Math.abs(at - point) * step_m < CLEAR_FIELDS * field) ? [] : [i]
  )
  if (clear.length < LEAST_CLEAR) return tooLittle(clear.length, LEAST_CLEAR)
  const fieldPoints = Math.round(field / step_m)
  const line = liftOffLine(run, clear, fieldPoints)
  const peaks = points.map((point) => peakOf(run, nullBeside(run, point, fieldPoints), { point, field: fieldPoints }))
  const absolute = levelOf(clear.map((i) => run.a[i]!))
  return {
    ...{ shim_mm, peaks, step_m, clear: clear.length, dropped },
    liftOff: isRefusal(line) ? undefined : line,
    ...(absolute === undefined ? {} : { absolute })
  }
}

function levelOf(values: readonly number[]): ShimReading['absolute'] {
  const read = values.filter((value) => !Number.isNaN(value))
  if (read.length < LEAST_CLEAR) return undefined
  const level = median(read)
  return { level, spread: 1.4826 * median(read.map((value) => Math.abs(value - level))) }
}

/** The null of a slot is that of the plate just beside it: what the hand wanders from slot to slot is not in its peak. */
function nullBeside(run: TrackColumn, point: number, field: number): { readonly x: number; readonly y: number } {
  const sides = [-1, 1].flatMap((way) => {
    const beside = run.at.flatMap((at, i) => {
      const away = (way * (at - point)) / field
      return away >= NEAR_FIELDS && away <= CLEAR_FIELDS ? [i] : []
    })
    const mean = (column: readonly number[]) => beside.reduce((sum, i) => sum + column[i]!, 0) / beside.length
    return beside.length === 0 ? [] : [{ x: mean(run.x), y: mean(run.y) }]
  })
  const half = (of: 'x' | 'y') => sides.reduce((sum, one) => sum + one[of], 0) / Math.max(1, sides.length)
  return { x: half('x'), y: half('y') }
}

interface Near {
  readonly point: number
  readonly field: number
}

function peakOf(run: TrackColumn, null_: { readonly x: number; readonly y: number }, { point, field }: Near): Peak {
  let best = { x: 0, y: 0, at: point }
  run.at.forEach((at, i) => {
    if (Math.abs(at - point) > NEAR_FIELDS * field) return
    const x = run.x[i]! - null_.x
    const y = run.y[i]! - null_.y
    if (x * x + y * y > best.x * best.x + best.y * best.y) best = { x, y, at }
  })
  const reach = Math.max(2, Math.round(TOP_FIELDS * field))
  const around = run.at.flatMap((at, i) => (Math.abs(at - best.at) <= reach ? [i] : []))
  if (around.length < 2 * reach + 1) return { ...best, point }
  const kept = topKept(field, reach)
  const top = (values: readonly number[]) =>
    parabola(
      values.map((value) => value / kept),
      reach
    )
  const x = top(around.map((i) => run.x[i]! - null_.x))
  const y = top(around.map((i) => run.y[i]! - null_.y))
  // where the size along the strongest direction is largest
  const bend = 2 * (best.x * x.square + best.y * y.square)
  const lean = best.x * x.slope + best.y * y.slope
  const t = bend < 0 ? Math.max(-reach, Math.min(reach, -lean / bend)) : 0
  const value = (of: typeof x) => of.level + t * (of.slope + t * of.square)
  return { x: value(x), y: value(y), at: best.at + t, point }
}

/**
 * Share of the top of a slot, a bell as wide as the field, that the band and the parabola leave. A slot is narrow against
 * the field and a flaw along the track is not: what the band takes off the one it does not take off the other.
 */
function topKept(field: number, reach: number): number {
  const band = trackBand()
  const cycle = TAU / UNIT
  const deviation = field / BELL_WIDTH
  let whole = 0
  const top = new Array<number>(2 * reach + 1).fill(0)
  for (let k = 0; k <= UNIT / 2; k++) {
    const u = cycle * k * deviation
    const part = (k === 0 ? 1 : 2) * exp(-0.5 * u * u)
    whole += part
    const passed = part * lowPassGain(band, k)
    for (let t = -reach; t <= reach; t++) top[t + reach]! += passed * cos(cycle * k * t)
  }
  return parabola(top, reach).level / whole
}

/** Width of a bell at half its height over its deviation, 2√(2 ln 2). */
const BELL_WIDTH = 2.3548200450309493

/** Least-squares parabola through values at −reach … reach. */
function parabola(values: readonly number[], reach: number) {
  let [s2, s4, v0, v1, v2] = [0, 0, 0, 0, 0]
  values.forEach((value, i) => {
    const t = i - reach
    s2 += t * t
    s4 += t * t * t * t
    v0 += value
    v1 += t * value
    v2 += t * t * value
  })
  const n = values.length
  const square = (n * v2 - s2 * v0) / (n * s4 - s2 * s2)
  return { square, slope: v1 / s2, level: (v0 - square * s2) / n }
}
