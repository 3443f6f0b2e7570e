import { cos, type Random, sin, TAU } from '@trueloop/ground/numerics'
import { lineField } from './lattice.ts'
import { samplesOf } from './motion.ts'
import type { HoleScene } from './scene.ts'
import type { Sum } from './term.ts'
import { burstsOf } from './terms/bursts.ts'

/** Adds what is new in time to sample `i`. Has to be asked for the samples in order: white noise is drawn as it goes. */
export type InTime = (sample: number, sum: Sum) => void

export function noiseInTime(scene: HoleScene, random: Random): InTime {
  const spike = both(spikesOf(scene, random.fork('spikes')), burstsOf(scene, random.fork('bursts')))
  if (!scene.noise.inTime) return spike
  const x = bandOf(scene, random.fork('band x'))
  const y = bandOf(scene, random.fork('band y'))
  const white = random.fork('white')
  const { white: rms } = scene.noise
  return (sample, sum) => {
    sum.x += rms * white.normal() + x(sample)
    sum.y += rms * white.normal() + y(sample)
    spike(sample, sum)
  }
}

function both(one: InTime, other: InTime | undefined): InTime {
  if (other === undefined) return one
  return (sample, sum) => {
    one(sample, sum)
    other(sample, sum)
  }
}

/** Knots every 1/(2 · bandwidth): the spline's spectrum falls as sinc⁴ and is down by 16 dB at the bandwidth. */
function bandOf(scene: HoleScene, random: Random): (sample: number) => number {
  const { rms, bandwidth_Hz } = scene.noise.band
  if (rms === 0) return () => 0
  const rate = scene.recorder.rate_Hz
  const knot = 1 / (2 * bandwidth_Hz)
  const field = lineField({ rms, knot, along: { from: 0, to: samplesOf(scene) / rate } }, random)
  return (sample) => field(sample / rate)
}

function spikesOf(scene: HoleScene, random: Random): InTime {
  const { count, size } = scene.disturbances.spikes
  const spikes = new Map<number, Sum>()
  for (let k = 0; k < count; k++) {
    const first = random.below(samplesOf(scene))
    const length = 1 + random.below(3)
    const angle = TAU * random.uniform()
    const spike = { x: size * cos(angle), y: size * sin(angle) }
    for (let i = first; i < first + length; i++) spikes.set(i, spike)
  }
  return (sample, sum) => {
    const spike = spikes.get(sample)
    if (spike === undefined) return
    sum.x += spike.x
    sum.y += spike.y
  }
}
