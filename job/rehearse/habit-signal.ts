import { running, sectionOf } from './filter.ts'
import type { InstrumentFilter } from './scene.ts'

/** Parts of usual practice that are signal work: a band in time, turns from marks, swings within a pulse. */

/** As an instrument filters: forward in time, so that a pulse comes a little late. */
export function filtered(values: Float64Array, filters: readonly InstrumentFilter[], rate_Hz: number): Float64Array {
  const chain = filters.map((filter) => running(sectionOf(filter, rate_Hz)))
  return values.map((value) => chain.reduce((passed, filter) => filter(passed), value))
}

/** Samples at which the index rises through half its height, between samples. */
export function marksOf(index: Float64Array): readonly number[] {
  let most = 0
  for (const value of index) most = Math.max(most, value)
  const level = most / 2
  const marks: number[] = []
  for (let i = 1; i < index.length; i++) {
    const [before, after] = [index[i - 1]!, index[i]!]
    if (before < level && after >= level) marks.push(i - 1 + (level - before) / (after - before))
  }
  return marks
}

/**
 * Turns at every sample from the marks: whole at a mark, even between two, on at the same speed before and behind. A gap of
 * about so many nominal turns is so many turns; a mark within half a turn of the last one is a bounce.
 */
export function turnsFrom(index: Float64Array, nominal: number): Float64Array {
  const kept: { at: number; turn: number }[] = []
  for (const at of marksOf(index)) {
    const last = kept.at(-1)
    const gone = last === undefined ? 1 : Math.round((at - last.at) / nominal)
    if (gone >= 1) kept.push({ at, turn: last === undefined ? 0 : last.turn + gone })
  }
  const turns = new Float64Array(index.length)
  let k = 0
  for (let i = 0; i < turns.length; i++) {
    while (k < kept.length - 2 && kept[k + 1]!.at <= i) k++
    const from = kept[k] ?? { at: 0, turn: 0 }
    const to = kept[k + 1] ?? { at: from.at + nominal, turn: from.turn + 1 }
    turns[i] = from.turn + ((i - from.at) * (to.turn - from.turn)) / (to.at - from.at)
  }
  return turns
}
