import { isRefusal } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Happening, type Standing, standingsOf } from '../brackets.ts'
import { canonical } from '../canonical.ts'
import type { Entry } from '../kinds.ts'
import { replay } from '../replay.ts'
import type { EntryRow } from '../row.ts'
import { decisionsSection } from '../sections/decisions.ts'
import {
  examined,
  indication,
  invent,
  inventedReport,
  kept,
  opened,
  personStored,
  rechecked,
  sha256,
  standardized,
  witnessOf
} from '../testing/index.ts'
import { Device } from '../testing/merging.ts'
import { verify } from '../verify.ts'
import { mergeFacts } from './merge.ts'
import { orderOf, pastOf } from './order.ts'

/**
 * Two devices on one job. Oracles: every order in which the work of both can have been done, written out and judged by the
 * rule for one chain; the two ways to merge, which must say the same; Node's own Ed25519 and SHA-256.
 */

const two = invent('B. Two')
const four = invent('D. Four')
const one = invent('A. One', 'I')
const people = [two, four, one]

const padded = (value: number) => String(value).padStart(2, '0')

const clock = (minute: number): Entry['at'] => {
  const [day, rest] = [Math.floor((minute + 600) / 1440), (minute + 600) % 1440]
  const time = `2026-03-${14 + day}T${padded(Math.floor(rest / 60))}:${padded(rest % 60)}:00Z`
  return { time, known: 'clock of this computer' }
}

/** After every merge of these tests. */
const late = 3 * 1440

const names = ['1', '2', '3']

const begun = () =>
  new Device(people).add(
    ...[{ ...opened('J', names), signing: 'required' as const }, ...people.map(personStored)],
    ...[kept('r', { of: 'reference' }), standardized('r')]
  )

const scan = (
  name: string,
  hole: string,
  minute: number,
  found: Parameters<typeof examined>[3] = {}
): readonly Entry[] => [
  { ...kept(name, { of: 'hole', name: hole }), at: clock(minute) },
  { ...examined(name, hole, 'r', found), at: clock(minute) }
]

const check = (name: string, passed: boolean, minute: number): readonly Entry[] => [
  { ...kept(name, { of: 'recheck' }), at: clock(minute) },
  { ...rechecked(name, 'r', passed), at: clock(minute) }
]

const reference = (name: string, minute: number): readonly Entry[] => [
  { ...kept(name, { of: 'reference' }), at: clock(minute) },
  { ...standardized(name), at: clock(minute) }
]

const dispose = (device: Device, hole: string, disposition: string, minute: number, by = two): Entry =>
  device.signed(
    by,
    { kind: 'disposed', subject: { of: 'hole', name: hole }, disposition, seen: [], reason: 'seen' },
    clock(minute)
  )

const placeOf = (rows: readonly EntryRow[], name: string) =>
  replay(rows).places.find(({ place }) => place.name === name)!

const said = (rows: readonly EntryRow[]) =>
  replay(rows).places.map(
    ({
      place,
      state,
      provisional,
      missing,
      openFromVoided,
      contradictions,
      closed,
      disposition,
      joined,
      examinations
    }) => ({
      ...{
        name: place.name,
        state,
        provisional,
        missing,
        open: openFromVoided.length,
        contradictions: [...contradictions].sort()
      },
      ...{
        closed: closed?.id,
        disposition: disposition?.disposition,
        joined: joined.map(({ id, says }) => [id, says]).sort()
      },
      scans: examinations
        .map(({ recording, standing }) => [
          recording,
          standing.standing,
          standing.standing === 'certain' ? '' : 'why' in standing ? standing.why : ''
        ])
        .sort()
    })
  )

const ports = ({ rows, texts, people: known }: Device) => ({
  ...{ rows, hash: sha256, holds: witnessOf(known).holds, original: async (name: string) => name },
  kept: { count: rows.length, head: rows.at(-1)!.hash },
  document: async (hash: string) => texts.get(hash) ?? witnessOf(known).document(hash)
})

/** Examinations are invented here, and have no documents: what verify says of those is left out. */
const faults = async (device: Device, over: Partial<Parameters<typeof verify>[0]> = {}) =>
  (await verify({ ...ports(device), ...over })).intact.faults.filter(({ found }) => found !== 'no document')

