import { isotonic } from '@trueloop/ground/numerics'
import type { NotchReading } from './standardization.ts'

type Answering = Pick<NotchReading, 'id' | 'depth_mm' | 'amplitude'>

/**
 * Says which notch of one kind answers no stronger than one less deep, and how far the amplitudes are from the nearest (by
 * squares) that never fall with depth; undefined where they rise. Notches of one depth answer as their mean: they have no
 * order. source: barlow-1972
 */
export function outOfOrder(notches: readonly Answering[]): string | undefined {
  const { x, means, values } = isotonic({
    x: notches.map(({ depth_mm }) => depth_mm),
    y: notches.map(({ amplitude }) => amplitude)
  })
  const wrong = means.findIndex((mean, i) => i > 0 && mean <= means[i - 1]!)
  if (wrong < 0) return undefined
  const named = (depth: number | undefined): string =>
    notches.flatMap(({ id, depth_mm }) => (depth_mm === depth ? [id] : [])).join(' and ')
  const away = means.reduce((most, mean, i) => Math.max(most, Math.abs(mean - values[i]!) / values[i]!), 0)
  return `${named(x[wrong])} answers no stronger than ${named(x[wrong - 1])}; the nearest amplitudes that never fall are up to ${(100 * away).toFixed(1)} % away`
}
