/** Oracles: the rules as they are written for a shop, on records spoiled by hand; Node's Ed25519 for signatures. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { dueOn, heldOn, historyOf, type PersonRow, type RegisterRow, shopChain } from '../../plan/index.ts'
import { gaugeRow, instrumentRow, probeRow, procedureRow, standardRow } from '../../plan/testing/rows.ts'
import { canonical } from '../canonical.ts'
import { append, chainOf, type EntryRow } from '../chain.ts'
import {
  documentOf,
  type Invented,
  invent,
  opened,
  type ShopDraft,
  sha256,
  shopEntry,
  shopWitness
} from '../testing/index.ts'
import { acceptedIn, appendShop, registersOf, type ShopEntry, shopChainOf, verifyShop } from './index.ts'

const level3 = invent('C. Level', 'III')
const other3 = invent('D. Level', 'III')
const level2 = invent('B. Sample', 'II')
const level1 = invent('A. Sample', 'I')
const people = [level3, other3, level2, level1]
const things = [instrumentRow(), probeRow(), standardRow(), gaugeRow(), procedureRow()]
const known = shopWitness(people, things)

const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

const opening = ({ row, document }: Invented): ShopDraft => ({ kind: 'shop-opened', name: row.name, document })
const person = ({ row, document }: Invented): ShopDraft => ({
  ...{ kind: 'registered', what: 'person', name: row.name, document }
})
const row = (one: RegisterRow, name: string): ShopDraft => ({
  ...{ kind: 'registered', what: one.register, name, document: documentOf(one) }
})

const adding = (rows: readonly EntryRow[], entries: readonly ShopEntry[], witness = known) =>
  appendShop(shopChainOf(rows, witness), { expectedSeq: rows.length, entries }, sha256)

/** The rows after drafts by one person, appended together. */
function after(rows: readonly EntryRow[], by: Invented, drafts: readonly ShopDraft[], witness = known) {
  const done = adding(
    rows,
    drafts.map((draft) => shopEntry(by, draft, rows)),
    witness
  )
  if (isRefusal(done)) throw new Error(`${done.code}: ${done.found}`)
  return [...rows, ...done.fresh]
}

const begun = after([], level3, [opening(level3), ...[other3, level2, level1].map(person)])
const registers = (rows: readonly EntryRow[], witness = known) => registersOf(rows, witness.document)
const state = (rows: readonly EntryRow[], what: RegisterRow['register'], name: string, day = '2026-03-14') =>
  heldOn(registers(rows), { what, name }, day).state

describe('the record of a shop', () => {
  it('begins with a person of Level III who registers themself, and says so', () => {
    expect(begun.map(({ kind }) => kind)).toEqual(['shop-opened', 'registered', 'registered', 'registered'])
    expect(registers(begun).registered.map(({ row: one }) => (one as PersonRow).name)).toEqual([
      ...['C. Level', 'D. Level', 'B. Sample', 'A. Sample']
    ])
    expect(verifyShop({ rows: begun, hash: sha256, witness: known })).toEqual([])
  })

  it('takes things by Level II, and holds them', () => {
    const rows = after(begun, level2, [row(instrumentRow(), 'I-1'), row(probeRow(), 'P-1'), row(gaugeRow(), 'G-1')])
    const all = after(rows, level3, [row(standardRow(), 'R'), row(procedureRow(), 'P')])
    expect(state(all, 'instrument', 'I-1')).toBe('in force')
    expect(state(all, 'reference standard', 'R', '2027-01-09')).toBe('falls due')
    expect(state(all, 'procedure', 'P', '2025-12-31')).toBe('not yet in force')
    expect(state(all, 'gauge', 'G-2')).toBe('not registered')
    expect(verifyShop({ rows: all, hash: sha256, witness: known })).toEqual([])
  })

  it('gives back what is there already, and takes nothing made on an older state', () => {
    const draft = row(probeRow(), 'P-1')
    const entry = shopEntry(level2, draft, begun)
    const first = adding(begun, [entry])
    if (isRefusal(first)) throw new Error(first.code)
    const rows = [...begun, ...first.fresh]
    const again = appendShop(shopChainOf(rows, known), { expectedSeq: begun.length, entries: [entry] }, sha256)
    expect(again).toEqual({ rows: first.fresh, fresh: [] })
    const late = shopEntry(level2, row(gaugeRow(), 'G-1'), begun)
    expect(codeOf(adding(rows, [late]))).toBe('record/bad-signature')
    const ahead = shopEntry(level2, row(gaugeRow(), 'G-1'), rows)
    expect(codeOf(appendShop(shopChainOf(rows, known), { expectedSeq: 1, entries: [ahead] }, sha256))).toBe(
      'record/sequence-taken'
    )
  })

  it('takes all of an append or nothing', () => {
    const good = shopEntry(level2, row(probeRow(), 'P-1'), begun)
    expect(codeOf(adding(begun, [good, shopEntry(level2, row(standardRow(), 'R'), begun)]))).toBe('record/no-right')
  })
})

