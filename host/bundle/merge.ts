import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type ChainEnd, type Entry, type EntryRow, entryId, mergeFacts } from '@trueloop/job/record'
import { type Moment, now } from '../clock/index.ts'
import { type Signing, signersDocument } from '../decide/index.ts'
import { sha256 } from '../hash/index.ts'
import { signedEntry } from '../keys/index.ts'
import type { Bundle } from './bundle.ts'
import { type Code, refuse } from './codes.ts'
import { type Comparison, comparedWith } from './compare.ts'
import { type Importing, keepOriginals, storeDocuments } from './import.ts'
import { openBundle } from './open.ts'

/** What became of a merge. */
export interface Merged extends Comparison {
  /** entries that came in from the other device */
  readonly added: number
  readonly originals: number
  /** the end of our chain now */
  readonly head: ChainEnd
}

export interface Merging extends Importing {
  readonly reason: string
  /** by how much the clocks of both devices can have differed, where the person knows it, s */
  readonly clocks_agree_s?: number
}

type By = Omit<Signing, 'job'>

/**
 * Brings in what another device has written in the same job, where both went on from a common beginning. Nothing of ours
 * is overwritten; theirs is kept as it lies, and a person signs a merge of both heads. Written whole or not at all.
 * Refuses what `openBundle`, the record and the archive refuse, bundle/nothing-to-merge and bundle/spoiled-copy.
 */
export async function mergeBundle(by: By, file: string, how: Merging): Promise<Result<Merged>> {
  const bundle = await openBundle(file, how.signal)
  if (isRefusal(bundle)) return bundle
  try {
    const merged = await bringIn(by, bundle, how)
    return isRefusal(merged) ? located(merged, { file }) : merged
  } finally {
    await bundle.close()
  }
}

async function bringIn(by: By, bundle: Bundle, how: Merging): Promise<Result<Merged>> {
  const { archive } = by
  const compared = await comparedWith(archive, bundle)
  if (isRefusal(compared)) return compared
  const ours = await archive.entries(bundle.job)
  if (isRefusal(ours)) return ours
  if (compared.standing !== 'forked' || compared.common === 0) return nothing(compared, standings[compared.standing])
  const originals = await keepOriginals(archive, bundle, how)
  if (isRefusal(originals)) return originals
  const no = await storeDocuments(archive, bundle)
  if (no !== undefined) return no
  how.signal?.throwIfAborted()
  const entries = await entriesOf({ by, bundle, ours, compared }, how)
  if (isRefusal(entries)) return entries
  const added = await archive.append(bundle.job, ours.length, entries)
  if (isRefusal(added)) return added
  const last = added.at(-1) as EntryRow
  const brought = entries.filter(({ id }) => bundle.rows.some((row) => row.id === id)).length
  return { ...compared, added: brought, originals, head: { count: last.seq + 1, head: last.hash } }
}

interface Both {
  readonly by: By
  readonly bundle: Bundle
  readonly ours: readonly EntryRow[]
  readonly compared: Comparison
}

/** Documents of the signer and of the other chain, then what comes in, then the merge. */
async function entriesOf({ by, bundle, ours, compared }: Both, how: Merging): Promise<Result<readonly Entry[]>> {
  const { archive, signer, clock } = by
  const facts = mergeFacts(ours, bundle.rows)
  if (facts === undefined) return nothing(compared, 'a bundle in which nothing is new')
  const rows = await archive.storeDocument('other chain', bundle.rows.slice(facts.common))
  if (isRefusal(rows)) return rows
  const person = await signersDocument([...ours, ...bundle.rows], by)
  if (isRefusal(person)) return person
  const brought = new Set(facts.brings)
  const theirs = bundle.rows.filter(({ id }) => brought.has(id)).map(({ body }) => JSON.parse(body) as Entry)
  const { reason, clocks_agree_s } = how
  const clocks = clocks_agree_s === undefined ? {} : { clocks_agree_s }
  const draft = { kind: 'merged', ...facts, theirs: { ...facts.theirs, rows }, reason, ...clocks }
  const merge = signedEntry<Entry>(draft, { chain: bundle.job, rows: ours, signer, clock })
  return [...person, chainStored(rows, signer.row.name, clock), ...theirs, merge]
}

function chainStored(document: string, name: string, clock: () => Moment = now): Entry {
  const about = { kind: 'document-stored', version: 1, document, what: 'other chain' } as const
  return { ...about, id: entryId(sha256, about), at: clock(), by: { kind: 'person', name } }
}

const standings: Readonly<Record<Comparison['standing'], string>> = {
  'not here': 'a job that is not in this archive',
  'the same': 'a bundle in which nothing is new',
  'ours is older': 'a bundle whose record only goes on from the one here',
  'theirs is older': 'a bundle in which nothing is new',
  forked: 'a record that has no entry in common with the one here'
}

const nothing = ({ job, ours, theirs, common }: Comparison, found: string): Refusal<Code> =>
  refuse('bundle/nothing-to-merge', {
    found: `job "${job}": ${found} (here ${ours.count}:${ours.head}, there ${theirs.count}:${theirs.head}, ${common} entries in common)`,
    needed: 'two records of one job that share a beginning and then both went on',
    remedy:
      'import it without --merge, if it is new or only longer; two jobs that were opened apart are two jobs, whatever their number'
  })
