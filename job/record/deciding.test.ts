import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { append, chainOf, type EntryRow } from './chain.ts'
import type { Code } from './codes.ts'
import type { SeenAs } from './kinds/deciding.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { replay } from './replay.ts'
import { decisionsSection } from './sections/decisions.ts'
import { placesSection } from './sections/places.ts'
import {
  examined,
  head,
  indication,
  inventedReport,
  kept,
  opened,
  plain,
  rechecked,
  sha256,
  standardized
} from './testing/index.ts'
import { type Invented, invent, personStored, signedBy, witnessOf } from './testing/people.ts'

/** Oracles: the rules of the trade as they are written (levels, second look, downgrade, ream), and Node's own Ed25519. */

const two = invent('B. Two')
const three = invent('C. Three', 'III')
const other = invent('D. Other')
const one = invent('A. One', 'I')
const people = [one, two, three, other]

/** A record as a test grows it; what is refused leaves it as it was. */
class Book {
  rows: readonly EntryRow[] = []
  readonly texts = new Map<string, string>()
  constructor(entries: readonly Entry[]) {
    const no = this.add(...entries)
    if (no !== undefined) throw new Error(no)
  }
  add(...entries: readonly Entry[]): Code | string | undefined {
    const { document, holds } = witnessOf(people)
    const witness = { document: (hash: string) => this.texts.get(hash) ?? document(hash), holds }
    const done = append(chainOf('J', this.rows, witness), { expectedSeq: this.rows.length, entries }, sha256)
    if (isRefusal(done)) return done.code
    this.rows = [...this.rows, ...done.fresh]
    return undefined
  }
  sign(by: Invented, draft: Record<string, unknown>): Code | string | undefined {
    return this.add(this.signed(by, draft))
  }
  signed(by: Invented, draft: Record<string, unknown>): Entry {
    const seen = { job: 'J', head: this.rows.at(-1)!.hash }
    return signedBy(by, { version: 1, ...head(), ...draft } as never, seen)
  }
  place(name: string) {
    return replay(this.rows).places.find(({ place }) => place.name === name)!
  }
}

const rules = (over: Partial<EntryOf<'job-opened'>> = {}): EntryOf<'job-opened'> => ({
  ...opened('J', ['1', '2']),
  signing: 'required',
  ...over
})

const crack = indication({ id: '1/1', angle_rad: 1, z_m: 4e-3 })
const doubtful = indication({ id: '1/2', class: 'undecided', crossedAlarm: false, angle_rad: 4, z_m: 2e-3 })

/** One hole with what was found in it, one without anything, under a set-up that held. */
const scanned = (found: readonly ReturnType<typeof indication>[], over: Partial<EntryOf<'job-opened'>> = {}) =>
  new Book([
    rules(over),
    ...people.map(personStored),
    kept('ref', { of: 'reference' }),
    standardized('ref'),
    kept('scan 1', { of: 'hole', name: '1' }),
    examined('scan 1', '1', 'ref', { indications: [...found] }),
    kept('scan 2', { of: 'hole', name: '2' }),
    examined('scan 2', '2', 'ref'),
    kept('check', { of: 'recheck' }),
    rechecked('check', 'ref', true)
  ])

const subject = { of: 'hole', name: '1' }
const seen = (id: string, scan = 'scan 1'): SeenAs => ({ examination: sha256(`examination of ${scan}`), id })
const dispose = (disposition: string, ids: readonly string[], rest = {}) => ({
  ...{ kind: 'disposed', subject, disposition, seen: ids.map((id) => seen(id)) },
  ...rest
})
const interpret = (of: string, id: string, rest = {}) => ({
  ...{ kind: 'interpreted', subject, seen: [seen(id)], class: of },
  ...rest
})
const close = (name = '1') => ({ kind: 'place-closed', subject: { of: 'hole', name } })