describe('a merge', () => {
  const a = begun()
  const b = a.copy()
  a.add(...scan('a1', '1', 0), ...check('ca', true, 5))
  b.add(...scan('b2', '2', 1), ...check('cb', true, 6))
  const before = a.rows
  a.merge(b, two)

  it('keeps both chains, overwrites nothing, and cites both heads', () => {
    expect(a.rows.slice(0, before.length)).toEqual(before)
    const [merged] = replay(a.rows).merges
    expect(merged).toMatchObject({ ours: { head: before.at(-1)!.hash }, theirs: { head: b.rows.at(-1)!.hash } })
    expect(JSON.parse(a.texts.get(merged!.theirs.rows)!)).toEqual(b.rows.slice(merged!.common))
  })

  it('counts what both have examined', () => {
    expect(said(a.rows).map(({ state }) => state)).toEqual([
      ...['examined, no relevant indication', 'examined, no relevant indication', 'not examined']
    ])
  })

  it('is verified: both chains, their signatures, both heads', async () => {
    expect(await faults(a)).toEqual([])
    const text = canonical(b.rows.slice(0, -1).slice(replay(a.rows).merges[0]!.common))
    const changed = (await faults(a, { document: async () => text })).map(({ place }) => place)
    expect(changed.some((place) => place.includes('merge: the other chain'))).toBe(true)
  })

  it('grows from nothing by the same rule, hash by hash', () => {
    const again = new Device(people, [], a.texts)
    const done = again.try(
      a.rows.map(({ body }) => JSON.parse(body) as Entry),
      true
    )
    expect(isRefusal(done)).toBe(false)
    expect(again.rows).toEqual(a.rows)
  })

  it('a third device is merged after it, and one that was merged already brings only what is new', async () => {
    const base = begun()
    const [first, second, third] = [base.copy(), base.copy(), base.copy()]
    first.add(...scan('x1', '1', 0))
    second.add(...scan('x2', '2', 1))
    third.add(...scan('x3', '3', 2))
    third.merge(second, four)
    first.merge(second, two).merge(third, two)
    expect(said(first.rows).map(({ scans }) => scans.length)).toEqual([1, 1, 1])
    expect(await faults(first)).toEqual([])
    second.add(...check('c2', true, 30))
    first.merge(second, two)
    expect(await faults(first)).toEqual([])
    expect(replay(first.rows).recordings.filter(({ file }) => file === 'x2.csv')).toHaveLength(1)
    // the check is of the set-up of all, but the two others did not know of it
    expect(said(first.rows).map(({ provisional }) => provisional)).toEqual([true, false, true])
  })

  it('taken back and forth brings nothing new', () => {
    const base = begun()
    const [first, second] = [base.copy(), base.copy()]
    first.add(...scan('y1', '1', 0))
    second.add(...scan('y2', '2', 1))
    first.merge(second, two)
    second.merge(first, four)
    expect(mergeFacts(first.rows, second.rows)).toBeUndefined()
    expect(said(first.rows)).toEqual(said(second.rows))
  })

  it('opens a job again that one side had closed: the other has gone on', () => {
    const base = begun()
    const [first, second] = [base.copy(), base.copy()]
    for (const name of names) {
      first.add(first.signed(two, { kind: 'left-out', subject: { of: 'hole', name }, reason: 'no access' }))
    }
    first.add(first.signed(two, { kind: 'job-closed' }))
    second.add(...scan('z1', '1', 1))
    first.merge(second, two)
    const { closed, places } = replay(first.rows)
    expect(closed).toBeUndefined()
    expect(places.map(({ leftOut }) => leftOut !== undefined)).toEqual([false, true, true])
    expect(isRefusal(first.try([{ ...kept('late', { of: 'recheck' }), at: clock(late) }]))).toBe(false)
  })
})

