import type { Box } from '@trueloop/ground/picture'
import type { Examination, Indication } from '../../examine/index.ts'

/** What all drawings of a finding share. */

export const halfFrame: Box = { x: 54, y: 32, width: 284, height: 232 }
export const halfSize = { width: 350, height: 304 } as const

/** From a ruler position in revolutions to depth in m; unknown where no edge or no pitch is known. */
export function depthOf(examination: Examination): ((revolution: number) => number) | undefined {
  const { entry, pitch_m } = examination.position
  if (entry === undefined || pitch_m === undefined) return undefined
  return (revolution) => (revolution - entry) * pitch_m
}

/** Largest absolute value, never less than `least`: a scale must not blow up noise. */
export const reach = (least: number, ...lists: readonly (readonly number[])[]): number =>
  lists.flat().reduce((most, value) => Math.max(most, Math.abs(value)), least)

/** The two points of a loop that lie farthest apart. */
export function farthest({ x, y }: Pick<Indication['snippet'], 'x' | 'y'>): readonly [number, number] {
  let best = [0, 0] as readonly [number, number]
  let most = -1
  for (let i = 0; i < x.length; i++) {
    for (let k = i + 1; k < x.length; k++) {
      const [dx, dy] = [x[i]! - x[k]!, y[i]! - y[k]!]
      if (dx * dx + dy * dy > most) {
        most = dx * dx + dy * dy
        best = [i, k]
      }
    }
  }
  return best
}

/** Clock position of an angle from the datum: 12 at the datum, one hour every 30 degrees, to the nearest ten minutes. */
export function clock(angle_rad: number): string {
  const tens = Math.round((angle_rad / (2 * Math.PI)) * 72) % 72
  const hours = Math.floor(((tens + 72) % 72) / 6)
  return `${hours === 0 ? 12 : hours}:${((tens + 72) % 6) * 10}`.replace(/:0$/, ':00')
}