describe('a place with an indication', () => {
  it('waits for a person, and is closed after their class, their disposition and the reason for both', () => {
    const book = scanned([crack, doubtful])
    expect(book.place('1').state).toBe('relevant, not decided')
    expect(book.sign(two, close())).toBe('record/place-open')
    expect(book.sign(two, dispose('no recordable indication', ['1/1', '1/2']))).toBe('record/undecided')
    expect(book.sign(two, interpret('nonrelevant', '1/2'))).toBe('record/no-reason')
    expect(book.sign(two, interpret('nonrelevant', '1/2', { reason: 'a burr, gone after deburring' }))).toBeUndefined()
    expect(book.sign(two, dispose('no recordable indication', ['1/1']))).toBe('record/no-reason')
    expect(book.sign(two, dispose('no recordable indication', []))).toBe('record/nothing-to-decide')
    const reason = 'below the recording level of the procedure, table 2'
    expect(book.sign(two, dispose('no recordable indication', ['1/1'], { reason }))).toBeUndefined()
    expect(book.place('1').state).toBe('no recordable indication, decided')
    expect(book.sign(two, close())).toBeUndefined()
    expect(book.place('1').closed?.by.name).toBe('B. Two')
  })

  it('above the alarm level is not called nonrelevant without a reason, whatever it was proposed as', () => {
    const loud = indication({ id: '1/1', class: 'nonrelevant', crossedAlarm: true })
    expect(scanned([loud]).sign(two, interpret('nonrelevant', '1/1'))).toBe('record/no-reason')
  })

  it('is open again when a later scan sees it again', () => {
    const book = scanned([doubtful])
    expect(book.sign(two, interpret('nonrelevant', '1/2', { reason: 'a scratch' }))).toBeUndefined()
    expect(book.place('1').state).toBe('examined, no relevant indication')
    expect(book.sign(two, close())).toBeUndefined()
    book.add(
      kept('scan 3', { of: 'hole', name: '1' }),
      examined('scan 3', '1', 'ref', { indications: [{ ...doubtful, id: '1/1' }] })
    )
    expect(book.place('1')).toMatchObject({ state: 'undecided' })
    expect(book.place('1').closed).toBeUndefined()
  })

  it('is rejected or referred as it stands, undecided or not', () => {
    for (const disposition of ['reject', 'refer']) {
      const book = scanned([crack, doubtful])
      expect(book.sign(two, dispose(disposition, ['1/1', '1/2']))).toBeUndefined()
      expect(book.place('1').state).toBe(disposition)
      expect(book.sign(two, close())).toBeUndefined()
    }
  })

  it('keeps its disposition out of force once it is scanned again', () => {
    const book = scanned([crack])
    book.sign(two, dispose('reject', ['1/1']))
    book.add(kept('scan 3', { of: 'hole', name: '1' }), examined('scan 3', '1', 'ref'))
    expect(book.place('1').disposition).toBeUndefined()
    expect(book.place('1').state).toBe('relevant, not decided')
  })
})

describe('who may', () => {
  it.each([
    ['Level I interprets', one, interpret('relevant', '1/2'), 'record/no-right'],
    ['Level I closes', one, close('2'), 'record/no-right'],
    ['Level II approves a technique', two, approval(two), 'record/no-right'],
    ['Level III approves it in the name of another', three, approval(other), 'record/no-right'],
    ['Level II attaches a capability', two, capability(), 'record/no-right']
  ])('%s: refused', (_, by, draft, code) => {
    const book = scanned([doubtful])
    const { count } = replay(book.rows)
    expect(book.sign(by, draft)).toBe(code)
    expect(replay(book.rows).count).toBe(count)
  })

  it('only the Level III whom a technique names approves it', () => {
    const text = '{"approver":"C. Three"}'
    const book = scanned([])
    const fourth = invent('E. Four', 'III')
    people.push(fourth)
    book.texts.set(sha256(text), text)
    book.add(personStored(fourth), { ...personStored(three), ...head(), what: 'technique', document: sha256(text) })
    const named = (by: Invented) => ({ ...approval(by), technique: sha256(text) })
    expect(book.sign(fourth, named(fourth))).toBe('record/other-approver')
    expect(book.sign(three, named(three))).toBeUndefined()
  })

  it('a Level III approves, and attaches what was demonstrated, printed while its conditions hold', () => {
    const book = scanned([])
    book.add({ ...personStored(three), ...head(), what: 'technique', document: sha256('technique') })
    expect(book.sign(three, approval(three))).toBeUndefined()
    expect(book.sign(three, capability())).toBeUndefined()
    expect(replay(book.rows).capability?.words).toBe('0.8 mm, invented')
    book.add({ ...personStored(three), ...head(), what: 'technique', document: sha256('another technique') })
    expect(replay(book.rows).capability).toBeUndefined()
    expect(replay(book.rows).confirmed).toBeUndefined()
  })

  it.each([
    [
      'certificate',
      { certificate: { number: 'C', issued: '2025-01-01', expires: '2026-03-13' } },
      'record/person-expired'
    ],
    ['near vision', { near_vision: { examined: '2025-03-01', expires: '2026-03-13' } }, 'record/person-expired'],
    [
      'certificate of tomorrow',
      { certificate: { number: 'C', issued: '2026-03-15', expires: '2030-01-01' } },
      'record/person-expired'
    ],
    [
      'certificate on its last day',
      { certificate: { number: 'C', issued: '2025-01-01', expires: '2026-03-14' } },
      undefined
    ]
  ])('%s on the day of the decision', (_, over, code) => {
    const late = invent('L. Late', 'II', over)
    people.push(late)
    const book = scanned([])
    book.add(personStored(late))
    expect(book.sign(late, close('2'))).toBe(code)
  })

  it('nobody closes, approves or corrects without a signature where the job was opened with registers', () => {
    const book = scanned([])
    const by = { kind: 'person', name: 'B. Two' } as const
    const closing = { version: 1, ...head(), by, ...close('2'), signed: false } as Entry
    expect(book.add(closing)).toBe('record/not-signed')
    const old = scanned([], { signing: undefined as never })
    expect(old.rows.length).toBeGreaterThan(0)
  })
})