describe('a validation and the method that is accepted after it', () => {
  const methods = { 'fastener hole': 7, weld: 3, loop: 2 }
  const outcome = (holds: boolean, over: object = {}) => ({
    ...{ kind: 'validation', program: { name: 'Trueloop', version: '0.1.0' }, machine: { system: 'a system' } },
    ...{ methods, holds, ...over }
  })
  const outcomes = [outcome(true), outcome(false), outcome(true, { machine: { system: 'another' } })]
  const texts = new Map(outcomes.map((one) => [sha256(canonical(one)), canonical(one)]))
  const witness = { ...known, document: (hash: string) => texts.get(hash) ?? known.document(hash) }
  const draft = (at: number): ShopDraft => {
    const { program, machine, holds } = outcomes[at]!
    const document = sha256(canonical(outcomes[at]))
    return { kind: 'installation-validated', document, program, platform: machine.system, methods, passed: holds }
  }
  const accepting = (rows: readonly EntryRow[], over: object = {}): ShopDraft => ({
    ...{ kind: 'method-accepted', application: 'fastener hole', method: 7, validation: rows.at(-1)!.id },
    ...over
  })
  const by = (who: Invented, one: ShopDraft, rows: readonly EntryRow[]) =>
    codeOf(adding(rows, [shopEntry(who, one, rows)], witness))
  const valid = after(begun, level2, [draft(0)], witness)

  it('stand in the record, signed, and are verified', () => {
    const rows = after(valid, level3, [accepting(valid)], witness)
    expect(acceptedIn(rows)).toEqual([{ application: 'fastener hole', method: 7, by: 'C. Level' }])
    expect(acceptedIn(valid)).toEqual([])
    expect(verifyShop({ rows, hash: sha256, witness })).toEqual([])
    const [fault] = verifyShop({ rows, hash: sha256, witness: known })
    expect(fault?.place).toContain('document')
    expect(registers(rows, witness).registered).toEqual(registers(begun).registered)
  })

  it.each<[string, () => string, string]>([
    ['acceptance by Level II', () => by(level2, accepting(valid), valid), 'record/no-right'],
    ['a validation by Level I', () => by(level1, draft(0), begun), 'record/no-right'],
    ['no validation', () => by(level3, accepting(begun), begun), 'shop/not-validated'],
    ['another method', () => by(level3, accepting(valid, { method: 8 }), valid), 'shop/not-validated'],
    [
      'an application whose number differs',
      () => by(level3, accepting(valid, { application: 'weld' }), valid),
      'shop/not-validated'
    ],
    [
      'one that failed',
      () => {
        const rows = after(begun, level2, [draft(1)], witness)
        return by(level3, accepting(rows), rows)
      },
      'shop/not-validated'
    ],
    [
      'one after which the same machine failed',
      () => {
        const rows = after(valid, level2, [draft(1)], witness)
        return by(level3, accepting(valid), rows)
      },
      'shop/not-validated'
    ],
    [
      'a failure that is said to have held',
      () => by(level2, { ...draft(1), passed: true } as ShopDraft, begun),
      'shop/bad-document'
    ],
    [
      'a document that is none',
      () => by(level2, { ...draft(0), document: level2.document } as ShopDraft, begun),
      'shop/bad-document'
    ]
  ])('refused: %s', (_, made, code) => expect(made()).toBe(code))

  it('another machine that held does not speak against it', () => {
    const rows = after(after(valid, level2, [draft(1)], witness), level2, [draft(2)], witness)
    expect(by(level3, accepting(rows), rows)).toBe('no refusal')
  })
})

