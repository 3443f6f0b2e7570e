import { rmSync, truncateSync, writeFileSync } from 'node:fs'
import { canonical, chainHash, type EntryRow } from '@trueloop/job/record'
import { chainOfEntries, kept, opened, sha256 } from '@trueloop/job/record/testing'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Archive } from '../archive/index.ts'
import { openBundle, readBundle, writeBundle } from './index.ts'
import { linesOf } from './lines.ts'
import { measureBytes } from './measure.ts'
import { names } from './names.ts'
import { fileOf, listed, type Packed, pack, replaced, textOf, unpack, without } from './testing/forged.ts'
import { type Home, makeHome } from './testing/home.ts'
import { addSignedJob } from './testing/signed-job.ts'
import { addSmallJob, codeOf, got, plainJob } from './testing/small-job.ts'
import { layoutOf } from './zip/layout.ts'
import { claimComplaint, most } from './zip/members.ts'

let home: Home
let archive: Archive
let empty: Archive
let zip: Buffer
let files: readonly Packed[]

beforeAll(async () => {
  home = makeHome()
  archive = await home.archive()
  empty = await home.archive('empty')
  await addSmallJob(archive, plainJob)
  zip = await home.exported(archive, plainJob.job)
  files = unpack(zip)
})
afterAll(() => home.end())

/** Every refused import is tried on an archive that must stay empty. */
async function refused(bytes: Uint8Array): Promise<string> {
  const code = codeOf(await readBundle(empty, home.written('forged.zip', bytes)))
  expect(await empty.jobs()).toEqual([])
  return code
}

/** Changes the fields of the first member whose name is this, in its header and in the directory. */
function patched(name: string, local: (at: number, copy: Buffer) => void, line: (at: number, copy: Buffer) => void) {
  const copy = Buffer.from(zip)
  const { headers } = layoutOf(files.map((one) => ({ name: one.name, ...measureBytes(one.bytes) })))
  local(headers[files.findIndex((one) => one.name === name)]?.at ?? 0, copy)
  line(copy.lastIndexOf(name, copy.length, 'latin1') - 46, copy)
  return copy
}

const renamed = (from: string, to: string): Buffer =>
  pack(files.map((one) => (one.name === from ? { ...one, name: to } : one)))

describe('a file that is no bundle', () => {
  it('is not there, is a folder, is no ZIP, or is cut off', async () => {
    expect(codeOf(await openBundle(home.path('absent.zip')))).toBe('bundle/unreadable-file')
    expect(codeOf(await openBundle(home.folder))).toBe('bundle/unreadable-file')
    expect(await refused(Buffer.from('no zip at all'))).toBe('bundle/not-a-zip')
    expect(await refused(new Uint8Array(0))).toBe('bundle/not-a-zip')
    for (const share of [0.1, 0.5, 0.9, 0.999]) {
      const path = home.written('cut.zip', zip)
      truncateSync(path, Math.floor(zip.length * share))
      expect(codeOf(await openBundle(path))).toBe('bundle/broken-zip')
    }
  })

  it('has members with unsafe names', async () => {
    const bad = [
      '../x',
      '/etc/x',
      'a/../../x',
      'a\\x',
      'C:/x',
      'C:x',
      'a//x',
      './x',
      'folder/',
      '.',
      '\u0001',
      'caf\u00e9'
    ]
    for (const name of bad) expect(await refused(renamed(names.report, name)), name).toBe('bundle/unsafe-name')
  })

  it('has a name twice, or two names that differ by case', async () => {
    const report = files.find(({ name }) => name === names.report) as Packed
    expect(await refused(pack([...files, report]))).toBe('bundle/doubled-name')
    const other = { ...report, name: names.report.toUpperCase() }
    expect(await refused(pack([...files, other]))).toBe('bundle/doubled-name')
  })

  it('has links, encrypted or compressed members', async () => {
    const link = patched(
      names.report,
      () => undefined,
      (at, copy) => copy.writeUInt32LE(0o120777 * 0x10000, at + 38)
    )
    expect(await refused(link)).toBe('bundle/link')
    const both = (offset: number, value: number) =>
      patched(
        names.report,
        (at, copy) => copy.writeUInt16LE(value, at + offset),
        (at, copy) => copy.writeUInt16LE(value, at + offset + 2)
      )
    const encrypted = both(6, 1)
    const line = encrypted.lastIndexOf(names.report, encrypted.length, 'latin1') - 46
    // the cipher's own header of 12 bytes. source: zip-appnote-6-3, 6.1.3
    encrypted.writeUInt32LE(encrypted.readUInt32LE(line + 24) + 12, line + 20)
    expect(await refused(encrypted)).toBe('bundle/encrypted')
    expect(await refused(both(8, 8))).toBe('bundle/compressed')
  })

  it('claims more than it can hold', async () => {
    const claim = { flags: 0, method: 0, attributes: 0, crc: 0 }
    const of = (name: string, bytes: number) =>
      codeOf(claimComplaint({ ...claim, rawName: Buffer.from(name), bytes }, new Set()))
    expect(of(names.job, most.textBytes + 1)).toBe('bundle/too-large')
    expect(of(`originals/${'a'.repeat(64)}`, most.textBytes + 1)).toBe('no refusal')
    expect(await refused(overlapping())).toBe('bundle/too-large')
    const many = Array.from({ length: most.members + 1 }, (_, at) => ({ name: `f${at}`, bytes: new Uint8Array(0) }))
    expect(await refused(pack(many))).toBe('bundle/too-large')
  })

  /** Many lines of the directory that all point at the same bytes. */
  function overlapping(): Buffer {
    const big = fileOf(names.report, 'x'.repeat(100_000))
    const whole = pack(Array.from({ length: 9 }, (_, at) => ({ ...big, name: `reports/report${at}.html` })))
    const one = pack([{ ...big, name: 'reports/report0.html' }])
    const start = 100_000 + 30 + 20
    const lines = whole.subarray(whole.length - 22 - 9 * (46 + 20), whole.length - 22)
    const copy = Buffer.concat([one.subarray(0, start), lines, whole.subarray(whole.length - 22)])
    for (let at = 0; at < 9; at++) copy.writeUInt32LE(0, start + at * 66 + 42)
    copy.writeUInt32LE(start, copy.length - 6)
    return copy
  }

  it('has bytes before, between or after its parts', async () => {
    expect(await refused(Buffer.concat([Buffer.from('MZ'), zip]))).not.toBe('no refusal')
    expect(await refused(Buffer.concat([zip, Buffer.from('x')]))).not.toBe('no refusal')
    const dated = patched(
      names.report,
      (at, copy) => copy.writeUInt16LE(0x5000, at + 12),
      () => undefined
    )
    expect(await refused(dated)).toBe('bundle/other-bytes')
  })
})