function approval({ row }: Invented) {
  const { name, level } = row
  return { kind: 'technique-confirmed', technique: sha256('technique'), name, level, on: '2026-03-14' }
}

function capability() {
  const conditions = { technique: sha256('technique'), method: 1 }
  return { kind: 'capability-attached', words: '0.8 mm, invented', source: 'report 1, invented', conditions }
}

describe('a correction', () => {
  const becomes = (entry: Entry, over: object): Record<string, unknown> => ({ ...entry, ...over })
  const correct = (corrects: string, to: unknown) => ({ kind: 'corrected', corrects, reason: 'a word', becomes: to })

  it('puts no other words under the signature of somebody else; it is withdrawn and signed anew', () => {
    const book = scanned([])
    expect(book.sign(three, approval(three))).toBeUndefined()
    const signed = JSON.parse(book.rows.at(-1)!.body) as EntryOf<'technique-confirmed'>
    const other = becomes(signed, { technique: sha256('another technique') })
    expect(book.sign(two, correct(signed.id, other))).toBe('record/nothing-to-correct')
    expect(book.sign(two, correct(signed.id, 'withdrawn'))).toBeUndefined()
    expect(replay(book.rows).confirmed).toBeUndefined()
  })

  it('does not take signing out of a job', () => {
    const book = scanned([])
    const { signing: _, ...unsigned } = JSON.parse(book.rows[0]!.body)
    expect(book.sign(two, correct(unsigned.id, unsigned))).toBe('record/nothing-to-correct')
    expect(
      book.sign(two, correct(unsigned.id, { ...unsigned, signing: 'required', examinedBy: 'B. Two' }))
    ).toBeUndefined()
  })
})

describe('a clock that was set back', () => {
  const early = { time: '2026-03-13T09:00:00Z', known: 'clock of this computer' } as const

  it('writes nothing more until a person has said that it was wrong', () => {
    const book = scanned([])
    const scan = { ...kept('scan 4', { of: 'hole', name: '2' }), at: early }
    expect(book.add(scan)).toBe('record/clock-set-back')
    expect(book.sign(two, { ...close('2'), at: early })).toBe('record/clock-set-back')
    expect(book.sign(two, { kind: 'clock-corrected', reason: 'a day ahead', at: early })).toBeUndefined()
    expect(book.add(scan)).toBeUndefined()
  })
})

describe('a signature', () => {
  it('fits one entry, one job, one state of the record, one person', () => {
    const book = scanned([])
    const notAPerson = sha256('reference standard')
    const stored = { ...personStored(two), ...head(), document: notAPerson, what: 'reference standard' as const }
    expect(book.add(stored)).toBeUndefined()
    const sound = book.signed(two, close('2')) as EntryOf<'place-closed'>
    const wrong: readonly Entry[] = [
      { ...sound, subject: { of: 'hole', name: '1' } },
      { ...sound, by: { kind: 'person', name: 'D. Other' } },
      { ...sound, signed: { ...(sound.signed as object), person: three.document } as never },
      { ...sound, signed: { ...(sound.signed as object), person: sha256('nobody') } as never },
      { ...sound, signed: { ...(sound.signed as object), person: notAPerson } as never },
      signedBy(two, { version: 1, ...head(), ...close('2') } as never, { job: 'K', head: book.rows.at(-1)!.hash }),
      signedBy(two, { version: 1, ...head(), ...close('2') } as never, { job: 'J', head: book.rows[3]!.hash })
    ]
    for (const entry of wrong) expect(book.add(entry)).toBe('record/bad-signature')
    expect(book.add(sound)).toBeUndefined()
  })

  it('is nothing where nobody can look at it', () => {
    const book = scanned([])
    const entry = book.signed(two, close('2'))
    const done = append(chainOf('J', book.rows), { expectedSeq: book.rows.length, entries: [entry] }, sha256)
    expect(isRefusal(done) && done.code).toBe('record/bad-signature')
  })
})

