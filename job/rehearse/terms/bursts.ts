import { cos, PI, type Random, sin, TAU } from '@trueloop/ground/numerics'
import { samplesOf } from '../motion.ts'
import type { HoleScene } from '../scene.ts'
import type { Sum } from '../term.ts'

interface Burst {
  readonly first: number
  readonly phase_turn: number
  readonly x: number
  readonly y: number
}

/** Trains of a frequency that come and go in time; undefined where there are none. */
export function burstsOf(scene: HoleScene, random: Random): ((sample: number, sum: Sum) => void) | undefined {
  const { bursts } = scene.disturbances
  if (bursts === undefined || bursts.count === 0) return undefined
  const length = bursts.length_s * scene.recorder.rate_Hz
  const cycles = bursts.frequency_Hz / scene.recorder.rate_Hz
  const all = Array.from({ length: bursts.count }, () => drawn(samplesOf(scene), bursts.size, random))
  return (sample, sum) => {
    for (const { first, phase_turn, x, y } of all) {
      const since = sample - first
      if (since < 0 || since >= length) continue
      const value = sin((PI * since) / length) * cos(TAU * (cycles * since + phase_turn))
      sum.x += value * x
      sum.y += value * y
    }
  }
}

function drawn(samples: number, size: number, random: Random): Burst {
  const angle = TAU * random.uniform()
  return {
    first: random.below(samples),
    phase_turn: random.uniform(),
    x: 0.5 * size * cos(angle),
    y: 0.5 * size * sin(angle)
  }
}