describe('is refused', () => {
  const by = (who: Invented, draft: ShopDraft, time?: string, rows = begun) =>
    adding(rows, [shopEntry(who, draft, rows, time)])
  const stranger = invent('E. Stranger', 'III')
  const withStranger = shopWitness([...people, stranger], things)
  const strangers = (draft: ShopDraft) => adding(begun, [shopEntry(stranger, draft, begun)], withStranger)
  const spoiled = (change: (entry: ShopEntry) => ShopEntry, who = level3) =>
    adding(begun, [change(shopEntry(who, row(probeRow(), 'P-1'), begun))])
  const wrong = probeRow({ serial: 'P-9', expires: '2026-02-31' })
  const old = level2.document
  const newKey = { ...level2.row, key: stranger.row.key }
  const renewed = { ...level2.row, certificate: { ...level2.row.certificate, number: 'new' }, key: stranger.row.key }
  const replacing = (document: RegisterRow, over: object = {}): ShopDraft => ({
    ...{ kind: 'key-replaced', name: 'B. Sample', old, document: documentOf(document), reason: 'lost' },
    ...over
  })
  const withRows = (draft: ShopDraft, rows: readonly RegisterRow[], who = level3) =>
    adding(begun, [shopEntry(who, draft, begun)], shopWitness([...people, stranger], [...things, ...rows]))

  it.each<[string, () => unknown, string]>([
    ['a record that begins otherwise', () => by(level3, person(level3), undefined, []), 'shop/not-opened'],
    ['a second opening', () => by(level3, opening(level3)), 'shop/opened-twice'],
    ['an opening by Level II', () => by(level2, opening(level2), undefined, []), 'record/no-right'],
    [
      'an opening by the row of another',
      () => by(level3, { ...opening(level3), document: other3.document } as ShopDraft, undefined, []),
      'shop/unknown-signer'
    ],
    ['a stranger', () => strangers(row(probeRow(), 'P-1')), 'shop/unknown-signer'],
    [
      'a document that nobody has',
      () => adding(begun, [shopEntry(stranger, person(level3), begun)]),
      'record/bad-signature'
    ],
    ['an entry changed after it was signed', () => spoiled((one) => ({ ...one, name: 'P-2' })), 'record/bad-signature'],
    [
      'an entry in the name of another',
      () => {
        const entry = shopEntry({ ...level3, row: { ...level3.row, name: 'B. Sample' } }, row(probeRow(), 'P-1'), begun)
        return adding(begun, [entry])
      },
      'record/bad-signature'
    ],
    ['people by Level II', () => by(level2, person(level1)), 'record/no-right'],
    ['procedures by Level II', () => by(level2, row(procedureRow(), 'P')), 'record/no-right'],
    ['reference standards by Level II', () => by(level2, row(standardRow(), 'R')), 'record/no-right'],
    ['probes by Level I', () => by(level1, row(probeRow(), 'P-1')), 'record/no-right'],
    [
      'a signer whose near vision lapsed',
      () => by(level2, row(probeRow(), 'P-1'), '2027-01-01T08:00:00Z'),
      'record/person-expired'
    ],
    [
      'an entry earlier than the last one',
      () => by(level2, row(probeRow(), 'P-1'), '2026-03-13T08:00:00Z'),
      'record/clock-set-back'
    ],
    ['a row under another name', () => by(level2, row(probeRow(), 'P-2')), 'shop/bad-document'],
    [
      'a row of another register',
      () => by(level2, { ...row(probeRow(), 'P-1'), what: 'gauge' } as ShopDraft),
      'shop/bad-document'
    ],
    ['a row that is not there', () => withRows(row(gaugeRow({ serial: 'X' }), 'X'), []), 'shop/bad-document'],
    ['a row with a day of no calendar', () => withRows(row(wrong, 'P-9'), [wrong]), 'shop/bad-document'],
    ['a new key by registering again', () => withRows(row(renewed, 'B. Sample'), [renewed]), 'shop/key-differs'],
    [
      'the key of another',
      () => {
        const twin = { ...level2.row, name: 'Twin' }
        return withRows(row(twin, 'Twin'), [twin])
      },
      'shop/key-differs'
    ],
    ['a new key by oneself', () => withRows(replacing(newKey), [newKey], level2), 'shop/same-person'],
    [
      'a new key by Level II',
      () => withRows(replacing(newKey, { name: 'C. Level' }), [newKey], level2),
      'record/no-right'
    ],
    ['a new key and more', () => withRows(replacing(renewed), [renewed]), 'shop/bad-document'],
    [
      'a new key for another row',
      () => withRows(replacing(newKey, { old: level1.document }), [newKey]),
      'shop/bad-document'
    ],
    ['the old key as a new one', () => withRows(replacing(level2.row), []), 'shop/key-differs'],
    [
      'a new key of nobody',
      () => withRows(replacing(stranger.row, { name: 'E. Stranger' }), []),
      'shop/not-registered'
    ],
    [
      'striking off what is not there',
      () => by(level2, { kind: 'struck-off', what: 'probe', name: 'P-1', from: '2026-03-14', reason: 'worn' }),
      'shop/not-registered'
    ],
    ['an unknown kind', () => spoiled((one) => ({ ...one, kind: 'gizmo' }) as never), 'record/unknown-kind'],
    ['an unknown key', () => spoiled((one) => ({ ...one, more: 1 }) as never), 'record/bad-entry']
  ])('%s', (_, run, code) => expect(codeOf(run())).toBe(code))

  it('a job that bears the name of the record', () =>
    expect(
      codeOf(append(chainOf(shopChain, []), { expectedSeq: 0, entries: [opened(shopChain, ['1'])] }, sha256))
    ).toBe('record/reserved-name'))

  it('striking off the last Level III', () => {
    const alone = after([], level3, [opening(level3), person(level2)])
    const strike: ShopDraft = {
      kind: 'struck-off',
      what: 'person',
      name: 'C. Level',
      from: '2026-03-14',
      reason: 'left'
    }
    expect(codeOf(adding(alone, [shopEntry(level3, strike, alone)]))).toBe('shop/last-level-three')
    expect(codeOf(by(other3, strike))).toBe('no refusal')
  })
})