describe('a bundle in which every sum is right', () => {
  const forged = (changed: readonly Packed[], rows?: readonly EntryRow[]) => refused(pack(listed(changed, rows)))
  const rowsNow = (): EntryRow[] => chainRows(textOf(files, names.entries))
  const withRows = (rows: readonly EntryRow[]) => forged(replaced(files, names.entries, linesOf(rows)), rows)
  const original = () => files.find(({ name }) => /^originals\/[0-9a-f]{64}$/.test(name))?.name ?? ''

  it('is of another version', async () => {
    const job = textOf(files, names.job)
    expect(await refused(pack(replaced(files, names.job, job.replace('bundle/1', 'bundle/2'))))).toBe(
      'bundle/unknown-version'
    )
    expect(await refused(pack(replaced(files, names.job, '{ no json')))).toBe('bundle/unknown-version')
    expect(await refused(pack(replaced(files, names.job, '{"trueloop":"bundle/1"}')))).toBe('bundle/unknown-version')
  })

  it('lacks a file, has one more, or has them in another order', async () => {
    expect(await refused(pack(without(files, names.report)))).toBe('bundle/missing-file')
    expect(await refused(pack(without(files, names.job)))).toBe('bundle/unknown-version')
    expect(await forged(without(files, original()))).toBe('bundle/missing-file')
    expect(await forged([...files, fileOf('reports/more.html', 'x')])).toBe('bundle/unlisted-file')
    expect(await forged([...files, fileOf(`documents/${sha256('{}')}.json`, '{}')])).toBe('bundle/unlisted-file')
    expect(await refused(pack([...files].reverse()))).toBe('bundle/unlisted-file')
  })

  it('has another original or document than its name says, or another list than follows', async () => {
    expect(await forged(replaced(files, original(), 'other'))).toBe('bundle/changed-file')
    const job = textOf(files, names.job)
    expect(await refused(pack(replaced(files, names.sums, 'no sums')))).toBe('bundle/changed-file')
    expect(await refused(pack(replaced(files, names.job, job.replace('Invented panel 1', 'Another panel'))))).toBe(
      'bundle/changed-file'
    )
  })

  it('has an entry of an unknown kind', async () => {
    const rows = rowsNow()
    const row = rows.at(-1) as EntryRow
    const body = canonical({ ...JSON.parse(row.body), kind: 'blessed' })
    const text = linesOf([...rows.slice(0, -1), { ...row, kind: 'blessed', body }])
    expect(await forged(replaced(files, names.entries, text), rows)).toBe('bundle/unknown-kind')
  })

  it('has entries changed, removed, reordered, doubled, or cut off', async () => {
    const rows = rowsNow()
    const [first, second, third] = rows as [EntryRow, EntryRow, EntryRow]
    const changed = { ...second, body: second.body.replace('A. Invented', 'B. Invented') }
    expect(await withRows([first, changed, ...rows.slice(2)])).toBe('bundle/wrong-chain')
    expect(await withRows([first, third, second, ...rows.slice(3)])).toBe('bundle/wrong-chain')
    expect(await withRows([...rows, rows.at(-1) as EntryRow])).toBe('bundle/wrong-chain')
    expect(await withRows([first, ...rows.slice(2)])).not.toBe('no refusal')
    expect(await withRows(rows.slice(0, -1))).not.toBe('no refusal')
    const text = textOf(files, names.entries)
    expect(await forged(replaced(files, names.entries, text.slice(0, -1)), rows)).toBe('bundle/wrong-chain')
    expect(await forged(replaced(files, names.entries, text.replace('{"entry"', '{ "entry"')), rows)).toBe(
      'bundle/wrong-chain'
    )
  })

  it('has a document that is not in canonical form, or no examination where one is named', async () => {
    const text = '{ "b": 1 }'
    const stored = { kind: 'document-stored', version: 1, what: 'response study', document: sha256(text) } as const
    expect(await withDocument(stored, text)).toBe('bundle/wrong-chain')
    const examined = {
      ...{ kind: 'examined', version: 1, examination: sha256('{}'), subject: { of: 'hole', name: '1' } },
      ...{ recording: sha256('r'), standardization: 'none', method: 1, zones: [], indications: [], refusals: [] }
    } as const
    expect(await withDocument(examined, '{}')).toBe('bundle/wrong-chain')
  })

  it('has a technique from which no report can be made', async () => {
    const stored = { kind: 'document-stored', version: 1, what: 'technique', document: sha256('{}') } as const
    expect(await withDocument(stored, '{}')).toBe('bundle/changed-file')
  })

  function withDocument(what: object, text: string): Promise<string> {
    const head = {
      id: 'd',
      at: { time: '2026-03-14T09:00:00Z', known: 'job sheet' },
      by: { kind: 'person', name: 'A' }
    }
    const rows = chainOfEntries('S-9', [opened('S-9', ['1']), { ...head, ...what } as never])
    const plain = files.filter(({ name }) => !/^(documents|originals)\/[0-9a-f]{64}/.test(name))
    const changed = [...replaced(plain, names.entries, linesOf(rows)), fileOf(`documents/${sha256(text)}.json`, text)]
    return forged(changed, rows)
  }

  it('has a signature that its person did not make, in a chain that fits', async () => {
    const other = await home.archive('signed')
    await addSignedJob(other)
    const signed = unpack(await home.exported(other, 'S-4', 'signed.zip'))
    const rows: EntryRow[] = []
    for (const row of chainRows(textOf(signed, names.entries))) {
      const body = row.body.replace('no access', 'looked at it')
      const place = { seq: row.seq, previous: rows.at(-1)?.hash ?? row.previous, body }
      rows.push({ ...row, ...place, hash: chainHash(sha256, place) })
    }
    await got(await openBundle(home.written('sound.zip', pack(listed(signed))))).close()
    expect(await refused(pack(listed(replaced(signed, names.entries, linesOf(rows)), rows)))).toBe('bundle/wrong-chain')
  })

  it('has entries that nobody could have appended', async () => {
    const rows = chainOfEntries('S-8', [opened('S-8', ['1'])])
    const plain = files.filter(({ name }) => !/^(documents|originals)\/[0-9a-f]{64}/.test(name))
    const other = linesOf(rows).replaceAll('"id":"S-8"', '"id":"S-7"')
    const body = JSON.parse(other).entry
    const row = chainOfEntries('S-7', [body])
    const job = textOf(listed(replaced(plain, names.entries, linesOf(row)), row), names.job)
    const changed = replaced(
      listed(replaced(plain, names.entries, linesOf(row)), row),
      names.job,
      job.replace('"S-7"', '"S-8"')
    )
    expect(await refused(pack(changed))).toBe('bundle/against-the-rule')
  })
})

