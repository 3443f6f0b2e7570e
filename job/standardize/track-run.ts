import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import {
  type ConditionedUnit,
  Conditioning,
  DropLog,
  type Dropped,
  type PlaceBasis,
  PositionRuler,
  type TrackUnit,
  type Travel,
  UNIT
} from '../signal/index.ts'
import { absoluteUnder } from './absolute.ts'
import { trackBand, trackStep } from './track.ts'
import { MOST_UNITS } from './wall.ts'
import { absoluteClipped, clipped, tooLong } from './weld-refusals.ts'

/** A short run along a track, conditioned, columns of one length: ruler points, signal, absolute channel (NaN where none). */
export interface TrackColumn {
  readonly at: readonly number[]
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly a: readonly number[]
}

export interface GatheredRun {
  readonly run: TrackColumn
  readonly travel: Travel
  readonly step_m: number
  /** width of the field, m */
  readonly field: number
  readonly dropped: readonly Dropped[]
}

export interface RunSource {
  readonly rate_Hz: number
  readonly field_width_mm: number
  readonly places?: PlaceBasis | undefined
}

/** A run of its own: samples go in, what `read` makes of all of it comes out. */
export interface TrackReading<T> {
  take(segment: Segment): Result<void>
  close(): Result<T>
}

/** Gathers a whole run and reads it. Refuses `standardize/clipped` where a channel touched a limit, and what the ruler and `read` refuse. */
export function trackReading<T>(
  {
    technique,
    rate_Hz,
    places
  }: { readonly technique: { readonly field_width_mm: number } } & Omit<RunSource, 'field_width_mm'>,
  read: (gathered: GatheredRun) => Result<T>
): TrackReading<T> {
  const gathering = gatherTrack({ rate_Hz, field_width_mm: technique.field_width_mm, places })
  return {
    take: (segment) => gathering.take(segment),
    close: () => {
      const gathered = gathering.close()
      if (isRefusal(gathered)) return gathered
      const { travel } = gathered
      if (travel.clipped > 0) return clipped(travel.clipped)
      return travel.absoluteClipped > 0 ? absoluteClipped(travel.absoluteClipped) : read(gathered)
    }
  }
}

/** Gathers a run short enough to be held: over a reference block, or on parent metal. */
function gatherTrack({ rate_Hz, field_width_mm, places }: RunSource): {
  take(segment: Segment): Result<void>
  close(): Result<GatheredRun>
} {
  const field = field_width_mm * 1e-3
  const step_m = trackStep(field)
  const drops = new DropLog()
  const run = { at: [] as number[], x: [] as number[], y: [] as number[], a: [] as number[] }
  const conditioning = new Conditioning<'position', TrackUnit>(trackBand(), (unit) => {
    append(run, unit, Math.round(field / step_m))
    return run.at.length > MOST_UNITS * UNIT ? tooLong() : undefined
  })
  let last: TrackUnit | undefined
  const source = { rate_Hz, step_m, band: trackBand(), least_m: field, ...(places === undefined ? {} : { places }) }
  const ruler = new PositionRuler(source, drops, (unit) => {
    const led = last === undefined ? conditioning.take(lead(unit)) : undefined
    last = unit
    return led ?? conditioning.take(unit)
  })
  return {
    take: (segment) => ruler.take(segment),
    close: () => {
      const travel = ruler.end()
      if (isRefusal(travel)) return travel
      const trailed = last === undefined ? undefined : conditioning.take(trail(last))
      if (isRefusal(trailed)) return trailed
      return { run: within(run, travel), travel, step_m, field, dropped: drops.entries() }
    }
  }
}

function append(
  run: { at: number[]; x: number[]; y: number[]; a: number[] },
  unit: ConditionedUnit<'position', TrackUnit>,
  field: number
): void {
  const { signal } = unit
  const absolute = absoluteUnder(unit, field)
  for (let i = 0; i < signal.x.length; i++) {
    run.at.push(signal.first + i)
    run.x.push(signal.x[i]!)
    run.y.push(signal.y[i]!)
    run.a.push(absolute[i]!)
  }
}

/** The track begins and ends inside a unit: its first and last values are held, so that the whole track is conditioned. */
export const lead = (unit: TrackUnit): TrackUnit => held(unit, unit.number - 1, 0)
export const trail = (unit: TrackUnit): TrackUnit => held(unit, unit.number + 1, unit.signal.x.length - 1)

function held(unit: TrackUnit, number: number, which: number): TrackUnit {
  const fill = (column: Float64Array) => new Float64Array(column.length).fill(column[which]!)
  const { x, y } = unit.signal
  const signal = { ...unit.signal, first: number * x.length, x: fill(x), y: fill(y) }
  const absolute = unit.absolute === undefined ? {} : { absolute: fill(unit.absolute) }
  return { ...unit, number, signal, hollow: x.length, empty: [], counts: new Float64Array(x.length), ...absolute }
}

function within({ at, x, y, a }: TrackColumn, { from, to }: Travel): TrackColumn {
  const keep = at.flatMap((point, i) => (point >= from && point <= to ? [i] : []))
  const of = (column: readonly number[]) => keep.map((i) => column[i]!)
  return { at: of(at), x: of(x), y: of(y), a: of(a) }
}
