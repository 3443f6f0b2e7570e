import type { Tick } from '@trueloop/ground/picture'
import { evenTicks } from '../plot/axes.ts'
import type { Writing } from '../units/figures.ts'
import { notchSwing } from '../wall/signal-states.ts'

interface Swings {
  readonly x: ArrayLike<number>
  readonly y: ArrayLike<number>
}

/** Axes reach at least this share of the scale of the map. */
const least = 0.6

/** How far the axes of a drawing reach, so that all of it is in them: never nearer than a fraction of the notch. */
export function swingReach(scale: number, ...all: readonly Swings[]): number {
  let most = least * scale
  for (const { x, y } of all)
    for (const values of [x, y])
      for (let i = 0; i < values.length; i++) if (Math.abs(values[i]!) > most) most = Math.abs(values[i]!)
  return 1.08 * most
}

/**
 * Marks on an axis of swings. Shares are of the named notch from peak to peak; decibels count from its own swing to one
 * side, which is half of that.
 */
export function swingTicks(
  { amplitude }: Pick<Writing, 'amplitude'>,
  reach: number,
  unit: 'notch' | 'recorded'
): readonly Tick[] {
  if (unit === 'recorded') return evenTicks(-reach, reach, 6)
  if (amplitude === 'share')
    return evenTicks(-100 * reach, 100 * reach, 4).map(({ value, text }) => ({ value: value / 100, text: `${text} %` }))
  const decibels = [6, 0, -6, -12].filter((dB) => swingOf(dB) <= reach)
  const up = decibels.map((dB) => ({ value: swingOf(dB), text: `${dB > 0 ? '+' : ''}${dB} dB`.replace('-', '−') }))
  return [...up.map(({ value, text }) => ({ value: -value, text })), ...up].filter(apart(reach))
}

const swingOf = (dB: number): number => notchSwing * 10 ** (dB / 20)

/** Marks that would lie on each other's figures are left out. */
const apart =
  (reach: number) =>
  ({ value }: Tick): boolean =>
    Math.abs(value) > 0.3 * reach
