import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { detection, valuesOf } from '../interpret/index.ts'
import { AngleRuler, DropLog, Scanning } from '../signal/index.ts'
import { closeHole } from './hole-close.ts'
import { fitOf } from './hole-fit.ts'
import type { HoleExamination } from './hole-input.ts'
import { passesOf } from './hole-locate.ts'
import { lookOf } from './hole-look.ts'
import { HoleStream } from './hole-stream.ts'
import type { Run, Watching } from './recipe.ts'
import { wallOf } from './wall.ts'

/**
 * Opens the examination of one recorded or live pass through a fastener hole.
 * `take` refuses with the codes of the signal room; `close` puts everything else into the Examination itself.
 */
export function openHole(input: HoleExamination, watching: Watching = {}): Result<Run> {
  const { technique, standardization } = input
  const numbers = valuesOf(detection, input.moved?.detection)
  const fit = fitOf(input)
  const look = lookOf(input, numbers, fit.share.least)
  const drops = new DropLog()
  const { step, noise, weights, direction, alarm, band, kernels } = look
  const screen = { single: numbers.singleScreen, joined: numbers.joinedScreen }
  const nominal = (60 * input.rate_Hz) / technique.rotation_rpm
  const speed = { samples: nominal, tolerance: technique.speed_tolerance }
  const passes = passesOf(technique)
  const { least: left } = fit.share
  const rule = { standardization, step, noise, screen, weights, direction, alarm: alarm.swing, speed, passes, left }
  const stream = new HoleStream(rule, drops)
  const scanning = new Scanning(kernels, (unit) => stream.take(unit))
  const ruler = new AngleRuler(
    {
      rate_Hz: input.rate_Hz,
      speed_Hz: technique.rotation_rpm / 60,
      tolerance: technique.speed_tolerance,
      indexed: input.indexed,
      band,
      step
    },
    drops,
    (revolution) => {
      const { number, signal } = revolution
      watching.placed?.(number, signal.x, signal.y)
      stream.revolution(revolution)
      return scanning.take(revolution)
    }
  )
  return {
    take: (segment) => {
      const taken = ruler.take(segment)
      return isRefusal(taken) ? taken : stream.events()
    },
    close: (asked = {}) => {
      const turning = ruler.end()
      if (isRefusal(turning)) return turning
      stream.end()
      const before = stream.events()
      const closed = closeHole(input, { stream, turning, drops: drops.entries(), look, fit, numbers })
      const wall = asked.wall === true ? { wall: wallOf(closed.sheet) } : {}
      stream.release()
      return { events: [...before, ...closed.events], examination: closed.examination, ...wall }
    }
  }
}
