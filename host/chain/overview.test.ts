import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { canonical, type Entry, replay } from '@trueloop/job/record'
import { head, inventedReport } from '@trueloop/job/record/testing'
import Database from 'libsql'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import { checkJob } from './check.ts'
import { briefsOf, OVERVIEW_FORM, overviewOf } from './overview.ts'
import { summaryOf } from './summary.ts'
import { demoJob } from './testing/demo-job.ts'
import { got } from './testing/laws.ts'
import { examineOneHole, oneHole, oneHoleSheet } from './testing/one-hole.ts'

/** Oracle: the entries, replayed without anything that was kept; what was changed is known to the test. */

const job = oneHoleSheet().job.id
let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-overview-'))
  demoJob(folder, oneHole)
  archive = got(await openArchive(join(folder, 'archive')))
  expect(await examineOneHole({ recordings: folder, archive })).toEqual([])
}, 60_000)
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const replayed = async () => summaryOf(replay(got(await archive.entries(job))))
const faults = async () => got(await checkJob(archive, job, {})).intact.faults.map(({ place }) => place)

async function behindItsBack(change: string): Promise<void> {
  await archive.close()
  const db = new Database(join(folder, 'archive', 'archive.db'))
  db.exec(change)
  db.close()
  archive = got(await openArchive(join(folder, 'archive')))
}

describe('how a job stands', () => {
  it('is what its entries say, made or kept, and anew once they have grown', async () => {
    expect(got(await archive.overview(job, OVERVIEW_FORM))).toBeUndefined()
    const first = await replayed()
    expect(got(await overviewOf(archive, job))).toEqual(first)
    expect(got(await archive.overview(job, OVERVIEW_FORM))).toBe(JSON.stringify(first))
    expect(got(await overviewOf(archive, job))).toEqual(first)
    const merely: Entry = {
      ...{ kind: 'corrected', version: 1, ...head(), corrects: got(await archive.entries(job))[0]?.id ?? '' },
      ...{ reason: 'another name', becomes: await renamed() }
    }
    got(await archive.append(job, first.entries, [merely]))
    expect(got(await archive.overview(job, OVERVIEW_FORM))).toBeUndefined()
    expect(got(await overviewOf(archive, job))).toMatchObject({ component: 'another', entries: first.entries + 1 })
    expect(got(await overviewOf(archive, job))).toEqual(await replayed())
  })

  const renamed = async () => {
    const opening = JSON.parse(got(await archive.entries(job))[0]?.body ?? '')
    return { ...opening, job: { ...opening.job, component: 'another' } }
  }

  it('of another form is made anew', async () => {
    await overviewOf(archive, job)
    expect(got(await archive.overview(job, OVERVIEW_FORM + 1))).toBeUndefined()
    expect(got(await archive.briefs(OVERVIEW_FORM + 1))).toEqual([{ job, brief: undefined }])
  })

  it('stands in the list of jobs, made or kept', async () => {
    const { component, counts, waiting } = await replayed()
    for (const _ of ['made', 'kept']) {
      expect(got(await briefsOf(archive))).toMatchObject([{ job, component, counts, waiting }])
    }
    expect(got(await briefsOf(archive))[0]).not.toHaveProperty('places')
  })

  it('of no such job is nothing', async () => expect(got(await overviewOf(archive, 'no'))).toBeUndefined())

  it.each(['whole', 'brief'])('changed in its %s is found by verify, and made anew', async (column) => {
    await overviewOf(archive, job)
    expect(await faults()).toEqual([])
    await behindItsBack(`update overview set ${column} = replace(${column}, 'true', 'false')`)
    expect(await faults()).toEqual([`overview of job ${job}`])
    expect(await faults()).toEqual([])
    expect(got(await overviewOf(archive, job))).toEqual(await replayed())
  })

  it('is kept by an archive that was made before there were any', async () => {
    await behindItsBack('drop table overview')
    expect(got(await overviewOf(archive, job))).toEqual(await replayed())
  })
})

describe('the form', () => {
  /** Where this fails, what is said of a job has changed: raise OVERVIEW_FORM, then bring the hash up to date. */
  it('is raised when anything that is said changes', () => {
    const { head: _, entries: __, ...rest } = summaryOf(inventedReport().state)
    const said = sha256(canonical(rest))
    expect({ form: OVERVIEW_FORM, said }).toEqual({
      form: 4,
      said: '5ef908d87211fbde2447751dbbd9467f29aa08981b7d844eae5960d7991527ce'
    })
  })
})
