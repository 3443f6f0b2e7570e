import type { Notch } from '../../plan/index.ts'

/** Numbers of a set-up that papers and scenes share. */

export interface Geometry {
  readonly diameter_mm: number
  readonly grip_mm: number
  readonly joints_mm: readonly number[]
  readonly lobe_spacing_mm: number
  readonly rpm: number
  readonly pitch_mm: number
  readonly rate_Hz: number
  readonly thickness_mm: number
}

/** Standard deviations of natural logarithms. */
export interface Spread {
  /** of the answer of a notch, and of a flaw like a notch, about the law */
  readonly notch: number
  /** of the answer of a crack about its own, weaker one */
  readonly crack: number
  /** of length over depth */
  readonly aspect: number
}

/** Length over depth of the notches, on average. */
export type Aspects = Readonly<Record<'mid-bore' | 'entry corner', number>>

/** A notch as certified, and its answer over the law's, which no certificate states. */
export interface DrawnNotch extends Notch {
  readonly place: keyof Aspects
  readonly scatter: number
}

/** The mid-bore notch nearest to half a millimeter: the alarm level is a share of it. */
export const alarmNotch = (notches: readonly DrawnNotch[]): DrawnNotch =>
  notches
    .filter(({ place }) => place === 'mid-bore')
    .reduce((best, one) => (Math.abs(one.depth_mm - 0.5) < Math.abs(best.depth_mm - 0.5) ? one : best))

export const mm = (value: number): number => value / 1000
