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

export const coatingUnknown = (): Refusal =>
  refuse('examine/coating-unknown', {
    found: 'no absolute channel, and no coating stated',
    needed: 'the coating under the probe: the alarm level counts from slots under the same coating',
    remedy: 'record the absolute channel and standardize with it under shims, or state the coating in the job sheet'
  })

export const coatingOutside = (mm: number, least: number, most: number): Refusal =>
  refuse('examine/coating-outside-shims', {
    found: `a stated coating of ${mm.toFixed(2)} mm`,
    needed: `${least.toFixed(2)} to ${most.toFixed(2)} mm, as the shims over the block`,
    remedy: 'standardize under shims that reach the coating, as far as the procedure allows'
  })

export const partDiffers = (found: string): Refusal =>
  refuse('examine/part-differs', {
    found,
    needed: 'a block whose lift-off lies within 5° of the part’s',
    remedy: 'take a block of the metal of the part, and standardize on it'
  })

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
