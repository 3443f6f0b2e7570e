import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Entry } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import type { Bundle } from './bundle.ts'
import { type Code, refuse } from './codes.ts'
import { type Comparison, comparedWith } from './compare.ts'
import { openBundle } from './open.ts'

/** What became of an import. */
export interface Imported extends Comparison {
  /** entries that are new in this archive; 0 where there was nothing to do */
  readonly added: number
  readonly originals: number
  readonly otherwise: readonly string[]
}

export interface Importing {
  readonly signal?: AbortSignal
  readonly tell?: (original: number, of: number) => void
}

/**
 * Takes a job in from a bundle, whole or not at all: all of it is verified before anything is written; then originals
 * and documents, which lie there under their hashes and are named by nothing yet; the entries last, in one transaction.
 * A job that is here already is brought up to theirs where ours is the beginning of it.
 * Refuses what `openBundle` and the archive refuse, bundle/forked and bundle/spoiled-copy. An aborted signal is thrown.
 */
export async function readBundle(archive: Archive, file: string, how: Importing = {}): Promise<Result<Imported>> {
  const bundle = await openBundle(file, how.signal)
  if (isRefusal(bundle)) return bundle
  try {
    const imported = await takeIn(archive, bundle, how)
    return isRefusal(imported) ? located(imported, { file }) : imported
  } finally {
    await bundle.close()
  }
}

async function takeIn(archive: Archive, bundle: Bundle, how: Importing): Promise<Result<Imported>> {
  const compared = await comparedWith(archive, bundle)
  if (isRefusal(compared)) return compared
  const told = { ...compared, added: 0, originals: 0, otherwise: bundle.otherwise }
  if (compared.standing === 'forked') return forked(compared)
  if (compared.standing !== 'not here' && compared.standing !== 'ours is older') return told
  const originals = await keepOriginals(archive, bundle, how)
  if (isRefusal(originals)) return originals
  const no = await storeDocuments(archive, bundle)
  if (no !== undefined) return no
  how.signal?.throwIfAborted()
  const added = await appendRest(archive, bundle, compared)
  return isRefusal(added) ? added : { ...told, added, originals }
}

/** Gives how many originals were new here. */
export async function keepOriginals(
  archive: Archive,
  bundle: Bundle,
  { signal, tell }: Importing
): Promise<Result<number>> {
  const hashes = [...bundle.named.originals.keys()]
  let fresh = 0
  for (const [at, hash] of hashes.entries()) {
    signal?.throwIfAborted()
    tell?.(at + 1, hashes.length)
    const kept = await keepOriginal(archive, bundle, hash)
    if (isRefusal(kept)) return kept
    if (!kept) fresh++
  }
  return fresh
}

/** Gives whether it was here already: then its bytes are looked at, for a name alone says nothing. */
async function keepOriginal(archive: Archive, bundle: Bundle, hash: string): Promise<Result<boolean>> {
  const there = await archive.hashOfOriginal(hash)
  if (isRefusal(there)) return there
  if (there !== undefined) return there === hash ? true : spoiled(`original ${hash}`, there)
  const pieces = await bundle.readOriginal(hash)
  if (isRefusal(pieces)) return pieces
  const kept = await archive.keepOriginal(pieces)
  if (isRefusal(kept)) return kept
  return kept.sha256 === hash ? false : changedMeanwhile(hash, kept.sha256)
}

export async function storeDocuments(archive: Archive, bundle: Bundle): Promise<Refusal | undefined> {
  for (const [hash, kind] of bundle.named.documents) {
    const there = await archive.documentText(hash)
    if (isRefusal(there)) return there
    if (there !== undefined && sha256(there) !== hash) return spoiled(`document ${hash}`, sha256(there))
    const document = await bundle.document(hash)
    if (isRefusal(document)) return document
    const stored = await archive.storeDocument(kind, JSON.parse(document.text))
    if (isRefusal(stored)) return stored
    if (stored !== hash) return changedMeanwhile(hash, stored)
  }
  return undefined
}

/** That the rows come out with the very hashes was seen when the bundle was opened; another outcome is our defect. */
async function appendRest(
  archive: Archive,
  { job, rows, head }: Bundle,
  { ours }: Comparison
): Promise<Result<number>> {
  const rest = rows.slice(ours.count)
  const entries = rest.map(({ body }) => JSON.parse(body) as Entry)
  const appended = await archive.takeIn(job, ours.count, entries)
  if (isRefusal(appended)) return appended
  if (appended.at(-1)?.hash !== head) throw new Error(`job ${job} came out with another head than ${head}`)
  return appended.length
}

const forked = ({ job, ours, theirs, common }: Comparison): Refusal<Code> =>
  refuse('bundle/forked', {
    found: `job "${job}" with ${common} common entries, then others here (head ${ours.count}:${ours.head}) than in the bundle (head ${theirs.count}:${theirs.head})`,
    needed: 'a record of which one is the beginning of the other, or the word of a person who brings both together',
    remedy:
      'both stay as they are; where two devices worked on it apart, a person brings them together: import FILE --merge --as NAME --reason WHY'
  })

const spoiled = (what: string, found: string): Refusal<Code> =>
  refuse('bundle/spoiled-copy', {
    found: `${what} in this archive, with bytes whose hash is ${found}`,
    needed: 'sound copies of what the bundle shares with this archive',
    remedy: 'run verify on the jobs of this archive, restore what is damaged from a backup, then import again'
  })

const changedMeanwhile = (hash: string, found: string): Refusal<Code> =>
  refuse('bundle/changed-file', {
    found: `bytes with the hash ${found} where a moment ago ${hash} was read`,
    needed: 'a file that nobody changes while it is read',
    remedy: 'copy the bundle to a disk of this computer, then run the command again'
  })
