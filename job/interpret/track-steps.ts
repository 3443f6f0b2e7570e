import type { Stretch } from './track.ts'
import { levelsOf, surroundings } from './track-levels.ts'
import type { PartRule } from './track-parts.ts'

/** Where a stretch that did not come back stepped to another level. */
export interface Step {
  readonly stretch: Stretch
  /** ruler point at which it passes half its height */
  readonly at: number
  /** signed, in units of the alarm slot */
  readonly height: number
  readonly isSharp: boolean
}

/** How far from an edge the level before and behind it is taken, in reaches: beyond what the field smears. */
const BESIDE = { from: 1.2, to: 2.2 } as const

/** The step by which a stretch did not come back, if it is one; what stands on it is left out of it. */
export function stepOf(
  stretch: Stretch,
  rule: PartRule,
  { reach, sharp }: { readonly reach: number; readonly sharp: number }
): Step | undefined {
  if (stretch.ended === 'back') return undefined
  const { y } = levelsOf(stretch, stretch.before)
  const base = surroundings(y, rule.around)
  const net = base.at(-1)!
  if (!(net >= rule.screen)) return undefined
  let steepest = reach
  for (let i = 2 * reach; i < base.length; i++)
    if (base[i]! - base[i - 2 * reach]! > base[steepest + reach]! - base[steepest - reach]!) steepest = i - reach
  const edge = edgeAt(base, steepest, reach)
  const isSharp = edge.height >= sharp * net
  const gentle = base.findIndex((value) => value >= 0.5 * net)
  return {
    stretch,
    at: stretch.drawnFrom + (isSharp ? edge.at : gentle),
    height: stretch.sense * (isSharp ? edge.height : net),
    isSharp
  }
}

/** Height of an edge from the level just before to that just behind it, and where it passes half of it. */
function edgeAt(y: readonly number[], middle: number, reach: number): { readonly at: number; readonly height: number } {
  const mean = (from: number, to: number): number => {
    const inside = y.slice(Math.max(0, Math.round(from)), Math.max(1, Math.round(to) + 1))
    return inside.reduce((sum, value) => sum + value, 0) / inside.length
  }
  const low = mean(middle - BESIDE.to * reach, middle - BESIDE.from * reach)
  const high = mean(middle + BESIDE.from * reach, middle + BESIDE.to * reach)
  const half = 0.5 * (low + high)
  let at = Math.max(0, Math.round(middle - BESIDE.to * reach))
  while (at < y.length - 1 && y[at]! < half) at++
  const before = y[at - 1]
  const share = before === undefined || before >= half ? 0 : (y[at]! - half) / (y[at]! - before)
  return { at: at - share, height: high - low }
}
