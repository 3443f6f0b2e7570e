import { createHash, sign } from 'node:crypto'
import { canonical, type Entry, replay, verify } from '@trueloop/job/record'
import { head, type Invented, invent, opened, personStored, sha256, signedBy } from '@trueloop/job/record/testing'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Archive } from '../archive/index.ts'
import { summaryOf } from '../chain/index.ts'
import { signatureHolds } from '../hash/index.ts'
import { type Merging, mergeBundle, readBundle } from './index.ts'
import { listed, pack, replaced, textOf, unpack } from './testing/forged.ts'
import { type Home, makeHome } from './testing/home.ts'
import { addSmallJob, codeOf, got, keptIn, plainJob } from './testing/small-job.ts'

/** Two archives that went on with one job. Oracles: SHA-256 of the bytes given, the heads printed before, Node's Ed25519. */

let home: Home
beforeEach(() => {
  home = makeHome()
})
afterEach(() => home.end())

const two = invent('B. Two')
const one = invent('A. One', 'I')
const late = { time: '2026-03-16T09:00:00Z', known: 'clock of this computer' } as const

const as = (archive: Archive, { row, key }: Invented) => ({
  ...{ archive, clock: () => late },
  signer: {
    ...{ person: sha256(canonical(row)), row },
    sign: (text: string) => sign(null, Buffer.from(text), key).toString('base64')
  }
})

const how: Merging = { reason: 'two teams' }

const add = async (archive: Archive, ...entries: readonly Entry[]) =>
  got(await archive.append('S-1', got(await archive.end('S-1')).count, entries))

const photoBytes = Buffer.from('a recording of the other device')

/** The job here, begun, and on a second device, exported after both went on. */
async function apart() {
  const [ours, theirs] = [await home.archive('ours'), await home.archive('theirs')]
  got(await ours.storeDocument('person', two.row))
  await add(ours, { ...opened('S-1', ['1', '2']), signing: 'required' }, personStored(two))
  await home.exported(ours, 'S-1', 'begun.zip')
  got(await readBundle(theirs, home.path('begun.zip')))
  await add(ours, await keptIn(ours, { file: 'ours.csv', bytes: Buffer.from('of ours') }))
  await add(theirs, await keptIn(theirs, { file: 'theirs.csv', bytes: photoBytes }))
  const seen = { job: 'S-1', head: got(await theirs.end('S-1')).head }
  const draft = { kind: 'left-out', subject: { of: 'hole', name: '2' }, reason: 'no access' }
  await add(theirs, signedBy(two, { version: 1, ...head(), ...draft } as never, seen))
  return { ours, theirs, zip: await home.exported(theirs, 'S-1', 'theirs.zip'), path: home.path('theirs.zip') }
}

const soundness = async (archive: Archive) => {
  const { intact } = await verify({
    ...{ rows: got(await archive.entriesAsTheyLie('S-1')), hash: sha256, holds: signatureHolds },
    kept: got(await archive.end('S-1')),
    original: async (name) => got(await archive.hashOfOriginal(name)),
    document: async (name) => got(await archive.documentText(name))
  })
  return intact.faults
}

describe('a bundle of a job that went on here too', () => {
  it('is refused without a person, and brings in entries, originals and documents with one', async () => {
    const { ours, theirs, path } = await apart()
    const before = got(await ours.entries('S-1'))
    expect(codeOf(await readBundle(ours, path))).toBe('bundle/forked')
    const merged = got(await mergeBundle(as(ours, two), path, how))
    expect(merged).toMatchObject({ standing: 'forked', added: 2, originals: 1, common: 2 })
    const rows = got(await ours.entries('S-1'))
    expect(rows.slice(0, before.length)).toEqual(before)
    const [entry] = replay(rows).merges
    expect(entry?.theirs.head).toBe(got(await theirs.end('S-1')).head)
    expect(entry?.ours.head).toBe(before.at(-1)?.hash)
    expect(merged.head).toEqual({ count: rows.length, head: rows.at(-1)?.hash })
    const pieces: Uint8Array[] = []
    for await (const piece of got(await ours.readOriginal(createHash('sha256').update(photoBytes).digest('hex'))))
      pieces.push(piece)
    expect(Buffer.concat(pieces)).toEqual(photoBytes)
    expect(await soundness(ours)).toEqual([])
  })

  it('goes out and comes in again as it is, and a third device is merged after it', async () => {
    const { ours, path } = await apart()
    const third = await home.archive('third')
    got(await readBundle(third, home.path('begun.zip')))
    await add(third, await keptIn(third, { file: 'third.csv', bytes: Buffer.from('of a third') }))
    await home.exported(third, 'S-1', 'third.zip')
    got(await mergeBundle(as(ours, two), path, how))
    got(await mergeBundle(as(ours, two), home.path('third.zip'), { ...how, clocks_agree_s: 5 }))
    await home.exported(ours, 'S-1', 'merged.zip')
    const fresh = await home.archive('fresh')
    got(await readBundle(fresh, home.path('merged.zip')))
    expect(got(await fresh.entries('S-1'))).toEqual(got(await ours.entries('S-1')))
    expect(await soundness(fresh)).toEqual([])
    expect(replay(got(await fresh.entries('S-1'))).recordings.map(({ file }) => file)).toHaveLength(3)
  })

  it('brings nothing a second time, on either side', async () => {
    const { ours, theirs, path } = await apart()
    got(await mergeBundle(as(ours, two), path, how))
    expect(codeOf(await mergeBundle(as(ours, two), path, how))).toBe('bundle/nothing-to-merge')
    await home.exported(ours, 'S-1', 'merged.zip')
    got(await mergeBundle(as(theirs, two), home.path('merged.zip'), how))
    await home.exported(theirs, 'S-1', 'back.zip')
    expect(codeOf(await mergeBundle(as(ours, two), home.path('back.zip'), how))).toBe('bundle/nothing-to-merge')
    const placesOf = async (archive: Archive) => replay(got(await archive.entries('S-1'))).places
    expect(await placesOf(ours)).toEqual(await placesOf(theirs))
  })
})

