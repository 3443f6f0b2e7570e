import { canonical } from '../canonical.ts'
import type { Entry, EntryOf } from '../kinds.ts'
import { type EntryRow, rowsSchema } from '../row.ts'

/** Two chains of one job that share a beginning and then differ: what brings them together, and whether an entry does. */

export type MergeFacts = Pick<EntryOf<'merged'>, 'common' | 'ours' | 'brings' | 'after' | 'differs'> & {
  readonly theirs: Omit<EntryOf<'merged'>['theirs'], 'rows'>
}

/** How many entries two chains share, from the first on. */
export function sharedBy(ours: readonly EntryRow[], theirs: readonly EntryRow[]): number {
  const apart = ours.findIndex(({ hash }, at) => hash !== theirs[at]?.hash)
  return apart < 0 ? ours.length : apart
}

/** What a merge of theirs into ours says; undefined where nothing is brought in, or where one is the beginning of the other. */
export function mergeFacts(ours: readonly EntryRow[], theirs: readonly EntryRow[]): MergeFacts | undefined {
  const common = sharedBy(ours, theirs)
  if (common === 0 || common === Math.min(ours.length, theirs.length)) return undefined
  const own = new Map(ours.map((row) => [row.id, row]))
  const branch = theirs.slice(common)
  const fresh = branch.filter(({ id }) => !own.has(id))
  const [first] = fresh
  // two devices that take each other's merges in turn would else never come to an end
  if (first === undefined || fresh.every(({ kind }) => kind === 'merged' || kind === 'document-stored'))
    return undefined
  return {
    ...{ common, ours: endOf(ours), theirs: endOf(theirs), brings: fresh.map(({ id }) => id) },
    after: (theirs[theirs.indexOf(first) - 1] as EntryRow).id,
    differs: branch.flatMap((row) => differing(own.get(row.id), row))
  }
}

const endOf = (rows: readonly EntryRow[]) => ({ count: rows.length, head: (rows.at(-1) as EntryRow).hash })

/** The same entry made on both devices has another moment, and may have another hand; what else differs is said. */
function differing(own: EntryRow | undefined, theirs: EntryRow): MergeFacts['differs'] {
  if (own === undefined || own.body === theirs.body) return []
  const [a, b] = [JSON.parse(own.body), JSON.parse(theirs.body)] as Record<string, unknown>[]
  const names = [...new Set([...Object.keys(a ?? {}), ...Object.keys(b ?? {})])].sort()
  const members = names.filter((name) => !free.includes(name) && textOf(a?.[name]) !== textOf(b?.[name]))
  return members.length === 0 ? [] : [{ id: own.id, members }]
}

const free = ['at', 'by', 'signed']

const textOf = (value: unknown): string => (value === undefined ? 'nothing' : canonical(value))

/** The rows of the other chain as their document has them; undefined where it is none. */
export function branchFrom(text: string | undefined): readonly EntryRow[] | undefined {
  const read = text === undefined ? undefined : rowsSchema.safeParse(jsonOf(text))
  return read?.success === true ? read.data : undefined
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

export interface Merging {
  /** the rows of this record before the entry */
  readonly before: readonly EntryRow[]
  readonly entry: EntryOf<'merged'>
  /** what the document of the other chain holds */
  readonly branch: readonly EntryRow[]
}

/** The whole chain of the other device. */
export const theirsOf = ({ before, entry, branch }: Merging): readonly EntryRow[] => [
  ...before.slice(0, entry.common),
  ...branch
]

/** What of an entry that merges is not so; undefined where all of it is. The chain of the other device is sound by itself. */
export function mergeFault(merging: Merging): string | undefined {
  const { before, entry } = merging
  const ours = before.slice(0, entry.ours.count)
  const facts = mergeFacts(ours, theirsOf(merging))
  if (facts === undefined) return 'a merge of two chains that share no beginning, or of which one brings nothing'
  const { rows: _, ...theirs } = entry.theirs
  const said = { common: entry.common, ours: entry.ours, theirs, brings: entry.brings, after: entry.after }
  if (canonical({ ...said, differs: entry.differs }) !== canonical(facts)) {
    return 'a merge that says otherwise than the two chains: heads, branch point, or what comes in'
  }
  if (entry.signed.over !== entry.ours.head) return 'a merge signed over another state than the one it cites'
  return broughtOtherwise(merging) ? 'other entries before it than those that the other chain brings' : undefined
}

/** Between our end and the merge stand the entries that come in, as they are there, and documents. */
function broughtOtherwise({ before, entry, branch }: Merging): boolean {
  const theirs = new Map(branch.map((row) => [row.id, row]))
  const brought = new Set(entry.brings)
  const between = before.slice(entry.ours.count)
  const came = between.filter(({ id }) => brought.has(id))
  const others = between.filter(({ id }) => !brought.has(id))
  return (
    canonical(came.map(({ id }) => id)) !== canonical(entry.brings) ||
    came.some(({ id, body }) => theirs.get(id)?.body !== body) ||
    others.some(({ kind }) => kind !== 'document-stored')
  )
}

/** Ids of the entries that merges among these bring in. */
export const broughtBy = (entries: readonly Entry[]): ReadonlySet<string> =>
  new Set(entries.flatMap((entry) => (entry.kind === 'merged' ? entry.brings : [])))