describe('a second look', () => {
  it('is by another person, and what it disagrees with is out of force', () => {
    const book = scanned([crack], { secondLook: 'what was found' })
    book.sign(two, dispose('reject', ['1/1']))
    const of = book.place('1').disposition!.id
    const look = { kind: 'second-look', subject, of, agrees: true }
    expect(book.sign(two, close())).toBe('record/place-open')
    expect(book.sign(two, look)).toBe('record/same-person')
    expect(book.sign(other, { ...look, of: 'nothing' })).toBe('record/nothing-to-decide')
    expect(book.sign(other, { ...look, agrees: false })).toBe('record/no-reason')
    expect(book.sign(other, look)).toBeUndefined()
    expect(book.sign(two, close())).toBeUndefined()
    expect(book.sign(three, { ...look, agrees: false, reason: 'it is the notch' })).toBeUndefined()
    expect(book.place('1')).toMatchObject({ state: 'relevant, not decided' })
    expect(book.place('1').closed).toBeUndefined()
  })

  it('is asked for every place where the technique says so', () => {
    const book = scanned([], { secondLook: 'every place' })
    expect(book.sign(two, close('2'))).toBe('record/place-open')
    const clear = {
      kind: 'disposed',
      subject: { of: 'hole', name: '2' },
      disposition: 'no recordable indication',
      seen: []
    }
    expect(book.sign(two, clear)).toBeUndefined()
    const look = { kind: 'second-look', subject: clear.subject, of: book.place('2').disposition!.id, agrees: true }
    expect(book.sign(other, look)).toBeUndefined()
    expect(book.sign(two, close('2'))).toBeUndefined()
  })
})

describe('a reamed hole', () => {
  it('counts nothing of what was scanned before the cut, and is not closed by a later scan alone', () => {
    const book = scanned([crack])
    const cut = { kind: 'reamed', subject, aimed_mm: 6.75 }
    expect(book.sign(two, cut)).toBe('record/no-ream-chosen')
    expect(book.sign(two, dispose('clean-up ream', ['1/1']))).toBeUndefined()
    expect(book.place('1').state).toBe('ream and re-inspect')
    expect(book.sign(two, close())).toBe('record/place-open')
    expect(book.sign(one, cut)).toBeUndefined()
    expect(book.place('1')).toMatchObject({ state: 'ream and re-inspect', joined: [], examinations: [] })
    expect(book.place('1').beforeCut).toHaveLength(1)
    expect(book.sign(two, close())).toBe('record/place-open')
    book.add(
      ...[kept('ref 2', { of: 'reference' }), standardized('ref 2')],
      ...[kept('scan 3', { of: 'hole', name: '1' }), examined('scan 3', '1', 'ref 2')],
      ...[kept('check 2', { of: 'recheck' }), rechecked('check 2', 'ref 2', true)]
    )
    expect(book.place('1').state).toBe('examined, no relevant indication')
    // the whole loop: see the tests of reaming
    expect(book.sign(two, close())).toBe('record/place-open')
  })
})

describe('a job', () => {
  it('is closed when every place is closed or left out, and then takes no scan until it is opened again', () => {
    const book = scanned([])
    const end = { kind: 'job-closed' }
    expect(book.sign(two, end)).toBe('record/job-open')
    expect(book.sign(two, close('2'))).toBeUndefined()
    expect(book.sign(two, { kind: 'left-out', subject, reason: 'no access' })).toBeUndefined()
    expect(book.sign(two, { kind: 'left-out', subject: { of: 'hole', name: '9' }, reason: 'x' })).toBe(
      'record/nothing-to-decide'
    )
    expect(book.sign(two, end)).toBeUndefined()
    expect(book.sign(two, end)).toBe('record/job-closed')
    expect(book.add(kept('late', { of: 'hole', name: '1' }))).toBe('record/job-closed')
    const report = { kind: 'delivered', to: 'the owner', report: sha256('report') }
    expect(book.sign(two, report)).toBeUndefined()
    expect(book.sign(two, { kind: 'job-reopened', reason: 'hole 1 can be reached now' })).toBeUndefined()
    expect(book.sign(two, { kind: 'job-reopened', reason: 'again' })).toBe('record/nothing-to-decide')
    expect(book.add(kept('late', { of: 'hole', name: '1' }))).toBeUndefined()
    expect(book.place('1').leftOut?.reason).toBe('no access')
    book.add(examined('late', '1', 'ref'))
    expect(book.place('1').leftOut).toBeUndefined()
    expect(replay(book.rows)).toMatchObject({ deliveries: [{ to: 'the owner' }] })
  })

  it('is handed to the one it is for', () => {
    const book = scanned([])
    expect(book.sign(one, { kind: 'handed-over', to: 'D. Other', note: 'hole 1 is to be cleaned' })).toBeUndefined()
    const of = replay(book.rows).handovers[0]!.handed.id
    expect(book.sign(two, { kind: 'taken-over', of })).toBe('record/nothing-to-decide')
    expect(book.sign(other, { kind: 'taken-over', of })).toBeUndefined()
    expect(book.sign(other, { kind: 'taken-over', of })).toBe('record/nothing-to-decide')
  })
})

