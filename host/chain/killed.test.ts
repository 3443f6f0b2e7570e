import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { buildStopped } from './testing/build-stopped.ts'
import { demoJob } from './testing/demo-job.ts'
import { afterStop, got, type Whole, wholeOf, withArchive } from './testing/laws.ts'
import { examineOneHole, oneHole, oneHoleSheet } from './testing/one-hole.ts'
import { fewPointsOf, type Point, pointText, sideBySide } from './testing/points.ts'
import { stoppedRun } from './testing/stopped-run.ts'

/**
 * One examined hole in a process that is killed (SIGKILL) at each step that the archive takes for it. Oracle: the record
 * of the same run undisturbed, at one fixed moment, so that the records must be equal to the bit; SHA-256 of Node.
 * A killed process leaves behind what the system has in its caches: that every step is synced before the next relies on
 * it shows in the list of steps, not in the kill.
 */

const job = oneHoleSheet().job.id
const minutes = 60_000
let home = ''
let recordings = ''
let bundle = ''
let steps: readonly string[] = []
let whole: Whole

const fresh = (name: string): string => {
  const folder = join(home, name)
  mkdirSync(folder)
  return folder
}

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-killed-'))
  recordings = fresh('recordings')
  demoJob(recordings, oneHole)
  bundle = await buildStopped()
  const folder = fresh('undisturbed')
  const { told } = await stoppedRun({ bundle, folder, recordings }, { at: -1, when: 'before' })
  steps = told.at(-1)?.split(' ').slice(1) ?? []
  whole = wholeOf(await withArchive(folder, async (archive) => got(await archive.entries(job))), told)
}, 2 * minutes)
afterAll(() => {
  rmSync(home, { recursive: true, force: true })
  rmSync(bundle, { force: true })
})

describe('one examined hole', () => {
  it('takes steps of every kind, and keeps two originals, each synced before its name is', () => {
    const kept = 'makeFolder create write sync makeFolder rename syncFolder'
    expect(steps.join(' ')).toContain(`${kept} ${kept}`)
    const kinds = ['change', 'commit', 'create', 'makeFolder', 'rename', 'sync', 'syncFolder', 'write']
    expect([...new Set(steps)].sort()).toEqual(kinds)
    expect(whole.ends).toHaveLength(3)
    expect(whole.rows).toHaveLength(whole.ends.at(-1) ?? 0)
  })

  it(
    'killed at any step has lost nothing acknowledged, left nothing half, and goes on to the same record',
    async () => {
      const broken = await sideBySide(3, fewPointsOf(steps), killedAt)
      expect(broken.flat()).toEqual([])
    },
    5 * minutes
  )

  async function killedAt(point: Point, index: number): Promise<readonly string[]> {
    const folder = fresh(`killed-${index}`)
    const { told, signal } = await stoppedRun({ bundle, folder, recordings }, point)
    const goOn = (archive: Parameters<typeof examineOneHole>[0]['archive']) => examineOneHole({ recordings, archive })
    const laws = await afterStop({ folder, job, whole, goOn }, told)
    rmSync(folder, { recursive: true })
    const alive = signal === 'SIGKILL' ? [] : ['it was not killed']
    return [...alive, ...laws].map((law) => `${pointText(steps, point)}: ${law}`)
  }
})