describe('a person', () => {
  const lapsed = '2027-06-01T08:00:00Z'
  const renewed: PersonRow = { ...level3.row, near_vision: { examined: '2027-05-01', expires: '2028-04-30' } }
  const witness = shopWitness(people, [renewed, ...things])

  it('of Level III renews their own row after it lapsed, judged by the new one, and nothing else', () => {
    const entries = (draft: ShopDraft) => [shopEntry(level3, draft, begun, lapsed)]
    expect(codeOf(adding(begun, entries(row(probeRow(), 'P-1')), witness))).toBe('record/person-expired')
    expect(codeOf(adding(begun, entries(row(renewed, 'C. Level')), witness))).toBe('no refusal')
    const still = { ...renewed, near_vision: { examined: '2026-05-01', expires: '2027-04-30' } }
    const old = shopWitness(people, [still])
    expect(codeOf(adding(begun, entries(row(still, 'C. Level')), old))).toBe('record/person-expired')
  })

  it('who is struck off signs no more, and stays as they were before that day', () => {
    const strike: ShopDraft = {
      kind: 'struck-off',
      what: 'person',
      name: 'B. Sample',
      from: '2026-03-14',
      reason: 'left'
    }
    const rows = after(begun, level3, [strike])
    expect(codeOf(adding(rows, [shopEntry(level2, row(probeRow(), 'P-1'), rows)]))).toBe('shop/unknown-signer')
    expect(state(rows, 'person', 'B. Sample', '2026-03-13')).toBe('in force')
    expect(state(rows, 'person', 'B. Sample', '2026-03-14')).toBe('struck off')
    expect(historyOf(registers(rows), { what: 'person', name: 'B. Sample' })).toHaveLength(1)
    const back = after(rows, level3, [person(level2)])
    expect(state(back, 'person', 'B. Sample', '2026-03-15')).toBe('in force')
  })

  it('whose key is lost gets a new one by a second person; the old one signs no more, in no edition', () => {
    const fresh = invent('B. Sample', 'II')
    const later: PersonRow = {
      ...level2.row,
      certificate: { number: 'next', issued: '2026-09-01', expires: '2030-01-01' }
    }
    const next: Invented = { ...fresh, row: { ...level2.row, key: fresh.row.key } }
    const replaced = { ...next, document: documentOf(next.row) }
    const all = shopWitness([...people, replaced], [later, ...things])
    const before = after(begun, level3, [row(later, 'B. Sample')], all)
    const draft: ShopDraft = {
      ...{ kind: 'key-replaced', name: 'B. Sample', old: level2.document, document: replaced.document },
      reason: 'the computer was stolen'
    }
    const rows = after(before, other3, [draft], all)
    const signing = (who: Invented, day: string) =>
      codeOf(adding(rows, [shopEntry(who, row(probeRow(), 'P-1'), rows, `${day}T08:00:00Z`)], all))
    expect(signing(replaced, '2026-03-15')).toBe('no refusal')
    expect(signing(level2, '2026-03-15')).toBe('shop/unknown-signer')
    expect(signing({ ...level2, row: later, document: documentOf(later) }, '2026-10-01')).toBe('shop/unknown-signer')
    expect(verifyShop({ rows, hash: sha256, witness: all })).toEqual([])
  })
})

