import { type Holding, ofKind } from '../corrections.ts'
import type { Decisions, Placed } from '../decided.ts'
import type { Entry, EntryKind, EntryOf } from '../kinds.ts'
import type { Order } from './order.ts'

/** What people on two devices said apart, where it does not agree. It waits for a person; neither side is taken. */

type Before = Order['isBefore']

/** Of one place: two dispositions, two classes of one indication, two cuts. */
export function contradictionsIn({ disposed, interpreted, cuts, isBefore }: Decisions): readonly string[] {
  const dispositions = apart(disposed, isBefore)
    .filter(([a, b]) => a.entry.disposition !== b.entry.disposition)
    .filter((pair) => !isSaidAgain(pair, disposed, isBefore))
    .map(([a, b]) => `"${a.entry.disposition}" by ${hand(a)}, "${b.entry.disposition}" by ${hand(b)}`)
  const classes = apart(interpreted, isBefore)
    .filter(([a, b]) => a.entry.class !== b.entry.class && isOfSame(a.entry, b.entry))
    .filter(([a, b]) => !isSaidAgain([a, b], interpreted, isBefore))
    .map(([a, b]) => `${namesOf(a.entry)}: "${a.entry.class}" by ${hand(a)}, "${b.entry.class}" by ${hand(b)}`)
  const twice = apart(cuts, isBefore)
    .filter((pair) => !isSaidAgain(pair, disposed, isBefore))
    .map(([a, b]) => `cut by ${hand(a)} and by ${hand(b)}: one cut or two`)
  return [...new Set([...dispositions, ...classes, ...twice])].map((words) => `on two devices apart: ${words}`)
}

type Pair<Kind extends EntryKind> = readonly [Placed<Kind>, Placed<Kind>]

/** Pairs of which nobody knows which came first. */
function apart<Kind extends EntryKind>(all: readonly Placed<Kind>[], isBefore: Before): readonly Pair<Kind>[] {
  return all.flatMap((a, at) =>
    all.slice(at + 1).flatMap((b): readonly Pair<Kind>[] => {
      const isKnown = isBefore(a.seq, b.seq) || isBefore(b.seq, a.seq)
      return isKnown
        ? []
        : [[a, b].sort((one, other) => (one.entry.id < other.entry.id ? -1 : 1)) as unknown as Pair<Kind>]
    })
  )
}

/** Once somebody has decided after both, what was said before is history. */
const isSaidAgain = (
  [a, b]: readonly [{ readonly seq: number }, { readonly seq: number }],
  later: readonly { readonly seq: number }[],
  isBefore: Before
): boolean => later.some(({ seq }) => isBefore(a.seq, seq) && isBefore(b.seq, seq))

const isOfSame = (a: EntryOf<'interpreted'>, b: EntryOf<'interpreted'>): boolean =>
  a.seen.some((one) => b.seen.some(({ examination, id }) => examination === one.examination && id === one.id))

const namesOf = ({ seen }: EntryOf<'interpreted'>): string => [...new Set(seen.map(({ id }) => id))].join(', ')

const hand = ({ entry }: { readonly entry: Entry }): string => `${entry.by.name} (${entry.at.time})`

/** Of the job as a whole: entries made on both under one id with other facts, two techniques, two corrections of one entry. */
export function contradictionsOf(all: readonly Holding[], { isPlain, isBefore }: Order): readonly string[] {
  if (isPlain) return []
  const facts = ofKind(all, 'merged').flatMap(({ differs }) => differs.map((one) => factsText(one, all)))
  const placed = <Kind extends EntryKind>(kind: Kind) =>
    all.filter((one) => one.entry.kind === kind) as unknown as readonly Placed<Kind>[]
  const stored = placed('document-stored').filter(({ entry }) => entry.what === 'technique')
  const techniques = apart(stored, isBefore)
    .filter(([a, b]) => a.entry.document !== b.entry.document)
    .map(([a, b]) => `a technique stored by ${hand(a)}, another by ${hand(b)}`)
  const corrections = apart(placed('corrected'), isBefore)
    .filter(([a, b]) => a.entry.corrects === b.entry.corrects)
    .map(([a, b]) => `entry ${a.entry.corrects} corrected by ${hand(a)} and otherwise by ${hand(b)}`)
  return [...new Set([...facts, ...techniques, ...corrections])]
}

function factsText({ id, members }: EntryOf<'merged'>['differs'][number], all: readonly Holding[]): string {
  const entry = all.find((one) => one.entry.id === id)?.entry
  const what = entry?.kind === 'recording-kept' ? `recording ${entry.file}` : (entry?.kind ?? `entry ${id}`)
  return `${what}, made on both devices, there with other facts: ${members.join(', ')}`
}

/** Recordings that both devices have kept with other facts, and nobody has corrected since: what is theirs is not sure. */
export const keptOtherwise = (all: readonly Holding[], { isBefore }: Order): ReadonlySet<string> =>
  new Set(
    all.flatMap(({ entry, seq: mergedAt }) => {
      if (entry.kind !== 'merged') return []
      const ids = new Set(entry.differs.map(({ id }) => id))
      return all.flatMap(({ entry: one, correctedAt }) => {
        const isCorrected = correctedAt !== undefined && isBefore(mergedAt, correctedAt)
        return one.kind === 'recording-kept' && ids.has(one.id) && !isCorrected ? [one.sha256] : []
      })
    })
  )
