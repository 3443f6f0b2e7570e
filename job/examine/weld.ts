import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  type ConditionedUnit,
  Conditioning,
  DropLog,
  PositionRuler,
  standardized,
  type TrackUnit,
  UNIT
} from '../signal/index.ts'
import { lead, trackBand, trackStep, trail } from '../standardize/index.ts'
import type { Run } from './recipe.ts'
import { closeTrack } from './weld-close.ts'
import type { WeldExamination } from './weld-input.ts'
import { TrackStream } from './weld-stream.ts'

/** Share of the alarm above which a stretch is kept while samples stream. */
export const SCREEN = 0.25

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
 * Opens the examination of one track along a weld: the same chain on the mm ruler. The skeleton of the weld recipe: one
 * track, slots under one coating, no coating correction; its sizes say so.
 */
export function openWeld(input: WeldExamination): Result<Run> {
  const { technique, standardization } = input
  const step_m = trackStep(technique.field_width_mm * 1e-3)
  const drops = new DropLog()
  const track = new TrackStream(SCREEN * technique.alarm.share, Math.round((technique.field_width_mm * 1e-3) / step_m))
  const conditioning = new Conditioning<'position', TrackUnit>(trackBand(), (unit) => {
    const sound = soundPoints(unit)
    track.follow(unit.placed, sound)
    track.take(standardized(unit.signal, standardization.turn), sound)
  })
  let last: TrackUnit | undefined
  const ruler = new PositionRuler({ rate_Hz: input.rate_Hz, step_m, band: trackBand() }, drops, (unit) => {
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
      const closed = closeTrack(input, { track, travel, step_m, drops: drops.entries() })
      return { events: [...before, ...closed.events], examination: closed.examination }
    }
  }
}
