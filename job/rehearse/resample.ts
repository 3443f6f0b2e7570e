import { sinc } from '@trueloop/ground/numerics'
import { type SincPlan, sincInterpolate } from './resample.kernel.ts'

/**
 * A tool of tests: the same recording as a probe of another speed or a recorder of another rate would have given it.
 * `factor` is new samples per old sample: 2 for twice the sample rate or half the speed.
 */

/** Zero crossings of the sinc on either side, and the shape of the Kaiser window (80 dB). */
const CROSSINGS = 40
const SHAPE = 8
/** Middle of the transition as a share of the lower of both Nyquist frequencies. */
const PASS = 0.93
const TABLE = 8192

/**
 * Band-limited resampling: floor((n − 1) · factor) + 1 values, value j at j/factor samples of the input. Up to 0.86 of
 * the lower Nyquist frequency nothing is changed by more than 2e-4, from 1 on everything is down to 2e-4, at 0.93 by half
 * (at a factor of 1 too). Ends are extended by their value. Throws RangeError for a factor outside 0.1 … 10.
 */
export function resample(input: Float64Array, factor: number): Float64Array {
  if (!(factor >= 0.1 && factor <= 10)) throw new RangeError(`a factor between 0.1 and 10 is needed, not ${factor}`)
  const out = new Float64Array(Math.floor((input.length - 1) * factor + 1e-9) + 1)
  sincInterpolate(input, planOf(factor), out)
  return out
}

function planOf(factor: number): SincPlan {
  const cutoff = PASS * Math.min(1, factor)
  const reach = CROSSINGS / cutoff
  const perSample = TABLE / 16
  const table = Float64Array.from({ length: Math.ceil(reach * perSample) + 2 }, (_, k) => {
    const distance = k / perSample
    return distance > reach ? 0 : sinc(cutoff * distance) * kaiser(distance / reach)
  })
  return { table, perSample, reach, step: 1 / factor }
}

/** Kaiser's window at a share −1 … 1 of its half length. */
const kaiser = (share: number): number => besselI0(SHAPE * Math.sqrt(Math.max(0, 1 - share * share))) / besselI0(SHAPE)

/** Modified Bessel function of order zero by its power series: Σ ((x/2)^k / k!)². */
function besselI0(x: number): number {
  let factor = 1
  let sum = 1
  for (let k = 1; k < 60; k++) {
    factor *= x / (2 * k)
    sum += factor * factor
  }
  return sum
}

export interface Sampled {
  readonly rate_Hz: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index: Float64Array
}

/** Another sample rate: `factor` times as many samples for the same time. The index is read between its samples linearly. */
export const atRate = (recording: Sampled, factor: number): Sampled => ({
  rate_Hz: recording.rate_Hz * factor,
  x: resample(recording.x, factor),
  y: resample(recording.y, factor),
  index: linear(recording.index, factor)
})

/** Another speed of rotation and feed at the same sample rate: `factor` times as fast. */
export const atSpeed = (recording: Sampled, factor: number): Sampled => ({
  ...atRate(recording, 1 / factor),
  rate_Hz: recording.rate_Hz
})

function linear(input: Float64Array, factor: number): Float64Array {
  return Float64Array.from({ length: Math.floor((input.length - 1) * factor + 1e-9) + 1 }, (_, j) => {
    const at = Math.min(j / factor, input.length - 1)
    const k = Math.min(Math.floor(at), input.length - 2)
    return input[k]! + (at - k) * (input[k + 1]! - input[k]!)
  })
}
