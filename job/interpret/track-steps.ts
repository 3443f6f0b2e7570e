import { atan2 } from '@trueloop/ground/numerics'
import type { Stretch } from './track.ts'
import { lineAngle } from './track-features.ts'
import { levelsOf, plateUnder } from './track-levels.ts'
import { bridged, type Part, type PartRule } from './track-parts.ts'

/** Where a stretch that did not come back stepped to another level. */
export interface Step {
  readonly stretch: Stretch
  /** ruler point at which it passes half its height */
  readonly at: number
  /** signed, in units of the alarm slot */
  readonly height: number
  /** an end of a flaw: sharp, or along the slots; else the plate changes there */
  readonly isEnd: boolean
  readonly isSharp: boolean
}

export interface StepRule {
  /** ruler points of a reach */
  readonly reach: number
  /** reaches over which a sharp step rises from a fifth to four fifths of its height, at most */
  readonly sharp: number
  /** direction of the slots, and how far from it a gentle step is the plate’s own, rad */
  readonly slots_rad: number
  readonly own_rad: number
  /** what stands out of the stretch: left out of the step */
  readonly parts: readonly Part[]
}

/** How far from an edge the level before and behind it is taken, in reaches: beyond what the field smears. */
const BESIDE = { from: 1.2, to: 2.2 } as const

/** The step by which a stretch did not come back, if it is one; what stands on it is left out of it. */
export function stepOf(
  stretch: Stretch,
  rule: PartRule,
  { reach, sharp, slots_rad, own_rad, parts }: StepRule
): Step | undefined {
  if (stretch.ended === 'back') return undefined
  const { x, y } = levelsOf(stretch, stretch.before)
  const { drawnFrom } = stretch
  const bare = parts.reduce<readonly number[]>(
    (column, { half }) =>
      bridged(column, { from: half.from - drawnFrom, to: half.to - drawnFrom }, BESIDE.from * reach),
    y
  )
  const base = plateUnder(bare, rule.around)
  const net = base.at(-1)!
  if (!(net >= rule.screen)) return undefined
  let steepest = reach
  for (let i = 2 * reach; i < base.length; i++)
    if (base[i]! - base[i - 2 * reach]! > base[steepest + reach]! - base[steepest - reach]!) steepest = i - reach
  const edge = edgeAt(base, steepest, reach)
  const isSharp = edge.width <= sharp * reach && edge.height >= rule.least
  const gentle = base.findIndex((value) => value >= 0.5 * net)
  const over = meanOf(x.slice(-reach)) - meanOf(x.slice(0, reach))
  return {
    stretch,
    at: drawnFrom + (isSharp ? edge.at : gentle),
    height: stretch.sense * (isSharp ? edge.height : net),
    isSharp,
    isEnd: isSharp || lineAngle(atan2(net, over), slots_rad) < own_rad
  }
}

interface Edge {
  /** where it passes half its height, its height, and over how much it rises from a fifth to four fifths of it */
  readonly at: number
  readonly height: number
  readonly width: number
}

/** An edge between the levels just before and just behind it. */
function edgeAt(y: readonly number[], middle: number, reach: number): Edge {
  const mean = (from: number, to: number): number =>
    meanOf(y.slice(Math.max(0, Math.round(from)), Math.max(1, Math.round(to) + 1)))
  const low = mean(middle - BESIDE.to * reach, middle - BESIDE.from * reach)
  const high = mean(middle + BESIDE.from * reach, middle + BESIDE.to * reach)
  const start = Math.max(0, Math.round(middle - BESIDE.to * reach))
  const passes = (share: number): number => crossing(y, start, low + share * (high - low))
  return { at: passes(0.5), height: high - low, width: passes(0.8) - passes(0.2) }
}

/** Where a column first reaches a level from an element on, linear between elements. */
function crossing(y: readonly number[], from: number, level: number): number {
  let at = from
  while (at < y.length - 1 && y[at]! < level) at++
  const before = y[at - 1]
  return at - (before === undefined || before >= level ? 0 : (y[at]! - level) / (y[at]! - before))
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length
