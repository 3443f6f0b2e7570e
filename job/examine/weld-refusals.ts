import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import { type Channels, stillOf } from './extent.ts'

/** Noise below this share of the reference run's is no probe on a plate. */
const LEAST_NOISE = 0.05

export function deadSignal(channels: Channels, noiseShare: number): readonly Refusal[] {
  const still = stillOf(channels)
  if (still.length === 0 && !(noiseShare < LEAST_NOISE)) return []
  const noise = `noise of ${(100 * noiseShare).toFixed(1)} % of the reference run's`
  return [
    refuse('examine/dead-signal', {
      found: still.length > 0 ? `channel ${still.join(' and ')} stands still` : noise,
      needed: `both channels move, with ${100 * LEAST_NOISE} % of that noise or more: a live probe shows the plate`,
      remedy: 'check gain, probe and cable, recheck on the reference block and run again'
    })
  ]
}

/**
 * The null of a track is the level of most of it. Where the track goes below that by the height of an alarm, most of it
 * lies on a flaw, or on another plate.
 */
export const nullOnFlaw = (lowest: number, alarm: number): readonly Refusal[] =>
  lowest >= -alarm
    ? []
    : [
        refuse('examine/contact-differs', {
          found: `a signal that falls to ${lowest.toFixed(2)} of the named slot below the level of most of the track`,
          needed: `less than the alarm level of ${alarm.toFixed(2)}: most of a track is sound plate`,
          remedy: 'begin the run on sound plate beside the weld, or run the track in parts'
        })
      ]

export const tooMany = (): Refusal =>
  refuse('examine/too-many-candidates', {
    found: 'more, or longer, stretches above the screen than can be kept',
    needed: 'a track quiet enough to name its indications',
    remedy: 'clean the weld, check probe, cable and wear cover, and run again in shorter tracks'
  })

export const tooNoisy = (noise: number): Refusal =>
  refuse('examine/too-noisy', {
    found: `noise of ${noise.toFixed(3)} of the named slot`,
    needed: 'a threshold above the noise that stays below the alarm level',
    remedy: 'clean the weld, check probe, cable and wear cover, and run again'
  })

export const clipped = (samples: number): Refusal =>
  refuse('examine/clipped', {
    found: `${samples} samples at a limit of the recording`,
    needed: 'none: a clipped signal has no amplitude',
    remedy: 'lower the gain, standardize again and run again'
  })