describe('which row rules', () => {
  const instrument = (number: string, issued: string, expires: string) =>
    instrumentRow({ certificate: { number, issued, expires } })
  const first = instrument('1', '2025-03-01', '2026-02-28')
  const second = instrument('2', '2026-02-10', '2027-02-09')
  const late = instrument('3', '2027-03-01', '2028-02-28')
  const corrected = instrument('2', '2026-02-10', '2026-08-09')
  const witness = shopWitness(people, [first, second, late, corrected])
  const rows = (...all: readonly RegisterRow[]) =>
    all.reduce((before, one) => after(before, level2, [row(one, 'I-1')], witness), begun)
  const on = (day: string, ...all: readonly RegisterRow[]) => {
    const held = heldOn(registers(rows(...all), witness), { what: 'instrument', name: 'I-1' }, day)
    return [held.state, 'registered' in held ? (held.registered.row as typeof first).certificate.number : '']
  }

  it.each<[string, string, string, string]>([
    ['2025-02-28', 'not yet in force', '1', 'before all'],
    ['2026-02-09', 'falls due', '1', 'the first, until the second begins'],
    ['2026-02-10', 'in force', '2', 'the second, from its first day'],
    ['2027-02-20', 'expired', '2', 'the second, expired, until the third begins'],
    ['2027-03-01', 'in force', '3', 'the third']
  ])('on %s: %s by certificate %s (%s)', (day, standing, number) => {
    expect(on(day, first, second, late)).toEqual([standing, number])
    // in whatever order the rows were registered
    expect(on(day, late, second, first)).toEqual([standing, number])
  })

  it('is the corrected one of the same certificate', () =>
    expect(on('2026-08-10', second, corrected)).toEqual(['expired', '2']))

  it('lists what falls due, but not what another row follows without a gap', () => {
    const due = (day: string, ...all: readonly RegisterRow[]) =>
      dueOn(registers(rows(...all), witness), day)
        .filter(({ what }) => what === 'instrument')
        .map(({ of, standing, until, left_days }) => [of, standing, until, left_days])
    expect(due('2026-02-28', first)).toEqual([['certificate', 'falls due', '2026-02-28', 0]])
    expect(due('2026-03-01', first)).toEqual([['certificate', 'expired', '2026-02-28', -1]])
    const next = instrument('4', '2026-03-01', '2027-02-28')
    const known = shopWitness(people, [first, next])
    const all = [first, next].reduce((before, one) => after(before, level2, [row(one, 'I-1')], known), begun)
    expect(dueOn(registers(all, known), '2026-02-15').filter(({ what }) => what === 'instrument')).toEqual([])
    expect(due('2027-02-09', second, late)).toEqual([['certificate', 'falls due', '2027-02-09', 0]])
  })

  it('lists what expired first', () => {
    const all = dueOn(registers(rows(first), witness), '2026-12-31')
    expect(all.map(({ standing }) => standing)).toEqual(['expired', ...Array(4).fill('falls due')])
  })
})

describe('verifying', () => {
  const faults = (rows: readonly EntryRow[], witness = known) => verifyShop({ rows, hash: sha256, witness })

  it('finds a row changed, a row cut off, a document changed', () => {
    const [first, second, ...rest] = begun as [EntryRow, EntryRow, ...EntryRow[]]
    const changed = { ...second, body: second.body.replace('D. Level', 'X. Level') }
    expect(faults([first, changed, ...rest])[0]?.place).toBe('entry 1')
    const kept = { count: begun.length, head: begun.at(-1)?.hash ?? '' }
    expect(verifyShop({ rows: [first], hash: sha256, witness: known, kept })).toHaveLength(1)
    const texts = (hash: string) => (hash === level1.document ? canonical(level2.row) : known.document(hash))
    expect(faults(begun, { ...known, document: texts }).map(({ place }) => place)).toContain(
      `document ${level1.document}, of entry 3`
    )
  })

  it('finds an entry that the rule would not have let in, though its chain is right', () => {
    const entry = shopEntry(level2, person(level1), begun)
    const forged = {
      ...shopEntry(level2, person(level1), begun),
      signed: { ...entry.signed, over: begun[1]?.hash ?? '' }
    }
    const place = { seq: begun.length, previous: begun.at(-1)?.hash ?? '', body: canonical(forged) }
    const hash = sha256(`{"entry":${place.body},"previous":"${place.previous}","seq":${place.seq}}`)
    const row: EntryRow = { ...place, id: forged.id, kind: forged.kind, version: 1, hash }
    expect(faults([...begun, row])).toMatchObject([{ place: 'entry 4, registered' }])
  })
})
