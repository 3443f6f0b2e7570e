/** Oracle: what a person may do who knows, and one who does not, written down for each; a record of three holes. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { Block } from './blocks.ts'
import { canonical } from './canonical.ts'
import { append, chainOf, type EntryRow } from './chain.ts'
import type { Entry } from './kinds.ts'
import { hasUnmarked, markingComplaint } from './practice.ts'
import { replay } from './replay.ts'
import { reportBlocks } from './report.ts'
import {
  head,
  type Invented,
  invent,
  inventedReport,
  opened,
  personStored,
  sha256,
  signedBy,
  witnessOf
} from './testing/index.ts'

const keeper = invent('C. Level', 'III')
const looker = invent('B. Two', 'II')
const told = { places: [{ name: 'P2', flawed: true, what: 'corner crack (invented)' }] }
const two = { places: ['P1', 'P2'].map((name) => ({ name, flawed: false, what: 'no flaw' })) }
const strange = { places: [{ name: 'P9', flawed: false, what: 'no flaw' }] }
const hashOf = (value: object) => sha256(canonical(value))
const texts = new Map([told, two, strange].map((one) => [hashOf(one), canonical(one)]))
const people = witnessOf([keeper, looker])
const witness = { ...people, document: (hash: string) => texts.get(hash) ?? people.document(hash) }
const answers = hashOf(told)
const practice = { count: 1, answers }

const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

/** The rows after an entry, signed over them as they are. */
function adding(rows: readonly EntryRow[], draft: object, who?: Invented) {
  const entry = (
    who === undefined ? draft : signedBy(who, draft as never, { job: 'J', head: rows.at(-1)?.hash ?? '' })
  ) as Entry
  return append(chainOf('J', rows, witness), { expectedSeq: rows.length, entries: [entry] }, sha256)
}
function after(rows: readonly EntryRow[], draft: object, who?: Invented): readonly EntryRow[] {
  const done = adding(rows, draft, who)
  if (isRefusal(done)) throw new Error(`${done.code}: ${done.found}`)
  return [...rows, ...done.fresh]
}

const begin = (over: object = { practice }) =>
  [keeper, looker].reduce<readonly EntryRow[]>(
    (rows, one) => after(rows, personStored(one)),
    after([], { ...opened('J', ['P1', 'P2', 'P3']), ...over })
  )
const mark = (over: object = {}) => ({
  ...{ kind: 'practice-marked', version: 1, ...head(), answers },
  ...told,
  ...over
})
/** A job of these answers, for so many places, and their marking. */
const markedBy = (of: typeof told, count: number) =>
  adding(begin({ practice: { count, answers: hashOf(of) } }), mark({ ...of, answers: hashOf(of) }), keeper)
const leaveOut = (name: string) => ({
  ...{ kind: 'left-out', version: 1, ...head(), subject: { of: 'hole', name }, reason: 'no access' }
})
const close = () => ({ kind: 'job-closed', version: 1, ...head() })
const deliver = () => ({ kind: 'delivered', version: 1, ...head(), to: 'somebody', report: answers })
const refer = (name: string) => ({
  ...{ kind: 'disposed', version: 1, ...head(), subject: { of: 'hole', name }, disposition: 'refer', seen: [] }
})

describe('practice in a record', () => {
  it('keeps the job open and the report in the house until it is marked', () => {
    const rows = ['P1', 'P2', 'P3'].reduce((before, name) => after(before, leaveOut(name), looker), begin())
    expect(codeOf(adding(rows, close(), looker))).toBe('record/practice-not-marked')
    expect(codeOf(adding(rows, deliver(), looker))).toBe('record/practice-not-marked')
    const marked = after(rows, mark(), keeper)
    expect(codeOf(adding(marked, deliver(), looker))).toBe('no refusal')
    expect(codeOf(adding(marked, close(), looker))).toBe('no refusal')
  })

  it('needs no closing of its own once it is marked, and nobody decides about it any more', () => {
    const rows = after(begin(), mark(), keeper)
    const state = replay(rows)
    expect(hasUnmarked(state)).toBe(false)
    expect(state.places.map(({ practice: one }) => one?.what)).toEqual([
      undefined,
      'corner crack (invented)',
      undefined
    ])
    const left = ['P1', 'P3'].reduce((before, name) => after(before, leaveOut(name), looker), rows)
    expect(codeOf(adding(left, close(), looker))).toBe('no refusal')
    expect(codeOf(adding(rows, refer('P2'), looker))).toBe('record/nothing-to-decide')
  })

  it.each<[string, () => string, string]>([
    [
      'other answers',
      () => codeOf(adding(begin(), mark({ answers: sha256('others') }), keeper)),
      'record/other-answers'
    ],
    [
      'places that the answers do not name',
      () => codeOf(adding(begin(), mark(strange), keeper)),
      'record/other-answers'
    ],
    ['a place that the job has not', () => codeOf(markedBy(strange, 1)), 'record/other-answers'],
    ['more places than were mixed in', () => codeOf(markedBy(two, 1)), 'record/other-answers'],
    [
      'by who decided about it',
      () => codeOf(adding(after(begin(), refer('P2'), looker), mark(), looker)),
      'record/same-person'
    ],
    ['a second time', () => codeOf(adding(after(begin(), mark(), keeper), mark(), keeper)), 'record/nothing-to-decide'],
    ['in a job without any', () => codeOf(adding(begin({}), mark(), keeper)), 'record/nothing-to-decide']
  ])('is not marked: %s', (_, made, code) => expect(made()).toBe(code))

  it('waits for those who examine, so that nobody is told too early', () => {
    const { state } = inventedReport()
    const whole = { ...state, opened: { ...state.opened, practice } }
    const markOf = (name: string) =>
      mark({ places: [{ name, flawed: true, what: 'a crack' }], by: { name: 'C. Level' } })
    expect(codeOf(markingComplaint(markOf('W-2') as never, whole))).toBe('record/undecided')
    expect(codeOf(markingComplaint(markOf('W-1') as never, whole))).toBe('no refusal')
  })
})

describe('a report with practice', () => {
  const report = inventedReport()
  const withOpened = { ...report.state, opened: { ...report.state.opened, practice } }
  const texts = (blocks: readonly Block[]) => JSON.stringify(blocks)

  it('says first of all that it is none to act on, until it is marked', () => {
    const [, second] = reportBlocks({ ...report, state: withOpened })
    expect(second).toMatchObject({ block: 'caution', tone: 'stop' })
    expect(texts(reportBlocks(report)).includes('Practice')).toBe(false)
  })

  it('then tells of it in its own section alone', () => {
    const places = withOpened.places.map((place) =>
      place.place.name === 'W-2'
        ? { ...place, practice: { name: 'W-2', flawed: true, what: 'a crack (invented)' } }
        : place
    )
    const marked = { ...mark({ places: [places[1]!.practice] }), by: { kind: 'person', name: 'C. Level' } } as never
    const blocks = reportBlocks({ ...report, state: { ...withOpened, places, practice: marked } })
    const at = blocks.findIndex((block) => block.block === 'heading' && block.title === 'Practice mixed in')
    expect(texts(blocks.slice(at, at + 3))).toContain('a crack (invented)')
    const of = (title: string) => {
      const from = blocks.findIndex((block) => block.block === 'heading' && block.title === title)
      return texts(blocks.slice(0, from).filter((block) => block.block !== 'figure'))
    }
    expect(of('Recordings').includes('W-2')).toBe(false)
    expect(texts(blocks).includes('hole W-2, practice')).toBe(true)
  })
})