describe('an archive that is not sound', () => {
  it('hands nothing over', async () => {
    const other = await home.archive('lacking')
    const written: Uint8Array[] = []
    const missing = kept('never kept', { of: 'reference' })
    await other.append('L', 0, [opened('L', ['1']), missing])
    const sink = { write: async (bytes: Uint8Array) => void written.push(bytes) }
    expect(codeOf(await writeBundle(other, { job: 'L' }, sink))).toBe('archive/no-original')
    expect(written).toEqual([])
  })

  it('hands nothing over whose bytes have changed, and takes nothing in beside a spoiled copy', async () => {
    const other = await home.archive('spoiled')
    await addSmallJob(other, { ...plainJob, job: 'S-5' })
    const name = sha256(Buffer.from(plainJob.recordings[0]?.bytes ?? []).toString())
    rmSync(other.originalPath(name))
    writeFileSync(other.originalPath(name), 'x,y\n0,1\n2,4\n')
    const sink = { write: async () => undefined }
    expect(codeOf(await writeBundle(other, { job: 'S-5' }, sink))).toBe('bundle/record-not-whole')
    expect(codeOf(await readBundle(other, home.written('sound.zip', zip)))).toBe('bundle/spoiled-copy')
    expect((await other.jobs()) as unknown[]).toHaveLength(1)
  })
})

const chainRows = (text: string): EntryRow[] =>
  text
    .trimEnd()
    .split('\n')
    .map((line) => {
      const { entry, hash, previous, seq } = JSON.parse(line)
      const { id, kind, version } = entry
      return { seq, id, kind, version, body: canonical(entry), previous, hash }
    })
