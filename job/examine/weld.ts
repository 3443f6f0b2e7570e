import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { following, valuesOf } from '../interpret/index.ts'
import {
  type ConditionedUnit,
  Conditioning,
  DropLog,
  PositionRuler,
  standardized,
  type TrackUnit,
  UNIT
} from '../signal/index.ts'
import { absoluteUnder, lead, trackBand, trackStep, trail } from '../standardize/index.ts'
import type { Run } from './recipe.ts'
import { closeTrack } from './weld-close.ts'
import { type CoatingUnder, TrackCoating } from './weld-coating.ts'
import type { WeldExamination } from './weld-input.ts'
import { TrackStream } from './weld-stream.ts'

/** Points of a conditioned unit that samples made: not those held beyond the ends of the track, nor those bridged. */
function soundPoints({ signal, a, b }: ConditionedUnit<'position', TrackUnit>): Uint8Array {
  const sound = new Uint8Array(UNIT).fill(1)
  if (a.hollow === UNIT) sound.fill(0, 0, UNIT / 2)
  if (b.hollow === UNIT) sound.fill(0, UNIT / 2)
  for (const point of [...a.empty, ...b.empty]) {
    const i = point - signal.first
    if (i >= 0 && i < UNIT) sound[i] = 0
  }
  return sound
}

/**
 * Opens the examination of one track along a weld: the same chain on the mm ruler, levels counted in answers of the alarm
 * slot under the coating met at each place.
 */
export function openWeld(input: WeldExamination): Result<Run> {
  const { technique, standardization, track: place, moved } = input
  const step_m = trackStep(technique.field_width_mm * 1e-3)
  const drops = new DropLog()
  const field = Math.round((technique.field_width_mm * 1e-3) / step_m)
  const numbers = valuesOf(following, moved?.following)
  const track = new TrackStream({ field, alarm: technique.alarm.share, numbers }, standardization.turn)
  const coating = new TrackCoating({
    standardization,
    given_mm: place.coating_mm,
    largest_mm: technique.largest_coating_mm,
    length_mm: place.length_mm
  })
  const sense = { of: 1 as 1 | -1 }
  const conditioning = new Conditioning<'position', TrackUnit>(trackBand(), (unit) => {
    const sound = soundPoints(unit)
    track.follow(unit.placed, sound)
    const under = coating.under(absoluteUnder(unit, field), sound)
    profiled(coating, { unit, under, sound, step_m: step_m * sense.of })
    track.take(standardized(unit.signal, standardization.turn), under, sound)
  })
  let last: TrackUnit | undefined
  const least_m = technique.field_width_mm * 1e-3
  const source = { rate_Hz: input.rate_Hz, step_m, band: trackBand(), least_m }
  const places = input.places === undefined ? {} : { places: input.places }
  const ruler = new PositionRuler({ ...source, ...places }, drops, (unit) => {
    sense.of = ruler.sense
    const led = last === undefined ? conditioning.take(lead(unit)) : undefined
    last = unit
    track.judge(unit, technique.max_speed_mm_s * 1e-3)
    return led ?? conditioning.take(unit)
  })
  return {
    take: (segment) => {
      const taken = ruler.take(segment)
      return isRefusal(taken) ? taken : track.events()
    },
    close: () => {
      const travel = ruler.end()
      if (isRefusal(travel)) return travel
      const trailed = last === undefined ? undefined : conditioning.take(trail(last))
      if (isRefusal(trailed)) return trailed
      const before = track.events()
      const closed = closeTrack(input, { track, coating, travel, step_m, numbers, drops: drops.entries() })
      return { events: [...before, ...closed.events], examination: closed.examination }
    }
  }
}

interface Profiled {
  readonly unit: ConditionedUnit<'position', TrackUnit>
  readonly under: CoatingUnder
  readonly sound: Uint8Array
  /** with the sense of travel */
  readonly step_m: number
}

function profiled({ profile, basis }: TrackCoating, { unit, under, sound, step_m }: Profiled): void {
  if (basis !== 'measured') return
  const { signal, a, b } = unit
  for (let i = 0; i < UNIT; i++) {
    if (sound[i] !== 1) continue
    const samples = i < UNIT / 2 ? a.counts[i + UNIT / 2]! : b.counts[i - UNIT / 2]!
    const place = { at_m: (signal.first + i) * step_m, samples }
    if (under.above[i] === 1) profile.above(place)
    else if (!Number.isNaN(under.coating[i]!)) profile.take(place, under.coating[i]!)
  }
}
