import { UNIT } from './band.ts'
import type { Mark } from './marks.ts'

/** Samples that lie evenly on the ruler: sample number i at `origin + ((i − at)/period)·UNIT`. */
export interface Stretch {
  readonly origin: number
  readonly at: number
  readonly period: number
}

/**
 * One turn of the probe, from mark to mark, and how samples lie on the ruler around it: those before it as in the turn
 * before it (as in itself, where it is the first), those beyond its end at its own speed: what comes later changes
 * nothing in it.
 */
export interface Turned {
  readonly number: number
  readonly a: Mark
  readonly b: Mark
  readonly before: Stretch
  readonly own: Stretch
  readonly beyond: Stretch
}

export function turned(a: Mark, b: Mark, last: Turned | undefined): Turned {
  const number = last === undefined ? 0 : last.number + 1
  const period = b.at - a.at
  const own = { origin: number * UNIT, at: a.at, period }
  return { number, a, b, before: last?.own ?? own, own, beyond: { origin: (number + 1) * UNIT, at: b.at, period } }
}
