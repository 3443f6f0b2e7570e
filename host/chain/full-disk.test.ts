import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { failingAt } from '../archive/testing/failing.ts'
import { demoJob } from './testing/demo-job.ts'
import { afterStop, got, halfOf, lostOf, type Stopped, type Whole, wholeOf } from './testing/laws.ts'
import { examineOneHole, oneHole, oneHoleSheet } from './testing/one-hole.ts'
import { fewPointsOf, pointText } from './testing/points.ts'

/**
 * One examined hole on a disk that is full at one of the steps that the archive takes for it, half of a write done.
 * Oracle: the record of the same run on a disk with room, at one fixed moment, so that the records must be equal to the
 * bit; SHA-256 of Node. What a disk that is really full does to the database is shown in the archive's own tests.
 */

const job = oneHoleSheet().job.id
const minutes = 60_000
let home = ''
let recordings = ''
let steps: readonly string[] = []
let whole: Whole

const fresh = (name: string): string => {
  const folder = join(home, name)
  mkdirSync(folder)
  return folder
}
const goOn = (archive: Archive) => examineOneHole({ recordings, archive })

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-full-'))
  recordings = fresh('recordings')
  demoJob(recordings, oneHole)
  const never = failingAt(-1)
  const archive = got(await openArchive(join(fresh('undisturbed'), 'archive'), never))
  const told: string[] = []
  await examineOneHole({ recordings, archive, tell: (line) => told.push(line) })
  whole = wholeOf(got(await archive.entries(job)), told)
  await archive.close()
  steps = never.steps
}, 2 * minutes)
afterAll(() => rmSync(home, { recursive: true, force: true }))

describe('one examined hole on a disk that is full', () => {
  const points = () => fewPointsOf(steps).filter(({ when }) => when === 'before')

  it(
    'at any step is refused, the record as it was, and goes on when there is room',
    async () => {
      expect(points().length).toBeGreaterThan(25)
      const broken: string[] = []
      for (const point of points()) {
        const folder = fresh(`full-${point.at}`)
        for (const law of await onFullDisk(folder, point.at)) broken.push(`${pointText(steps, point)}: ${law}`)
        rmSync(folder, { recursive: true })
      }
      expect(broken).toEqual([])
    },
    5 * minutes
  )

  async function onFullDisk(folder: string, at: number): Promise<readonly string[]> {
    const place = { folder, job, whole, goOn }
    const archive = await openArchive(join(folder, 'archive'), failingAt(at))
    if (isRefusal(archive)) return [...fullDisk(archive.code), ...(await afterStop(place, []))]
    const told: string[] = []
    const [no] = await examineOneHole({ recordings, archive, tell: (line) => told.push(line) })
    const asItWas = await notAsAcknowledged(archive, told)
    if (at > steps.lastIndexOf('commit')) return [...asItWas, ...(await onceClosed(place, archive, told))]
    const again = await goOn(archive)
    await archive.close()
    const codes = again.map(({ code }) => code)
    return [...asItWas, ...fullDisk(no?.code), ...codes, ...(await afterStop(place, told))]
  }

  /**
   * What brings the log into the database file at the end may fail: the log is as sound beside it. The driver then holds
   * the file as long as this process lives, so a copy is looked at.
   */
  async function onceClosed(place: Stopped, archive: Archive, told: readonly string[]): Promise<readonly string[]> {
    await archive.close()
    const folder = `${place.folder}-copy`
    cpSync(place.folder, folder, { recursive: true })
    return afterStop({ ...place, folder }, told)
  }

  /** The archive that has refused goes on to give what it has acknowledged, that and no more. */
  async function notAsAcknowledged(archive: Archive, told: readonly string[]): Promise<readonly string[]> {
    const appends = told.filter((line) => line.startsWith('entries ')).length
    const { count } = got(await archive.end(job))
    const more =
      count === whole.ends[appends] ? [] : [`${count} entries where ${whole.ends[appends]} were acknowledged`]
    return [...more, ...(await lostOf(archive, job, told)), ...(await halfOf(archive, job, whole))]
  }

  const fullDisk = (code: string | undefined): readonly string[] =>
    code === 'archive/disk-full' ? [] : [`said ${code ?? 'nothing'}`]
})
