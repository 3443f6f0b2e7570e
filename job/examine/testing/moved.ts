/** Test help: the recorded plane turned, scaled and shifted, and indications compared. */
import type { Examination, Indication } from '../examination.ts'
import type { Recorded } from './hole.ts'

export interface Move {
  readonly gain: number
  readonly turn_rad: number
  readonly x: number
  readonly y: number
}

export function moved<R extends Recorded>(recorded: R, { gain, turn_rad, x, y }: Move): R {
  const c = gain * Math.cos(turn_rad)
  const s = gain * Math.sin(turn_rad)
  return {
    ...recorded,
    x: recorded.x.map((value, i) => c * value - s * recorded.y[i]! + x),
    y: recorded.x.map((value, i) => s * value + c * recorded.y[i]! + y)
  }
}

export interface Difference {
  /** share */
  readonly amplitude: number
  readonly phase_rad: number
  readonly angle_rad: number
  readonly z_m: number
}

const known = (value: number | 'unknown'): number => (value === 'unknown' ? Number.NaN : value)

const folded = (value: number, period: number): number => value - period * Math.round(value / period)

/** Largest differences of two indications; phases modulo π, angles modulo 2π. */
export const differenceOf = (a: Indication, b: Indication): Difference => ({
  amplitude: Math.max(Math.abs(a.amplitude / b.amplitude - 1), Math.abs(a.matched / b.matched - 1)),
  phase_rad: Math.abs(folded(a.phase_rad - b.phase_rad, Math.PI)),
  angle_rad: Math.abs(folded(known(a.angle_rad) - known(b.angle_rad), 2 * Math.PI)),
  z_m: Math.max(
    Math.abs(known(a.z_m) - known(b.z_m)),
    Math.abs(known(a.z0_m) - known(b.z0_m)),
    Math.abs(known(a.z1_m) - known(b.z1_m))
  )
})

/** Indications that stand clear of the threshold: those that must come again. */
export const clear = ({ indications, noise }: Examination, times = 1.25): readonly Indication[] =>
  indications.filter(({ matched }) => matched >= times * (noise?.threshold ?? 0))

/** The indication nearest to a place, in angle and depth. */
export function nearestTo(one: Indication, among: readonly Indication[]): Indication | undefined {
  const far = (other: Indication) => {
    const { angle_rad, z_m } = differenceOf(one, other)
    return angle_rad / 0.1 + z_m / 1e-3
  }
  return [...among].sort((a, b) => far(a) - far(b))[0]
}
