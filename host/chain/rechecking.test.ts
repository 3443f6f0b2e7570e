import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { HoleSheet } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { runChain, summaryOf } from './index.ts'
import { demoJob, scaled, writeDemo } from './testing/demo-job.ts'
import { got } from './testing/shop.ts'

/** Oracle: ISO 15549, 10.2 and 10.3, led through the chain with recordings whose gain is known. */

const files = ['reference-start.wav', 'hole-P01.wav', 'recheck-1.wav', 'hole-P06.wav', 'recheck-2.wav']

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-rechecking-'))
  archive = got(await openArchive(join(folder, 'archive')))
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

type Change = Partial<HoleSheet['recordings'][number]>

/** The five recordings, ten minutes apart, with what is said beside each. */
function sheetWith(
  rechecks: HoleSheet['technique']['rechecks'],
  changes: Readonly<Record<number, Change>> = {}
): HoleSheet {
  const sheet = demoJob(folder, files)
  const day = sheet.job.opened
  const recordings = sheet.recordings.map((one, at) => ({
    ...one,
    taken: `${day}T09:${10 + 10 * at}:00`,
    ...changes[at]
  }))
  return { ...sheet, recordings: recordings as HoleSheet['recordings'], technique: { ...sheet.technique, rechecks } }
}

const run = async (sheet: HoleSheet) => {
  const { outcomes, refusals } = await runChain({ sheet, folder, archive })
  expect(refusals).toEqual([])
  const state = replay(got(await archive.entries(sheet.job.id)))
  const holes = ['P01', 'P06'].map((name) => state.places.find(({ place }) => place.name === name))
  return {
    ...{ state, summary: summaryOf(state) },
    codes: outcomes.map((one) =>
      one.did === 'examined' ? one.refusals.filter((code) => code.startsWith('chain/')) : []
    ),
    standings: holes.map((hole) => hole?.examinations.at(-1)?.standing)
  }
}

const all = { gain_of_sensitivity: 'fails' as const }

describe('an interval between rechecks', () => {
  it('that was not kept refuses the scan that came too late, and lists it to be done again', async () => {
    const { codes, standings, summary } = await run(sheetWith({ ...all, interval_min: 9 }))
    expect(codes).toEqual([[], ['chain/recheck-overdue'], [], ['chain/recheck-overdue'], []])
    expect(standings.map((one) => one?.standing)).toEqual(['voided', 'voided'])
    expect(summary.redo.map(({ place, files }) => [place, files])).toEqual([
      ['P01', ['hole-P01.wav']],
      ['P06', ['hole-P06.wav']]
    ])
    expect(summary.counted).toMatchObject({ scanned: 2 })
  })
})

describe('the time of a scan', () => {
  it('does not lie in the future, as far as a time without an offset can tell', async () => {
    const clock = (time: string) => () => ({ time, known: 'clock of this computer' as const })
    const sheet = sheetWith(undefined)
    const [first] = sheet.recordings
    const { opened: day } = sheet.job
    const job = { ...sheet.job, demonstration: false }
    const at = async (taken: string, time: string) => {
      const run = await runChain({
        sheet: { ...sheet, job, recordings: [{ ...first!, taken }] } as HoleSheet,
        folder,
        archive,
        clock: clock(time)
      })
      return run.refusals.map(({ code, where }) => [code, where?.path])
    }
    expect(await at(`${day}T09:03:00Z`, `${day}T09:00:00Z`)).toEqual([['chain/in-the-future', 'recordings[0].taken']])
    expect(await at(`${day}T23:01:00`, `${day}T09:00:00Z`)).toEqual([['chain/in-the-future', 'recordings[0].taken']])
    expect(await at(`${day}T22:59:00`, `${day}T09:00:00Z`)).toEqual([])
  })
})

describe('a recheck that failed', () => {
  it('refuses scans until a new standardization, says why, and a later pass does not heal', async () => {
    const sheet = sheetWith(undefined)
    writeDemo(join(folder, 'recheck-1.wav'), 'recheck-1.wav', scaled(0.7))
    const { codes, standings, summary, state } = await run(sheet)
    expect(summary.rechecks.map(({ passed }) => passed)).toEqual([false, true])
    expect(codes[3]).toEqual(['chain/not-restandardized'])
    expect(standings.map((one) => one?.standing)).toEqual(['voided', 'voided'])
    expect(state.rechecks[0]?.entry.voids).toEqual([state.recordings[1]?.sha256])
  })

  it('not by a gain of sensitivity where the technique only notes it', async () => {
    const stronger = (rechecks: HoleSheet['technique']['rechecks']) => {
      const sheet = sheetWith(rechecks)
      writeDemo(join(folder, 'recheck-2.wav'), 'recheck-2.wav', scaled(1.4))
      return sheet
    }
    const { standings, state } = await run(stronger({ gain_of_sensitivity: 'is noted' }))
    expect(standings[1]?.standing).toBe('certain')
    expect(state.rechecks[1]?.entry.allowed.gain_of_sensitivity).toBe('is noted')
  })
})
