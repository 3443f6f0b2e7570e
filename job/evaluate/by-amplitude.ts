import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { Bounds } from './bounds.ts'
import { depthOnCurve } from './curve.ts'
import type { Kind } from './kinds.ts'
import type { Sizing } from './parameters.ts'
import { rangeOf, rangeText } from './statement.ts'

/** Depth by the amplitude alone, on the curve of each kind; near a face the wider of both. */
export function byAmplitude(
  amplitude: number,
  kinds: readonly Kind[],
  { bounds, numbers }: { readonly bounds: Bounds; readonly numbers: Sizing }
) {
  const depths = kinds.map(({ notches }) => depthOnCurve(amplitude, notches, numbers))
  const refused: readonly Refusal[] = depths.filter(isRefusal)
  if (refused.length > 0) return { depth: bounds, why: refused }
  const values = depths.flatMap((one) => (isRefusal(one) ? [] : [one]))
  const lower = Math.min(...values.map(({ lower_mm }) => lower_mm))
  const upper = Math.max(...values.map(({ upper_mm }) => upper_mm))
  const shallowest = Math.max(...kinds.map(({ notches }) => notches[0]!.depth_mm))
  const deepest = Math.min(...kinds.map(({ notches }) => notches.at(-1)!.depth_mm))
  const range = rangeOf({
    depth_mm: values.reduce((sum, { depth_mm }) => sum + depth_mm, 0) / values.length,
    ...(lower < shallowest ? {} : { lower_mm: lower }),
    ...(upper > deepest ? {} : { upper_mm: upper })
  })
  const depth = {
    depth: `${rangeText(range)}, notch-equivalent; ${bounds.depth}`,
    ...range,
    level: 1 - numbers.leftOut,
    basis: 'amplitude alone, in the proportions of the notches'
  }
  return { depth, why: [] }
}
