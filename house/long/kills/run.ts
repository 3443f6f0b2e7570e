/**
 * The command `examine`, killed at 200 moments drawn over its time, and one examined hole killed before, within and after
 * every single step that the archive takes. Laws: nothing that was acknowledged is lost, nothing is half there, the next
 * run goes on to the record of an undisturbed one.
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { killAtRandom } from '../../../apps/cli/testing/kills.ts'
import { demoJob } from '../../../host/chain/testing/demo-job.ts'
import { afterStop, got, type Whole, wholeOf, withArchive } from '../../../host/chain/testing/laws.ts'
import { examineOneHole, oneHole, oneHoleSheet } from '../../../host/chain/testing/one-hole.ts'
import { type Point, pointsOf, pointText, sideBySide } from '../../../host/chain/testing/points.ts'
import { stoppedRun } from '../../../host/chain/testing/stopped-run.ts'

interface Context {
  /** the command line's program */
  readonly program: string
  /** the program that stops itself */
  readonly stopped: string
  readonly kills: number
  readonly say: (line: string) => void
}

const job = oneHoleSheet().job.id

/** Every step, twice or three times. */
async function atEveryStep(home: string, bundle: string) {
  const recordings = join(home, 'recordings')
  mkdirSync(recordings)
  demoJob(recordings, oneHole)
  const begun = join(home, 'undisturbed')
  mkdirSync(begun)
  const { told } = await stoppedRun({ bundle, folder: begun, recordings }, { at: -1, when: 'before' })
  const steps = told.at(-1)?.split(' ').slice(1) ?? []
  const whole = wholeOf(await withArchive(begun, async (archive) => got(await archive.entries(job))), told)
  const killedAt = async (point: Point, index: number) => {
    const folder = join(home, `killed-${index}`)
    mkdirSync(folder)
    const { told: said, signal } = await stoppedRun({ bundle, folder, recordings }, point)
    const laws = await afterStop(
      { folder, job, whole, goOn: (archive) => examineOneHole({ recordings, archive }) },
      said
    )
    rmSync(folder, { recursive: true })
    return [...(signal === 'SIGKILL' ? [] : ['it was not killed']), ...laws].map(
      (law) => `${pointText(steps, point)}: ${law}`
    )
  }
  const points = pointsOf(steps)
  const broken = (await sideBySide(2, points, killedAt)).flat()
  return { steps: countsOf(steps), entries: (whole satisfies Whole).rows.length, kills: points.length, broken }
}

const countsOf = (names: readonly string[]): Readonly<Record<string, number>> =>
  Object.fromEntries([...new Set(names)].sort().map((name) => [name, names.filter((one) => one === name).length]))

export async function runKills({ program, stopped, kills, say }: Context) {
  const home = mkdtempSync(join(tmpdir(), 'trueloop-long-kills-'))
  try {
    say('every step …')
    const steps = await atEveryStep(home, stopped)
    say('by command …')
    const byCommand = await killAtRandom({ program, kills, seed: 'kills by command', say })
    return { ok: steps.broken.length + byCommand.broken.length === 0, steps, byCommand }
  } finally {
    rmSync(home, { recursive: true, force: true })
  }
}
