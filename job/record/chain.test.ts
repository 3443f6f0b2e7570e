import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { append, beginning, chainHash, chainOf, type EntryRow } from './chain.ts'
import { entryId, parseEntry } from './entry.ts'
import type { Entry } from './kinds.ts'
import { chainOfEntries, examined, head, kept, opened, sha256 } from './testing/index.ts'

const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')
const adding = (rows: readonly EntryRow[], entries: readonly Entry[], expectedSeq = rows.length) =>
  append(chainOf('J', rows), { expectedSeq, entries }, sha256)
const rowsOf = (value: ReturnType<typeof adding>) => {
  if (isRefusal(value)) throw new Error(value.code)
  return value
}
const corrected = (corrects: string, becomes: 'withdrawn' | Entry): Entry => ({
  kind: 'corrected',
  version: 1,
  ...head(),
  corrects,
  reason: 'a typing error',
  becomes: becomes as Extract<Entry, { kind: 'corrected' }>['becomes']
})

describe('append', () => {
  const job = opened('J', ['1', '2'])
  const scan = kept('scan', { of: 'hole', name: '1' })
  const rows = chainOfEntries('J', [job, scan])

  it('numbers entries and ties each to the one before', () => {
    expect(rows.map(({ seq }) => seq)).toEqual([0, 1])
    expect(rows.map(({ previous }) => previous)).toEqual([beginning, rows[0]?.hash])
  })

  it('hashes the canonical text of number, hash before and entry', () => {
    // the hash of the text that the RFC's rule gives, written out by hand
    const text = `{"entry":${rows[1]?.body},"previous":"${rows[0]?.hash}","seq":1}`
    expect(rows[1]?.hash).toBe(sha256(text))
    expect(chainHash(sha256, { seq: 1, previous: rows[0]?.hash ?? '', body: rows[1]?.body ?? '' })).toBe(sha256(text))
  })

  it('gives back what is there already, with any expectation', () => {
    expect(rowsOf(adding(rows, [job, scan], 0))).toEqual({ rows, fresh: [] })
  })

  it('takes new ones beside old ones, and the same new one once', () => {
    const next = kept('next', { of: 'hole', name: '2' })
    const { rows: all, fresh } = rowsOf(adding(rows, [scan, next, next]))
    expect(all.map(({ seq }) => seq)).toEqual([1, 2, 2])
    expect(fresh).toHaveLength(1)
  })

  it.each<[string, () => unknown]>([
    ['record/sequence-taken', () => adding(rows, [kept('late', { of: 'recheck' })], 1)],
    ['record/id-taken', () => adding(rows, [{ ...scan, file: 'other.csv' }])],
    ['record/not-opened', () => adding([], [scan])],
    ['record/opened-twice', () => adding(rows, [{ ...job, id: 'again' }])],
    ['record/wrong-job', () => adding([], [opened('K', ['1'])])],
    ['record/wrong-job', () => adding(rows, [corrected(job.id, { ...job, job: { ...job.job, id: 'K' } })])],
    ['record/bad-entry', () => adding(rows, [{ ...scan, id: 'new', bytes: -1 }])],
    ['record/bad-entry', () => adding(rows, [{ ...scan, id: 'new', extra: 1 } as Entry])],
    ['record/bad-entry', () => adding(rows, [corrected(scan.id, { ...scan, bytes: -1 })])],
    ['record/nothing-to-correct', () => adding(rows, [corrected('no such entry', 'withdrawn')])],
    ['record/nothing-to-correct', () => adding(rows, [corrected(job.id, 'withdrawn')])],
    ['record/nothing-to-correct', () => adding(rows, [corrected(scan.id, { ...scan, id: 'other' })])],
    ['record/unknown-kind', () => adding(rows, [{ ...scan, id: 'new', version: 2 } as unknown as Entry])]
  ])('refuses with %s', (code, run) => expect(codeOf(run())).toBe(code))

  it('does not correct what was measured or computed', () => {
    const examination = examined('scan', '1', 'reference')
    const { rows: more } = rowsOf(adding(rows, [examination]))
    expect(codeOf(adding([...rows, ...more], [corrected(examination.id, 'withdrawn')]))).toBe(
      'record/nothing-to-correct'
    )
  })

  it('corrects what was stated', () => {
    expect(codeOf(adding(rows, [corrected(scan.id, { ...scan, of: { of: 'hole', name: '2' } })]))).toBe('no refusal')
    expect(codeOf(adding(rows, [corrected(scan.id, 'withdrawn')]))).toBe('no refusal')
  })
})

describe('parseEntry', () => {
  it.each([undefined, null, 7, 'job-opened', [], { kind: 'gizmo', version: 1 }])('refuses %j', (value) =>
    expect(codeOf(parseEntry(value))).toBe('record/unknown-kind')
  )
  it('says where and what is wrong', () => {
    const no = parseEntry({ ...kept('a', { of: 'reference' }), sha256: 'abc' })
    expect(isRefusal(no) && no.where?.path).toBe('sha256')
    expect(isRefusal(no) && no.found).toContain('64 hex digits')
  })
})

describe('entryId', () => {
  it('follows from what the entry says, not from the order in which it says it', () =>
    expect(entryId(sha256, { a: 1, b: 2 })).toBe(entryId(sha256, { b: 2, a: 1 })))
  it('differs for another entry', () => expect(entryId(sha256, { a: 1 })).not.toBe(entryId(sha256, { a: 2 })))
})
