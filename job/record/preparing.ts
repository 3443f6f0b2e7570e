import { entriesIn, type Holding, holding } from './corrections.ts'
import type { Placed } from './decided.ts'
import type { Subject } from './kinds/parts.ts'
import type { EntryOf } from './kinds.ts'
import { orderOf } from './merging/order.ts'
import type { EntryRow } from './row.ts'

/** Which preparation of a place holds for what. */

export type Prepared = EntryOf<'place-prepared'>

export type PreparationFor = (subject: Subject, recording: string) => Prepared | undefined

/**
 * The preparation that holds for a recording: the last one before it was kept; for one that was kept before any, the first,
 * since nothing says that another came before it; for one that is not kept yet, the latest. Undefined where the place was
 * never prepared.
 */
export function preparationsIn(rows: readonly EntryRow[]): PreparationFor {
  const order = orderOf(rows)
  const all = holding(entriesIn(rows), order)
  const kept = new Map(all.flatMap(({ seq, entry }) => (entry.kind === 'recording-kept' ? [[entry.sha256, seq]] : [])))
  return (subject, recording) => {
    const own = preparationsOf(all, subject)
    const at = kept.get(recording)
    if (at === undefined) return own.at(-1)?.entry
    return (own.findLast(({ seq }) => order.isBefore(seq, at)) ?? own[0])?.entry
  }
}

/** The preparations of every place in their order, by what it is and its name. */
export function preparationsBySubject(
  all: readonly Holding[]
): ReadonlyMap<string, readonly Placed<'place-prepared'>[]> {
  const bySubject = new Map<string, Placed<'place-prepared'>[]>()
  for (const { seq, entry } of all) {
    if (entry.kind !== 'place-prepared') continue
    const key = `${entry.subject.of} ${entry.subject.name}`
    bySubject.set(key, [...(bySubject.get(key) ?? []), { seq, entry }])
  }
  return bySubject
}

function preparationsOf(all: readonly Holding[], { of, name }: Subject) {
  return all.flatMap(({ seq, entry }) =>
    entry.kind === 'place-prepared' && entry.subject.of === of && entry.subject.name === name ? [{ seq, entry }] : []
  )
}

export type CutFor = (subject: Subject, recording: string) => EntryOf<'reamed'> | undefined

/** The last cut of a place before a recording was kept; for one that is not kept yet, the latest. */
export function cutsIn(rows: readonly EntryRow[]): CutFor {
  const order = orderOf(rows)
  const all = holding(entriesIn(rows), order)
  const kept = new Map(all.flatMap(({ seq, entry }) => (entry.kind === 'recording-kept' ? [[entry.sha256, seq]] : [])))
  return ({ of, name }, recording) => {
    const at = kept.get(recording)
    const last = all.findLast(
      ({ seq, entry }) =>
        entry.kind === 'reamed' &&
        entry.subject.of === of &&
        entry.subject.name === name &&
        (at === undefined || order.isBefore(seq, at))
    )?.entry
    return last?.kind === 'reamed' ? last : undefined
  }
}
