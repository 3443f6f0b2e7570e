import { PI, tan } from '@trueloop/ground/numerics'
import type { InstrumentFilter } from './scene.ts'
import type { Sum } from './term.ts'

/** y[n] = b0 x[n] + b1 x[n−1] + b2 x[n−2] − a1 y[n−1] − a2 y[n−2]. */
export interface Section {
  readonly b0: number
  readonly b1: number
  readonly b2: number
  readonly a1: number
  readonly a2: number
}

/** A Butterworth filter by the bilinear transform, its corner kept (3 dB): first order, or second with Q = 1/√2. */
export function sectionOf({ kind, order, corner_Hz }: InstrumentFilter, rate_Hz: number): Section {
  const k = tan((PI * corner_Hz) / rate_Hz)
  const isLow = kind === 'low-pass'
  if (order === 1) {
    const b0 = (isLow ? k : 1) / (1 + k)
    return { b0, b1: isLow ? b0 : -b0, b2: 0, a1: (k - 1) / (1 + k), a2: 0 }
  }
  const norm = 1 / (1 + Math.SQRT2 * k + k * k)
  const b0 = (isLow ? k * k : 1) * norm
  return {
    b0,
    b1: isLow ? 2 * b0 : -2 * b0,
    b2: b0,
    a1: 2 * (k * k - 1) * norm,
    a2: (1 - Math.SQRT2 * k + k * k) * norm
  }
}

/** A filter that runs: value after value, settled on the first one as if it had always been there. */
export function running({ b0, b1, b2, a1, a2 }: Section): (value: number) => number {
  const steady = (b0 + b1 + b2) / (1 + a1 + a2)
  let [first, second, started] = [0, 0, false]
  return (value) => {
    if (!started) {
      started = true
      second = (b2 - a2 * steady) * value
      first = (b1 - a1 * steady) * value + second
    }
    const out = b0 * value + first
    first = b1 * value - a1 * out + second
    second = b2 * value - a2 * out
    return out
  }
}

/** Filters one after another, x and y alike, in place. */
export function filterChain(filters: readonly InstrumentFilter[], rate_Hz: number): (sum: Sum) => void {
  if (filters.length === 0) return () => undefined
  const chains = filters.map((filter) => {
    const section = sectionOf(filter, rate_Hz)
    return { x: running(section), y: running(section) }
  })
  return (sum) => {
    for (const { x, y } of chains) {
      sum.x = x(sum.x)
      sum.y = y(sum.y)
    }
  }
}
