/** Test help: recordings without a position. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { LoopTechnique } from '../../plan/index.ts'
import { openLoop } from '../index.ts'
import { type Examined, type Recorded, segmentsOf } from './hole.ts'

export const loopTechnique: LoopTechnique = {
  application: 'loop',
  procedure: { id: 'invented', revision: '1' },
  min_signal_to_noise: 10
}

/** A figure of eight at 30° with a span of 2, on a quiet that is the same everywhere. */
export function figureOfEight(rate_Hz = 256): Recorded {
  const n = 5 * rate_Hz
  const bump = (t: number, at: number) => Math.exp(-0.5 * ((t - at) / 0.1) ** 2)
  const along = (i: number) => bump(i / rate_Hz, 2.8) - bump(i / rate_Hz, 2.2)
  const wobble = (i: number) => 0.01 * Math.sin(1.7 * i) * Math.cos(0.3 * i)
  return {
    rate_Hz,
    x: Float64Array.from({ length: n }, (_, i) => Math.cos(Math.PI / 6) * along(i) + wobble(i)),
    y: Float64Array.from({ length: n }, (_, i) => Math.sin(Math.PI / 6) * along(i) + wobble(i + 500))
  }
}

export function loopExamined(recorded: Recorded, lengths?: readonly number[]): Result<Examined> {
  const run = openLoop({ technique: loopTechnique, place: 'L1', rate_Hz: recorded.rate_Hz, recording: 'recording' })
  if (isRefusal(run)) return run
  const events = []
  for (const segment of segmentsOf(recorded, lengths)) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
    events.push(...taken)
  }
  const closed = run.close()
  return isRefusal(closed) ? closed : { events: [...events, ...closed.events], examination: closed.examination }
}
