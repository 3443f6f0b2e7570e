import { sign } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { HOLE_METHOD } from '@trueloop/job/examine'
import { canonical, type Entry, replay } from '@trueloop/job/record'
import {
  examined,
  type Invented,
  indication,
  invent,
  kept,
  opened,
  rechecked,
  standardized
} from '@trueloop/job/record/testing'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import {
  approveTechnique,
  attachCapability,
  closePlaces,
  correctClock,
  decide,
  leaveOut,
  lookAgain,
  type Signing,
  state,
  takeOver
} from './index.ts'

/** Oracle: the rules of the record, tested in its own room; here what a person says becomes its entries, or nothing. */

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}
const codeOf = (result: Result<unknown>) => (isRefusal(result) ? result.code : 'no refusal')

let folder = ''
let archive: Archive
const clock = () => ({ time: '2026-03-14T12:00:00.000Z', known: 'clock of this computer' as const })
const two = invent('B. Two')
const three = invent('C. Three', 'III')

const as = ({ row, key }: Invented, job = 'J'): Signing => ({
  ...{ archive, job, clock },
  signer: { person: sha256(canonical(row)), row, sign: (text) => sign(null, Buffer.from(text), key).toString('base64') }
})

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-decide-'))
  archive = got(await openArchive(join(folder, 'archive')))
  const crack = indication({ id: '1/1', angle_rad: 1, z_m: 4e-3 })
  const doubtful = indication({ id: '1/2', class: 'undecided', crossedAlarm: false, angle_rad: 4, z_m: 2e-3 })
  const entries: readonly Entry[] = [
    { ...opened('J', ['1', '2', '3']), signing: 'required', secondLook: 'what was found' },
    ...[kept('ref', { of: 'reference' }), standardized('ref')],
    ...[kept('scan 1', { of: 'hole', name: '1' }), examined('scan 1', '1', 'ref', { indications: [crack, doubtful] })],
    ...[kept('scan 2', { of: 'hole', name: '2' }), examined('scan 2', '2', 'ref')],
    ...[kept('check', { of: 'recheck' }), rechecked('check', 'ref', true)]
  ]
  got(await archive.append('J', 0, entries))
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const now = async () => replay(got(await archive.entries('J')))

describe('a day of decisions', () => {
  it('ends with every place closed or left out, all of it signed', async () => {
    const classes = [{ indication: '1/2', class: 'nonrelevant' as const }]
    const reason = 'the joint of the two layers, at its drawing depth'
    const reject = { place: '1', classes, disposition: 'reject' as const, reason }
    expect(codeOf(await closePlaces(['1'], as(two)))).toBe('record/place-open')
    expect(got(await decide(reject, as(two))).added).toEqual(['interpreted', 'disposed'])
    expect(codeOf(await lookAgain({ place: '1', agrees: true }, as(two)))).toBe('record/same-person')
    got(await lookAgain({ place: '1', agrees: true }, as(three)))
    got(await closePlaces(['1', '2'], as(two)))
    got(await leaveOut(['3'], 'no access before the end of the shift', as(two)))
    got(await state({ kind: 'handed-over', to: 'C. Three', note: 'hole 1 is rejected' }, as(two)))
    got(await takeOver(as(three)))
    got(await state({ kind: 'job-closed' }, as(three)))
    const { places, closed, handovers, documents } = await now()
    expect(places.map((place) => place.state)).toEqual(['reject', 'examined, no relevant indication', 'not examined'])
    expect(closed?.by.name).toBe('C. Three')
    expect(handovers[0]?.taken?.by.name).toBe('C. Three')
    expect(documents.filter(({ what }) => what === 'person').map(({ name }) => name)).toEqual(['B. Two', 'C. Three'])
  })

  it('is written once, whoever asks twice over the same head', async () => {
    const signing = as(two)
    const { count } = await now()
    got(await closePlaces(['2'], signing))
    expect((await now()).count).toBe(count + 2)
  })

  it('has the technique approved by a Level III, with the documents that belong to it', async () => {
    expect(codeOf(await approveTechnique('2026-03-14', as(three)))).toBe('decide/nothing-decided')
    const technique = got(await archive.storeDocument('technique', { invented: true }))
    const stored = { ...opened('J', ['1']), kind: 'document-stored', id: 'technique', document: technique }
    const { kind, version, id, at, by, document } = { ...stored, version: 1 as const }
    const entry = { kind, version, id, at, by, document, what: 'technique' } as Entry
    got(await archive.append('J', (await now()).count, [entry]))
    expect(codeOf(await approveTechnique('2026-03-14', as(two)))).toBe('record/no-right')
    got(await approveTechnique('2026-03-14', as(three)))
    expect((await now()).confirmed).toMatchObject({ name: 'C. Three', level: 'III', technique, method: HOLE_METHOD })
    const shown = { words: '0.8 mm, invented', source: 'report 1, invented' }
    expect(got(await attachCapability(shown, as(three))).added).toEqual(['capability-attached'])
    // these scans were examined by another method: nothing was demonstrated for them
    expect((await now()).capability).toBeUndefined()
  })
})

describe('what a decision can not be about', () => {
  it.each<[string, () => Promise<Result<unknown>>]>([
    ['decide/no-such-job', () => closePlaces(['1'], as(two, 'K'))],
    ['decide/no-such-place', () => closePlaces(['2', '9'], as(two))],
    [
      'decide/no-such-indication',
      () => decide({ place: '1', classes: [{ indication: '1/9', class: 'relevant' }] }, as(two))
    ],
    ['decide/nothing-decided', () => lookAgain({ place: '2', agrees: true }, as(two))],
    ['decide/no-handover', () => takeOver(as(two))]
  ])('%s, and the record stays as it was', async (code, asked) => {
    const { head } = await now()
    expect(codeOf(await asked())).toBe(code)
    expect((await now()).head).toBe(head)
  })
})

describe('a clock that was ahead', () => {
  const early = () => ({ time: '2026-03-13T09:00:00.000Z', known: 'clock of this computer' as const })
  const late = async (job: string) => {
    const rows = got(await archive.entries(job))
    const entry = { ...kept('late', { of: 'hole', name: '1' }), at: early() }
    return archive.append(job, rows.length, [entry])
  }

  it('is said so by a person, and the record goes on from the right time', async () => {
    got(await archive.append('K', 0, [opened('K', ['1'])]))
    expect(codeOf(await late('K'))).toBe('record/clock-set-back')
    got(await correctClock('a day ahead', { archive, job: 'K', clock: early }))
    expect(codeOf(await late('K'))).toBe('no refusal')
  })

  it('is signed for where there are registers', async () => {
    expect(codeOf(await correctClock('a day ahead', { archive, job: 'J', clock: early }))).toBe('record/not-signed')
    got(await signedBefore(as(three)))
    got(await correctClock('a day ahead', { ...as(three), clock: early }))
    expect(codeOf(await late('J'))).toBe('no refusal')
  })

  /** Somebody who has signed in this job before: their document has its time already. */
  const signedBefore = (signing: Signing) => state({ kind: 'handed-over', to: 'B. Two', note: 'x' }, signing)
})
