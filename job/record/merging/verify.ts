import { parseEntry } from '../entry.ts'
import { type Fault, intactChain } from '../intact.ts'
import type { EntryOf } from '../kinds.ts'
import type { EntryRow, Hash } from '../row.ts'
import { type SignaturePorts, signatureFaults } from '../signatures.ts'
import { branchFrom, broughtBy, mergeFault, theirsOf } from './merge.ts'

/** What a record that was merged says of the other devices' chains, looked at again. */

export interface MergePorts extends Omit<SignaturePorts, 'rows'> {
  readonly hash: Hash
}

export interface Merges {
  readonly faults: readonly Fault[]
  /** states of the other chains, over which people there have signed */
  readonly heads: ReadonlySet<string>
}

/** Every merge of a record: both chains sound with their signatures, both heads as cited, and what comes in as it lay there. */
export async function mergesIn(ports: MergePorts, rows: readonly EntryRow[]): Promise<Merges> {
  const faults: Fault[] = []
  const heads = new Set<string>()
  const all = rows.flatMap((row, at) => (row.kind === 'merged' ? [{ at, entry: mergedIn(row) }] : []))
  const brought = broughtBy(all.flatMap(({ entry }) => entry ?? []))
  for (const { at, entry } of all) {
    // one that came in is looked at in the chain in which it was made
    if (entry === undefined || brought.has(entry.id)) continue
    const found = await mergeIn(ports, rows.slice(0, at), entry)
    for (const head of found.heads) heads.add(head)
    faults.push(...found.faults.map(({ place, ...rest }) => ({ place: `entry ${at}, merge: ${place}`, ...rest })))
  }
  return { faults, heads }
}

/** What is no entry was said by the look at the chain. */
function mergedIn({ body }: EntryRow): EntryOf<'merged'> | undefined {
  try {
    const entry = parseEntry(JSON.parse(body))
    return 'kind' in entry && entry.kind === 'merged' ? entry : undefined
  } catch {
    return undefined
  }
}

async function mergeIn(ports: MergePorts, before: readonly EntryRow[], entry: EntryOf<'merged'>): Promise<Merges> {
  const text = await ports.document(entry.theirs.rows)
  const branch = text !== undefined && ports.hash(text) === entry.theirs.rows ? branchFrom(text) : undefined
  const needed = 'the chain of the other device, as its head says'
  if (branch === undefined)
    return { heads: new Set(), faults: [{ place: 'the other chain', found: 'nothing sound', needed }] }
  const merging = { before, entry, branch }
  const theirs = theirsOf(merging)
  const chain = intactChain({ rows: theirs, hash: ports.hash, parse: parseEntry, kept: entry.theirs })
  const inner = await mergesIn(ports, theirs)
  const signatures = await signatureFaults({ ...ports, rows: theirs }, chain.sound, inner.heads)
  const fault = mergeFault(merging)
  const own = fault === undefined ? [] : [{ place: 'what it says', found: fault, needed }]
  return {
    faults: [...own, ...[...chain.faults, ...inner.faults, ...signatures].map(ofOther)],
    heads: new Set([...inner.heads, ...branch.map(({ hash }) => hash)])
  }
}

const ofOther = ({ place, ...rest }: Fault): Fault => ({ place: `the other chain, ${place}`, ...rest })
