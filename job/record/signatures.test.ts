import { describe, expect, it } from 'vitest'
import { canonical } from './canonical.ts'
import { append, beginning, chainHash, chainOf, type EntryRow } from './chain.ts'
import type { Entry, EntryOf } from './kinds.ts'
import {
  examined,
  head,
  invent,
  kept,
  opened,
  personStored,
  sha256,
  signedBy,
  standardized,
  witnessOf
} from './testing/index.ts'
import { verify } from './verify.ts'

/** Oracle: what a stranger can do who owns the whole archive, and whose hashes are all right, but who has no key. */

const two = invent('B. Two')
const stranger = invent('B. Two')
const people = [two]
const witness = witnessOf(people)

function record(): readonly EntryRow[] {
  const before: readonly Entry[] = [
    ...[{ ...opened('J', ['1']), signing: 'required' as const }, personStored(two)],
    ...[kept('ref', { of: 'reference' }), standardized('ref')],
    ...[kept('scan', { of: 'hole', name: '1' }), examined('scan', '1', 'ref')]
  ]
  const rows = rowsOf([], before)
  const draft = { kind: 'left-out', subject: { of: 'hole', name: '1' }, reason: 'no access' }
  const entry = signedBy(two, { version: 1, ...head(), ...draft } as never, { job: 'J', head: rows.at(-1)!.hash })
  return rowsOf(rows, [entry])
}

function rowsOf(rows: readonly EntryRow[], entries: readonly Entry[]): readonly EntryRow[] {
  const done = append(chainOf('J', rows, witness), { expectedSeq: rows.length, entries }, sha256)
  if ('refused' in done) throw new Error(done.found)
  return [...rows, ...done.fresh]
}

/** The chain as somebody would write it who leaves the program's rule aside: bodies as they like, hashes that fit. */
function rewritten(rows: readonly EntryRow[], change: (entry: Entry, seq: number) => Entry): readonly EntryRow[] {
  const made: EntryRow[] = []
  for (const [seq, row] of rows.entries()) {
    const place = { seq, previous: made.at(-1)?.hash ?? beginning, body: canonical(change(JSON.parse(row.body), seq)) }
    made.push({ ...row, ...place, hash: chainHash(sha256, place) })
  }
  return made
}

const faultsOf = async (rows: readonly EntryRow[]) => {
  const documents = new Map([two, stranger].map(({ row, document }) => [document, canonical(row)]))
  const { intact } = await verify({
    ...{ rows, hash: sha256, holds: witness.holds },
    original: async (name) => name,
    document: async (name) => documents.get(name)
  })
  // what this test keeps no documents for is not its matter
  return intact.faults.filter(({ place }) => place.includes('signature'))
}

describe('signatures, looked at again', () => {
  it('hold on a record as it was written', async () => {
    expect(await faultsOf(record())).toEqual([])
  })

  it.each<[string, (entry: Entry, seq: number) => Entry]>([
    ['other words', (one) => (one.kind === 'left-out' ? { ...one, reason: 'nothing to see' } : one)],
    ['an earlier entry changed', (one) => (one.kind === 'recording-kept' ? { ...one, file: 'other.csv' } : one)],
    [
      'the same person with another key',
      (one) => (one.kind === 'left-out' ? { ...one, signed: { ...one.signed, person: stranger.document } } : one)
    ],
    [
      'a person who is not there',
      (one) => (one.kind === 'left-out' ? { ...one, signed: { ...one.signed, person: sha256('x') } } : one)
    ]
  ])('%s, all hashes right: told, with the place', async (_, change) => {
    const rows = record()
    const [fault] = await faultsOf(rewritten(rows, change))
    expect(fault?.place).toBe(`entry ${rows.length - 1}, signature of B. Two`)
  })

  it('do not hold where nobody can look at them', async () => {
    const rows = record()
    const asked = {
      rows,
      hash: sha256,
      original: async (name: string) => name,
      document: async () => canonical(two.row)
    }
    const { intact } = await verify(asked)
    expect(intact.faults.some(({ found }) => found === 'nobody who can look at signatures')).toBe(true)
  })
})

/** The rule's own entry: what the tests above leave out of it would leave nothing to test. */
describe('the record of this test', () => {
  it('has one signed entry, the last', () => {
    const last = JSON.parse(record().at(-1)!.body) as EntryOf<'left-out'>
    expect(last.signed.person).toBe(two.document)
  })
})

describe('entries that were written in another archive', () => {
  const all = (rows: readonly EntryRow[]) => rows.map(({ body }) => JSON.parse(body) as Entry)
  const grown = (entries: readonly Entry[], elsewhere: boolean) =>
    append(chainOf('J', [], witness), { expectedSeq: 0, entries, elsewhere }, sha256)

  it('may be signed over any state before them, and come out with the same hashes', () => {
    const rows = record()
    expect(grown(all(rows), false)).toMatchObject({ code: 'record/bad-signature' })
    expect(grown(all(rows), true)).toMatchObject({ rows })
  })

  it('may not be signed over a state that was not before them', () => {
    const entries = all(record())
    const entry = entries.at(-1) as Entry
    const draft = { ...entry, id: 'other' } as never
    const other = signedBy(two, draft, { job: 'J', head: sha256('no state of this record') })
    expect(grown([...entries.slice(0, -1), other], true)).toMatchObject({ code: 'record/bad-signature' })
  })
})
