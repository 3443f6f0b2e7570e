import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { AngleRuler, Conditioning, DropLog, type Revolution } from '../signal/index.ts'
import { bandOf } from '../standardize/index.ts'
import { alarmOf } from './hole-alarm.ts'
import { closeHole } from './hole-close.ts'
import type { HoleExamination } from './hole-input.ts'
import { HoleStream } from './hole-stream.ts'
import type { Run } from './recipe.ts'

/** Share of the alarm above which a place is kept as a candidate while samples stream. */
const SCREEN = 0.25

/**
 * Opens the examination of one recorded or live pass through a fastener hole.
 * `take` refuses with the codes of the signal room; `close` puts everything else into the Examination itself.
 */
export function openHole(input: HoleExamination): Result<Run> {
  const { technique, standardization, hole } = input
  const alarm = alarmOf(technique, standardization)
  const drops = new DropLog()
  const nominal = (60 * input.rate_Hz) / technique.rotation_rpm
  const stream = new HoleStream(
    {
      standardization,
      screen: { matched: SCREEN * alarm.matched, swing: alarm.swing },
      speed: { samples: nominal, tolerance: technique.speed_tolerance }
    },
    drops
  )
  const band = bandOf(technique, hole.diameter_mm)
  const conditioning = new Conditioning<'angle', Revolution>(band, (unit) => stream.take(unit))
  const ruler = new AngleRuler(
    {
      rate_Hz: input.rate_Hz,
      speed_Hz: technique.rotation_rpm / 60,
      tolerance: technique.speed_tolerance,
      indexed: input.indexed,
      band
    },
    drops,
    (revolution) => {
      stream.revolution(revolution)
      return conditioning.take(revolution)
    }
  )
  return {
    take: (segment) => {
      const taken = ruler.take(segment)
      return isRefusal(taken) ? taken : stream.events()
    },
    close: () => {
      const turning = ruler.end()
      if (isRefusal(turning)) return turning
      const before = stream.events()
      const closed = closeHole(input, { stream, turning, drops: drops.entries(), alarm })
      return { events: [...before, ...closed.events], examination: closed.examination }
    }
  }
}