describe('what two people decided apart', () => {
  it('and does not agree, is open in what the shell shows, and in the report of the bundle', async () => {
    const { ours, theirs } = await apart()
    const decide = async (archive: Archive, disposition: string) => {
      const seen = { job: 'S-1', head: got(await archive.end('S-1')).head }
      const draft = { kind: 'disposed', subject: { of: 'hole', name: '1' }, disposition, seen: [] }
      await add(archive, signedBy(two, { version: 1, ...head(), ...draft } as never, seen))
    }
    await decide(ours, 'refer')
    await decide(theirs, 'reject')
    await home.exported(theirs, 'S-1', 'theirs.zip')
    got(await mergeBundle(as(ours, two), home.path('theirs.zip'), how))
    const { places } = summaryOf(replay(got(await ours.entries('S-1'))))
    expect(places[0]).toMatchObject({ state: 'not examined', open: [expect.stringContaining('"reject" by B. Two')] })
    const files = unpack(await home.exported(ours, 'S-1', 'merged.zip'))
    expect(textOf(files, 'reports/report.html')).toContain('on two devices apart')
    expect(textOf(files, 'READ-ME-FIRST.txt')).toContain('entries of kind "merged"')
  })
})

describe('is not merged, and leaves all as it was', () => {
  it('another job, one opened apart, one that only goes on', async () => {
    const { ours } = await apart()
    const other = await home.archive('other')
    await addSmallJob(other, { ...plainJob, job: 'S-9' })
    await home.exported(other, 'S-9', 'other.zip')
    await add(other, { ...opened('S-1', ['1', '2']), ...head('another opening') })
    await home.exported(other, 'S-1', 'opened-apart.zip')
    const before = got(await ours.entries('S-1'))
    for (const name of ['other.zip', 'opened-apart.zip', 'begun.zip']) {
      expect(codeOf(await mergeBundle(as(ours, two), home.path(name), how))).toBe('bundle/nothing-to-merge')
    }
    expect(got(await ours.entries('S-1'))).toEqual(before)
  })

  it('one that was tampered with, with sums put right again', async () => {
    const { ours, zip } = await apart()
    const files = unpack(zip)
    const lines = textOf(files, 'entries/entries.jsonl').replace('no access', 'no excess')
    const forged = home.written('forged.zip', pack(listed(replaced(files, 'entries/entries.jsonl', lines))))
    expect(codeOf(await mergeBundle(as(ours, two), forged, how))).toBe('bundle/wrong-chain')
  })

  it('without a signature, or by a Level I', async () => {
    const { ours, path } = await apart()
    const unsigned = { ...as(ours, two), signer: { ...as(ours, two).signer, sign: () => `${'A'.repeat(86)}==` } }
    expect(codeOf(await mergeBundle(unsigned, path, how))).toBe('record/bad-signature')
    expect(codeOf(await mergeBundle(as(ours, one), path, how))).toBe('record/no-right')
    expect(await soundness(ours)).toEqual([])
  })

  it('a merged chain whose other side was exchanged in the bundle', async () => {
    const { ours, path } = await apart()
    got(await mergeBundle(as(ours, two), path, how))
    const files = unpack(await home.exported(ours, 'S-1', 'merged.zip'))
    const { rows } = replay(got(await ours.entries('S-1'))).merges[0]!.theirs
    const name = files.find((file) => file.name.includes(rows))!.name
    const forged = home.written('forged.zip', pack(listed(replaced(files, name, '[]'))))
    expect(codeOf(await readBundle(await home.archive('fresh'), forged))).toMatch(/^bundle\//)
  })
})
