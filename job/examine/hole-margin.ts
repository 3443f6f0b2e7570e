import { normalQuantile } from '@trueloop/ground/numerics'
import { leastAnswerShare } from '@trueloop/metal/fields'
import type { Judgement } from '../interpret/index.ts'
import type { HoleTechnique } from '../plan/index.ts'
import type { NotchReading, Standardization } from '../standardize/index.ts'
import type { Zone } from './zones.ts'

/** Whether the flaw sought would still be found in an oversize hole, zone by zone. */

export interface Margin {
  readonly technique: HoleTechnique
  readonly standardization: Standardization
  /** least share of an answer that is left in this hole */
  readonly left: number
  readonly judgement: Pick<Judgement, 'threshold' | 'along'>
}

/** Share of flaws that a level finds which counts as finding them: nine in ten, the habit of the trade. */
const FOUND = 0.9

/** Why a zone counts as not examined: what the flaw sought would show there, and what finds it; undefined where it is found. */
export function hiddenIn(zone: Zone, { technique, standardization, left, judgement }: Margin): string | undefined {
  if (left === 1) return undefined
  const shown = left * soughtIn(zone, technique, standardization.notches)
  const needed = levelThatFinds(judgement)
  if (shown >= needed) return undefined
  const loss = `${(100 * left).toFixed(0)} % of the answer in the standard's hole, at worst`
  return `oversize: the flaw sought would show ${shown.toFixed(3)} of the named notch (${loss}), and ${needed.toFixed(3)} is found nine times in ten`
}

/** A flaw of just the threshold is found every other time: noise carries it over or under. */
export const levelThatFinds = ({ threshold, along }: Margin['judgement']): number =>
  threshold + normalQuantile(FOUND) * along

/**
 * What the flaw sought answers at least in the standard's hole, 1 = the named notch: the most that any notch of the zone's
 * kind says of it (of all, where the standard has none of that kind). A closed crack answers weaker than a notch; that is
 * so in every hole, and left to the technique.
 */
export function soughtIn(
  { place }: Pick<Zone, 'place'>,
  { target_flaw_mm: sought }: HoleTechnique,
  all: readonly NotchReading[]
): number {
  const own = all.filter((notch) => notch.place.includes(place))
  const says = ({ fitted: { x, y }, depth_mm, length_mm }: NotchReading): number =>
    Math.sqrt(x * x + y * y) * leastAnswerShare({ depth: sought.depth / depth_mm, length: sought.length / length_mm })
  return Math.max(0, ...(own.length === 0 ? all : own).map(says))
}
