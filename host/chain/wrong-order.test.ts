import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { HoleSheet } from '@trueloop/job/plan'
import { openIndications, replay } from '@trueloop/job/record'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { approveTechnique, closePlaces, decide, leaveOut, lookAgain, state } from '../decide/index.ts'
import { type Outcome, openJob, runChain } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { dayOf, equipmentRows, got, register, signedSheet, signerOf } from './testing/shop.ts'

/**
 * Oracle: the order of the day as the trade has it: approval, standardization, scan, recheck in time, decision, second look
 * by another person, closing. Every step is tried too early, too late or by the wrong hand first, and must end in its
 * refusal with the record as it was.
 */

const clock = dayOf('2026-03-02T12:00:00Z')
const [one, two, three] = [signerOf('A. One', 'I'), signerOf('B. Two', 'II'), signerOf('C. Level', 'III')]
const otherThree = signerOf('E. Other', 'III')
const expired = signerOf('D. Late', 'II', { near_vision: { examined: '2025-03-01', expires: '2026-03-01' } })

let folder = ''
let archive: Archive
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-wrong-order-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const names = ['reference-start.wav', 'hole-P02.wav', 'hole-P03.wav', 'recheck-1.wav', 'hole-P01.wav']
const minutes = [0, 5, 31, 35, 40]

/** Hole P03 is scanned too late after the last good check, hole P01 with another probe. */
function sheetOfDay(): HoleSheet {
  const { technique, ...sheet } = signedSheet(demoJob(folder, names))
  const recordings = names.map((name, at) => {
    const taken = `2026-03-02T09:${String(minutes[at]).padStart(2, '0')}:00+00:00`
    const equipment = name === 'hole-P01.wav' ? { equipment: { probe: 'P-99' } } : {}
    return { ...sheet.recordings.find(({ file }) => file === name)!, taken, ...equipment }
  })
  return {
    ...{ ...sheet, recordings: recordings as HoleSheet['recordings'] },
    holes: sheet.holes.filter(({ id }) => ['P01', 'P02', 'P03'].includes(id)),
    technique: {
      ...{ ...technique, second_look: 'what was found' as const },
      rechecks: { interval_min: 30, gain_of_sensitivity: 'fails' as const }
    }
  }
}

const jobOf = async ({ job }: HoleSheet) => replay(got(await archive.entries(job.id)))

it('every wrong order of a day ends in its refusal', async () => {
  const sheet = sheetOfDay()
  const shop = { archive, folder, clock, three }
  const people = [one, two, three, otherThree, expired].map(({ row }) => row)
  const probe = equipmentRows({ ...sheet, equipment: { ...sheet.equipment, probe: 'P-99' } }).filter(
    (row) => row.register === 'probe'
  )
  await register(shop, [...people, ...equipmentRows(sheet), ...probe])
  got(await openJob({ sheet, folder, archive, clock }))
  const as = (signer: typeof two) => ({ archive, job: sheet.job.id, signer, clock })
  const run = () => runChain({ sheet, folder, archive, clock })
  /** The code of a refusal, and that nothing was written. */
  const refused = async (work: () => Promise<Result<unknown>>): Promise<string> => {
    const before = (await jobOf(sheet)).head
    const result = await work()
    expect((await jobOf(sheet)).head).toBe(before)
    return isRefusal(result) ? result.code : 'no refusal'
  }

  // before the approval, and by the wrong hand
  expect(await refused(async () => (await run()).refusals[0])).toBe('chain/not-approved')
  expect(await refused(() => approveTechnique('2026-03-01', as(two)))).toBe('record/no-right')
  expect(await refused(() => approveTechnique('2026-03-01', as(otherThree)))).toBe('record/other-approver')
  got(await approveTechnique('2026-03-01', as(three)))

  // recheck late, other probe: read, and counted for nothing
  const { outcomes, refusals } = await run()
  expect(refusals).toEqual([])
  const codes = new Map(outcomes.map((each) => [each.file, codesOf(each)]))
  expect(codes.get('hole-P02.wav')).toEqual([])
  expect(codes.get('hole-P03.wav')).toContain('chain/recheck-overdue')
  expect(codes.get('hole-P01.wav')).toContain('examine/setup-differs')
  const states = (await jobOf(sheet)).places.map(({ place, state: name }) => [place.name, name])
  expect(states).toContainEqual(['P03', 'not examined'])
  expect(states).toContainEqual(['P01', 'not examined'])

  // decided by one who may not, or not any more, or without a reason
  expect(await refused(() => closePlaces(['P02'], as(two)))).toBe('record/place-open')
  const place = (await jobOf(sheet)).places.find((each) => each.place.name === 'P02')!
  const open = openIndications(place).map((text) => text.split(',')[0]!)
  const mild = {
    ...{ place: 'P02', disposition: 'no recordable indication' as const },
    classes: open.map((indication) => ({ indication, class: 'nonrelevant' as const }))
  }
  const reject = { place: 'P02', disposition: 'reject' as const }
  expect(await refused(() => decide(reject, as(one)))).toBe('record/no-right')
  expect(await refused(() => decide(reject, as(expired)))).toBe('record/person-expired')
  expect(await refused(() => decide(mild, as(two)))).toBe('record/no-reason')
  got(await decide(reject, as(two)))

  // closed before the second look, looked at by the same person
  expect(await refused(() => closePlaces(['P02'], as(two)))).toBe('record/place-open')
  expect(await refused(() => lookAgain({ place: 'P02', agrees: true }, as(two)))).toBe('record/same-person')
  got(await lookAgain({ place: 'P02', agrees: true }, as(three)))
  got(await closePlaces(['P02'], as(two)))

  // what was not examined is not closed, and the job is not closed with it
  expect(await refused(() => closePlaces(['P01'], as(two)))).toBe('record/place-open')
  expect(await refused(() => closePlaces(['P03'], as(two)))).toBe('record/place-open')
  expect(await refused(() => state({ kind: 'job-closed' }, as(two)))).toBe('record/job-open')
  expect(await refused(() => leaveOut(['P01'], 'no access', as(one)))).toBe('record/no-right')
  got(await leaveOut(['P01', 'P03'], 'no access before the next shift', as(two)))
  got(await state({ kind: 'job-closed' }, as(two)))

  // after closing
  expect(await refused(() => closePlaces(['P02'], as(two)))).toBe('record/job-closed')
  expect(await refused(() => decide(reject, as(two)))).toBe('record/job-closed')
}, 120_000)

const codesOf = (outcome: Outcome): readonly string[] => (outcome.did === 'examined' ? outcome.refusals : [])