describe('what two people said apart', () => {
  const apart = (first: string, second: string) => {
    const a = begun().add(...scan('h', '1', 0, { indications: [indication({ id: '1/1' })] }))
    const b = a.copy()
    const seen = [{ examination: sha256('examination of h'), id: '1/1' }]
    const draft = { kind: 'disposed', subject: { of: 'hole', name: '1' }, seen, reason: 'seen' }
    a.add(a.signed(two, { ...draft, disposition: first }, clock(10)))
    b.add(b.signed(four, { ...draft, disposition: second }, clock(11)))
    return { a, b, draft }
  }

  it('otherwise of one hole is open, on whichever device it is merged, until a person decides again', () => {
    const { a, b, draft } = apart('reject', 'refer')
    const [left, right] = [a.copy().merge(b, two), b.copy().merge(a, four)]
    expect(said(left.rows)).toEqual(said(right.rows))
    const place = placeOf(left.rows, '1')
    expect(place).toMatchObject({
      state: 'relevant, not decided',
      contradictions: [expect.stringContaining('"refer" by D. Four')]
    })
    const closing = left.signed(two, { kind: 'place-closed', subject: { of: 'hole', name: '1' } })
    expect(left.try([{ ...closing, at: clock(late) }])).toMatchObject({ refused: true })
    left.add(left.signed(two, { ...draft, disposition: 'reject' }, clock(late)))
    expect(placeOf(left.rows, '1')).toMatchObject({ state: 'reject', contradictions: [] })
  })

  it('alike stands', () => {
    const { a, b } = apart('reject', 'reject')
    expect(placeOf(a.merge(b, two).rows, '1')).toMatchObject({ state: 'reject', contradictions: [] })
  })

  it('otherwise of one indication leaves it unclassed', () => {
    const a = begun().add(...scan('h', '1', 0, { indications: [indication({ id: '1/1', class: 'undecided' })] }))
    const b = a.copy()
    const seen = [{ examination: sha256('examination of h'), id: '1/1' }]
    const draft = { kind: 'interpreted', subject: { of: 'hole', name: '1' }, seen, reason: 'seen' }
    a.add(a.signed(two, { ...draft, class: 'nonrelevant' }, clock(10)))
    b.add(b.signed(four, { ...draft, class: 'relevant' }, clock(11)))
    const place = placeOf(a.merge(b, two).rows, '1')
    expect(place).toMatchObject({
      state: 'undecided',
      contradictions: [expect.stringContaining('"relevant" by D. Four')]
    })
  })

  it('a disposition does not stand over a scan of which its person did not know', () => {
    const a = begun().add(...scan('h', '1', 0))
    const b = a.copy()
    a.add(dispose(a, '1', 'refer', 10))
    b.add(...scan('h again', '1', 1))
    expect(placeOf(a.rows, '1').state).toBe('refer')
    expect(placeOf(a.merge(b, two).rows, '1').disposition).toBeUndefined()
  })

  it('a scan of which nobody knows whether it came before the cut covers nothing, and what it saw stays open', () => {
    const a = begun().add(...scan('h', '1', 0, { indications: [indication({ id: '1/1' })] }))
    const b = a.copy()
    const seen = [{ examination: sha256('examination of h'), id: '1/1' }]
    const subject = { of: 'hole', name: '1' }
    a.add(a.signed(two, { kind: 'disposed', subject, seen, disposition: 'clean-up ream' }, clock(10)))
    a.add(a.signed(two, { kind: 'reamed', subject, aimed_mm: 7 }, clock(11)))
    b.add(...scan('other', '1', 1, { indications: [indication({ id: '1/7', angle_rad: 3 })] }))
    const place = placeOf(a.merge(b, two).rows, '1')
    expect(place.examinations.map(({ standing }) => standing.standing)).toEqual(['voided'])
    expect(place.openFromVoided.map(({ id }) => id)).toEqual(['1/7'])
  })

  it('one recording kept on both with other facts is named, and counts for nothing', () => {
    const base = begun()
    const [a, b] = [base.copy(), base.copy()]
    const same = { ...kept('h', { of: 'hole' as const, name: '1' }), at: clock(1) }
    a.add(same, { ...examined('h', '1', 'r'), at: clock(1) })
    b.add({ ...same, of: { of: 'hole', name: '2' }, at: clock(2) }, { ...examined('h', '2', 'r'), at: clock(2) })
    a.add(...check('c', true, 3)).merge(b, two)
    expect(replay(a.rows).contradictions).toEqual([expect.stringContaining('h.csv')])
    const states = said(a.rows).map(({ state }) => state)
    expect(states).not.toContain('examined, no relevant indication')
  })
})

/** All orders in which the steps of two people can have come. */
function interleavings<T>(
  a: readonly T[],
  b: readonly T[],
  may: (first: T, then: T) => boolean
): readonly (readonly T[])[] {
  const [x, ...as] = a
  const [y, ...bs] = b
  if (x === undefined || y === undefined) return [[...a, ...b]]
  const left = b.every((one) => may(x, one)) ? interleavings(as, b, may).map((rest) => [x, ...rest]) : []
  const right = a.every((one) => may(y, one)) ? interleavings(a, bs, may).map((rest) => [y, ...rest]) : []
  return [...left, ...right]
}

