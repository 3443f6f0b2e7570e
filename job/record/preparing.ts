import { type Holding, holding } from './corrections.ts'
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
  const all = holding(rows, order)
  const kept = new Map(all.flatMap(({ seq, entry }) => (entry.kind === 'recording-kept' ? [[entry.sha256, seq]] : [])))
  return (subject, recording) => {
    const own = preparationsOf(all, subject)
    const at = kept.get(recording)
    if (at === undefined) return own.at(-1)?.entry
    return (own.findLast(({ seq }) => order.isBefore(seq, at)) ?? own[0])?.entry
  }
}

/** The latest preparation of every place, by what it is and its name. */
export const preparationsBySubject = (all: readonly Holding[]): ReadonlyMap<string, Prepared> =>
  new Map(
    all.flatMap(({ entry }) =>
      entry.kind === 'place-prepared' ? [[`${entry.subject.of} ${entry.subject.name}`, entry] as const] : []
    )
  )

function preparationsOf(all: readonly Holding[], { of, name }: Subject) {
  return all.flatMap(({ seq, entry }) =>
    entry.kind === 'place-prepared' && entry.subject.of === of && entry.subject.name === name ? [{ seq, entry }] : []
  )
}
