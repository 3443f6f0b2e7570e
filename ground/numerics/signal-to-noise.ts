import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { log10 } from './elementary.ts'
import { type Spread, spread } from './order.ts'

/** One column of readings, what of it is the signal, and what around it is no noise either. */
export interface Stretch {
  readonly values: ArrayLike<number>
  /** first element of the signal and of what follows it; the noise is all else */
  readonly signal: { readonly from: number; readonly to: number }
}

/** Each a ratio of its own: none may be stated without its name. */
export interface SignalToNoise {
  /** largest reading of the signal */
  readonly peak: number
  readonly noise: {
    /** root mean square about zero */
    readonly rms: number
    /** about the mean, n - 1 */
    readonly deviation: number
    /** by the median absolute deviation */
    readonly robust: Spread
    /** largest less smallest: grows with the length of the stretch */
    readonly peakToPeak: number
    readonly points: number
  }
  readonly peakOverRms: number
  /** 20 log10 of it */
  readonly peakOverRms_dB: number
  readonly peakOverRobust: number
  readonly peakOverPeakToPeak: number
}

/**
 * Signal over noise by four definitions at once. Refuses: numerics/too-few-points (no signal or fewer than two readings of
 * noise), numerics/degenerate (a reading that is none, or no noise), numerics/not-positive (a peak not above zero).
 * The definitions are common practice; the robust one: source: hampel-1974
 */
export function signalToNoise({ values, signal: { from, to } }: Stretch): Result<SignalToNoise, NumericsCode> {
  const all = Array.from(values)
  const [within, rest] = [all.slice(from, to), [...all.slice(0, from), ...all.slice(to)]]
  const flaw = stretchFlaw(within, rest)
  if (flaw !== undefined) return flaw
  const peak = largest(within)
  if (!(peak > 0)) return notPositive(peak)
  const noise = noiseOf(rest)
  if (!(noise.rms > 0 && noise.robust.sigma > 0 && noise.peakToPeak > 0)) return noNoise()
  return {
    ...{ peak, noise, peakOverRms: peak / noise.rms, peakOverRms_dB: 20 * log10(peak / noise.rms) },
    ...{ peakOverRobust: peak / noise.robust.sigma, peakOverPeakToPeak: peak / noise.peakToPeak }
  }
}

const largest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b))

function noiseOf(rest: readonly number[]): SignalToNoise['noise'] {
  const points = rest.length
  const mean = rest.reduce((sum, value) => sum + value, 0) / points
  const about = (center: number): number => rest.reduce((sum, value) => sum + (value - center) * (value - center), 0)
  return {
    ...{ rms: Math.sqrt(about(0) / points), deviation: Math.sqrt(about(mean) / (points - 1)), robust: spread(rest) },
    ...{ peakToPeak: largest(rest) + largest(rest.map((value) => -value)), points }
  }
}

function stretchFlaw(within: readonly number[], rest: readonly number[]): Result<never, NumericsCode> | undefined {
  if (within.length < 1 || rest.length < 2)
    return refuse('numerics/too-few-points', {
      found: `${within.length} readings of the signal and ${rest.length} of noise`,
      needed: 'a signal and at least two readings of noise apart from it',
      remedy: 'take a longer stretch'
    })
  if ([...within, ...rest].every(Number.isFinite)) return undefined
  return refuse('numerics/degenerate', {
    found: 'a reading that is no finite number',
    needed: 'readings throughout',
    remedy: 'take a stretch without gaps'
  })
}

const notPositive = (peak: number): Result<never, NumericsCode> =>
  refuse('numerics/not-positive', {
    found: `a peak of ${peak}`,
    needed: 'a peak above zero',
    remedy: 'take sizes, or turn the sense of the readings'
  })

const noNoise = (): Result<never, NumericsCode> =>
  refuse('numerics/degenerate', {
    found: 'noise that is all alike',
    needed: 'readings finer than the noise',
    remedy: 'record with more gain'
  })