interface Step {
  readonly what: 'scan' | 'passed' | 'failed'
  readonly minute: number
}

const steps = fc
  .array(
    fc.record({
      what: fc.constantFrom<Step['what']>('scan', 'passed', 'failed'),
      minute: fc.integer({ min: 1, max: 50 })
    }),
    {
      maxLength: 4
    }
  )
  .map((all) => [...all].sort((x, y) => x.minute - y.minute))

const happening = (name: string, { what }: Step): Happening => ({ what, recording: sha256(name), setUp: sha256('r') })

function play(device: Device, prefix: string, all: readonly Step[]): void {
  for (const [at, { what, minute }] of all.entries()) {
    const name = `${prefix}${at}`
    device.add(...(what === 'scan' ? scan(name, names[at % 3]!, minute) : check(name, what === 'passed', minute)))
  }
}

/** Worst of all possible orders: voided in one is voided, closed in all is closed. */
function expected(possible: readonly (readonly Happening[])[], recording: string): Standing['standing'] {
  const found = possible.map((all) => standingsOf(all)[all.findIndex((one) => one.recording === recording)]?.standing)
  if (found.includes('voided')) return 'voided'
  return found.every((standing) => standing === 'certain') ? 'certain' : 'provisional'
}

describe('property: whatever two devices did under one set-up', () => {
  const standing = (rows: readonly EntryRow[]) =>
    new Map(
      replay(rows).places.flatMap(({ examinations }) =>
        examinations.map((one) => [one.recording, one.standing.standing])
      )
    )

  it.each([
    ['clocks that nobody vouches for', {}, Number.POSITIVE_INFINITY],
    ['clocks that agree within 5 min', { clocks_agree_s: 300 }, 5]
  ])('the scans stand as in the worst order that is possible, and alike on both: %s', (_, over, slack) => {
    fc.assert(
      fc.property(steps, steps, steps, (shared, as, bs) => {
        fc.pre(as.length > 0 && bs.length > 0)
        const base = begun()
        const early = shared.map((step) => ({ ...step, minute: 0 }))
        play(base, 's', early)
        const [a, b] = [base.copy(), base.copy()]
        play(a, 'a', as)
        play(b, 'b', bs)
        const [left, right] = [a.copy().merge(b, two, over), b.copy().merge(a, four, over)]
        expect(said(left.rows)).toEqual(said(right.rows))
        const before = [
          { what: 'reference', recording: sha256('r'), setUp: sha256('r') } as Happening,
          ...early.map((step, at) => happening(`s${at}`, step))
        ]
        const lists = [
          as.map((step, at) => ({ step, one: happening(`a${at}`, step) })),
          bs.map((step, at) => ({ step, one: happening(`b${at}`, step) }))
        ] as const
        const possible = interleavings(
          lists[0],
          lists[1],
          (first, then) => first.step.minute - then.step.minute <= slack
        )
        const orders = possible.map((order) => [...before, ...order.map(({ one: each }) => each)])
        for (const [recording, found] of standing(left.rows)) expect(found).toBe(expected(orders, recording))
      }),
      { numRuns: 150 }
    )
  })
})

describe('property: set-ups of their own', () => {
  it('a failure of one device does not touch what the other scanned under a set-up it made itself', () => {
    const base = begun()
    const [a, b] = [base.copy(), base.copy()]
    a.add(...scan('a1', '1', 1), ...check('af', false, 5))
    b.add(...reference('rb', 1), { ...kept('b2', { of: 'hole', name: '2' }), at: clock(3) })
    b.add({ ...examined('b2', '2', 'rb'), at: clock(3) }, { ...kept('bp', { of: 'recheck' }), at: clock(4) })
    b.add({ ...rechecked('bp', 'rb', true), at: clock(4) })
    expect(said(a.merge(b, two).rows).map(({ state }) => state)).toEqual([
      ...['voided by a recheck', 'examined, no relevant indication', 'not examined']
    ])
  })
})

