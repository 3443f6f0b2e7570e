import { differences } from './differences.ts'
import type { Entry, EntryKind, EntryOf } from './kinds.ts'
import type { Order } from './merging/order.ts'
import type { EntryRow } from './row.ts'
import type { Change } from './state.ts'

/** An entry as it holds now, with its place and, where it was corrected, by which entry. */
export interface Holding {
  readonly seq: number
  readonly entry: Entry
  readonly correctedAt?: number
}

export const entriesIn = (rows: readonly EntryRow[]): readonly Entry[] =>
  rows.map(({ body }) => JSON.parse(body) as Entry)

/** The entries as they hold after all corrections, in the order in which they count: replaced in their own place, or withdrawn. */
export function holding(entries: readonly Entry[], order: Order): readonly Holding[] {
  const last = new Map<string, { readonly seq: number; readonly entry: EntryOf<'corrected'> }>()
  for (const seq of order.sorted) {
    const entry = entries[seq] as Entry
    if (entry.kind === 'corrected') last.set(entry.corrects, { seq, entry })
  }
  return order.sorted.flatMap((seq): readonly Holding[] => {
    const entry = entries[seq] as Entry
    const correction = last.get(entry.id)
    if (correction === undefined) return [{ seq, entry }]
    const { becomes } = correction.entry
    if (becomes === 'withdrawn') return []
    return [{ seq, entry: becomes as unknown as Entry, correctedAt: correction.seq }]
  })
}

export const ofKind = <Kind extends EntryKind>(all: readonly Holding[], kind: Kind): readonly EntryOf<Kind>[] =>
  all.map(({ entry }) => entry).filter((entry): entry is EntryOf<Kind> => entry.kind === kind)

/** Of every correction, which entry it is of and what it changes there; a later one changes what the one before said. */
export function changesIn(entries: readonly Entry[], corrections: readonly EntryOf<'corrected'>[]): readonly Change[] {
  if (corrections.length === 0) return []
  const said = new Map(entries.map((entry, seq) => [entry.id, { seq, kind: entry.kind, value: entry as unknown }]))
  return corrections.flatMap((entry): readonly Change[] => {
    const before = said.get(entry.corrects)
    if (before === undefined) return []
    const { seq, kind, value } = before
    if (entry.becomes === 'withdrawn') return [{ entry, seq, kind, differences: [] }]
    said.set(entry.corrects, { seq, kind, value: entry.becomes })
    return [{ entry, seq, kind, differences: differences(value, entry.becomes) }]
  })
}