describe('a statement that is taken back', () => {
  const reason = 'taken back'
  const last = (book: Book, kind: string) => book.rows.findLast((row) => row.kind === kind)!.id
  const withdraw = (corrects: string) => ({ kind: 'corrected', corrects, reason, becomes: 'withdrawn' })

  it('stays in the record, and what stood before it holds again', () => {
    const book = scanned([crack])
    expect(book.sign(two, dispose('refer', ['1/1']))).toBeUndefined()
    expect(book.sign(two, dispose('reject', ['1/1']))).toBeUndefined()
    expect(book.sign(two, withdraw(last(book, 'disposed')))).toBeUndefined()
    expect(book.place('1').state).toBe('refer')
    expect(book.sign(two, withdraw(last(book, 'disposed')))).toBe('record/nothing-to-correct')
    expect(book.rows.filter(({ kind }) => kind === 'disposed')).toHaveLength(2)
    expect(replay(book.rows).changes).toMatchObject([{ kind: 'disposed', differences: [] }])
  })

  it('is their own, signed, and nothing rests on it', () => {
    const book = scanned([doubtful])
    expect(book.sign(two, interpret('nonrelevant', '1/2', { reason }))).toBeUndefined()
    const said = last(book, 'interpreted')
    expect(book.sign(other, withdraw(said))).toBe('record/other-person')
    const by = { kind: 'person', name: 'B. Two' } as const
    expect(book.add({ version: 1, ...head(), ...withdraw(said), by } as Entry)).toBe('record/not-signed')
    expect(book.sign(two, close())).toBeUndefined()
    expect(book.sign(two, withdraw(said))).toBe('record/rests-on-it')
    expect(book.sign(two, withdraw(last(book, 'place-closed')))).toBeUndefined()
    expect(book.place('1').closed).toBeUndefined()
    expect(book.sign(two, withdraw(said))).toBeUndefined()
    expect(book.place('1').state).toBe('undecided')
  })

  it('is no cut, no closed job and nothing that was measured', () => {
    const book = scanned([])
    expect(book.sign(two, withdraw(last(book, 'examined')))).toBe('record/nothing-to-correct')
    expect(book.sign(two, close())).toBeUndefined()
    expect(book.sign(two, close('2'))).toBeUndefined()
    expect(book.sign(two, { kind: 'job-closed' })).toBeUndefined()
    expect(book.sign(two, withdraw(last(book, 'place-closed')))).toBe('record/job-closed')
  })
})

describe('a note', () => {
  it('is read beside its place, decides nothing, and may come from anybody who is certified', () => {
    const book = scanned([crack])
    const before = book.place('1').state
    const note = (text: string, name = '1') => ({ kind: 'noted', subject: { of: 'hole', name }, text })
    expect(book.sign(one, note('the sleeve was loose'))).toBeUndefined()
    expect(book.sign(two, note('nowhere', '9'))).toBe('record/nothing-to-decide')
    expect(book.sign(two, note(''))).toBe('record/bad-entry')
    expect(book.place('1')).toMatchObject({ state: before, notes: [{ text: 'the sleeve was loose' }] })
    const written = plain(placesSection.blocks({ ...inventedReport(), state: replay(book.rows) }))
    expect(written).toMatch(/the sleeve was loose.*A\. One/)
  })
})

describe('a class that was stated before the proposal was shown', () => {
  it('says so in the entry and in the report', () => {
    const book = scanned([crack])
    expect(book.sign(two, interpret('relevant', '1/1', { before_proposal: true }))).toBeUndefined()
    expect(book.sign(two, interpret('relevant', '1/1', { before_proposal: false }))).toBe('record/bad-entry')
    expect(book.place('1').joined[0]?.decided).toMatchObject({ class: 'relevant', before_proposal: true })
    const written = plain(decisionsSection.blocks({ ...inventedReport(), state: replay(book.rows) }))
    expect(written).toContain('1/1: relevant, stated before the proposal was shown')
  })
})