describe('the order of entries', () => {
  it('of one chain is its own', () => {
    const { rows } = begun()
    expect(orderOf(rows).sorted).toEqual(rows.map(({ seq }) => seq))
    expect(pastOf(rows, 3)).toEqual(rows.slice(0, 3))
  })

  it('knows what a device had when it made an entry', () => {
    const base = begun()
    const [a, b] = [base.copy(), base.copy()]
    a.add(...scan('a1', '1', 0))
    b.add(...scan('b2', '2', 1))
    const ids = (rows: readonly EntryRow[]) => rows.map(({ id }) => id)
    const { rows } = a.copy().merge(b, two)
    const at = rows.findIndex(({ id }) => id === b.rows.at(-1)!.id)
    expect(ids(pastOf(rows, at)).sort()).toEqual(ids(b.rows.slice(0, -1)).sort())
  })
})

describe('refused', () => {
  const both = () => {
    const base = begun()
    const [a, b] = [base.copy(), base.copy()]
    a.add(...scan('a1', '1', 0))
    b.add(...scan('b2', '2', 1))
    return { a, b }
  }
  const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

  it('record/false-merge: a merge that leaves out, adds, or misquotes', () => {
    const { a, b } = both()
    const entries = a.merging(b, two)
    const [stored, first, ...rest] = entries
    expect(codeOf(a.copy().try([stored!, ...rest]))).toBe('record/false-merge')
    expect(codeOf(a.copy().try([stored!, first!, ...scan('x', '3', 3), ...rest]))).toBe('record/false-merge')
    const said = JSON.parse(canonical(entries.at(-1))) as Record<string, unknown>
    const { by: _, signed: __, ...draft } = said
    for (const over of [{ common: 2 }, { after: 'x' }, { theirs: { ...(said.theirs as object), head: sha256('x') } }]) {
      const other = a.signed(two, { ...draft, ...over })
      expect(codeOf(a.copy().try([...entries.slice(0, -1), other]))).toBe('record/false-merge')
    }
  })

  it('record/false-merge: another chain with an entry that its person did not sign', () => {
    const base = begun()
    const [a, b] = [base.copy(), base.copy()]
    a.add(...scan('a1', '1', 0))
    b.add(b.signed(four, { kind: 'left-out', subject: { of: 'hole', name: '2' }, reason: 'no access' }))
    const forged = new Device(people, a.rows.slice(0, base.rows.length))
    const other = JSON.parse(b.rows.at(-1)!.body) as Entry
    const row = new Device(people, base.rows)
    row.rows = [...base.rows, rowLike(base.rows, { ...other, reason: 'done' } as Entry)]
    expect(forged.rows).toHaveLength(base.rows.length)
    expect(codeOf(a.try(a.merging(row, two)))).toBe('record/false-merge')
  })

  it('a merge by a Level I, or over another state', () => {
    const { a, b } = both()
    expect(codeOf(a.copy().try(a.merging(b, one)))).toBe('record/no-right')
    const late = a.merging(b, two)
    expect(
      codeOf(
        a
          .copy()
          .add(...scan('more', '3', 9))
          .try(late)
      )
    ).toBe('record/bad-signature')
  })
})

function rowLike(before: readonly EntryRow[], entry: Entry): EntryRow {
  const place = { seq: before.length, previous: before.at(-1)!.hash, body: canonical(entry) }
  const hash = sha256(`{"entry":${place.body},"previous":${canonical(place.previous)},"seq":${place.seq}}`)
  return { ...place, id: entry.id, kind: entry.kind, version: entry.version, hash }
}

describe('the report of a merged record', () => {
  const blocks = (rows: readonly EntryRow[]) =>
    JSON.stringify(decisionsSection.blocks({ ...inventedReport(), state: replay(rows) }))

  it('says both heads, who brought them together, what is known of the clocks, and what does not agree', () => {
    const a = begun().add(...scan('h', '1', 0))
    const b = a.copy()
    a.add(dispose(a, '1', 'refer', 10))
    b.add(dispose(b, '1', 'reject', 11, four))
    const text = blocks(a.copy().merge(b, two).rows)
    for (const part of [
      a.rows.at(-1)!.hash,
      b.rows.at(-1)!.hash,
      'B. Two brought both',
      'Nobody vouches',
      '"reject\\" by D. Four'
    ]) {
      expect(text).toContain(part)
    }
    expect(blocks(a.copy().merge(b, two, { clocks_agree_s: 30 }).rows)).toContain('agreed within 30 s')
    expect(blocks(a.rows)).not.toContain('apart')
  })
})
