import { type ChildProcess, spawn } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { randomFrom } from '@trueloop/ground/numerics'
import { checkJob } from '@trueloop/host/chain'
import { demoJob, falseNames, got, withArchive } from '@trueloop/host/chain/testing'
import { canonical, type EntryRow } from '@trueloop/job/record'

/**
 * The command `examine`, killed at moments drawn over the time that it takes undisturbed. An archive is killed again and
 * again until a run comes to its end; then another is begun. What one look has seen is there at every later one.
 */
export interface Kills {
  readonly program: string
  readonly kills: number
  readonly seed: string
  readonly say?: (line: string) => void
}

export interface Killed {
  readonly kills: number
  /** runs that came to their end after they had been killed */
  readonly finished: number
  /** kills after which so many entries were there */
  readonly entriesSeen: Readonly<Record<string, number>>
  readonly undisturbed_ms: number
  readonly broken: readonly string[]
}

const files = ['reference-start.wav', 'hole-P01.wav', 'hole-P02.wav', 'recheck-1.wav']

export async function killAtRandom({ program, kills, seed, say }: Kills): Promise<Killed> {
  const folder = mkdtempSync(join(tmpdir(), 'trueloop-kills-'))
  try {
    const sheet = demoJob(folder, files)
    const path = join(folder, 'job.json')
    writeFileSync(path, JSON.stringify(sheet))
    return await new Killing({ program, path, folder, job: sheet.job.id }).run({ kills, seed, say })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

interface Killable {
  readonly program: string
  readonly path: string
  readonly folder: string
  readonly job: string
}

class Killing {
  private readonly given: Killable
  private readonly broken: string[] = []
  private readonly entriesSeen: Record<string, number> = {}
  private whole: readonly string[] = []
  private homes = 0

  constructor(given: Killable) {
    this.given = given
  }

  async run({ kills, seed, say }: Pick<Kills, 'kills' | 'seed'> & { say: Kills['say'] }): Promise<Killed> {
    const duration = await this.undisturbed()
    const random = randomFrom(seed)
    let done = 0
    let finished = 0
    while (done < kills) {
      const home = this.freshHome()
      let seen: readonly EntryRow[] = []
      for (;;) {
        const after = done < kills ? duration * random.uniform() : undefined
        const killed = await this.started(home, after)
        seen = await this.looked(home, { seen, what: `kill ${done}, ${Math.round(after ?? 0)} ms` })
        if (!killed) break
        done++
        this.entriesSeen[seen.length] = (this.entriesSeen[seen.length] ?? 0) + 1
        if (done % 20 === 0) say?.(`${done} kills`)
      }
      finished++
      if (canonical(contentOf(seen)) !== canonical(this.whole))
        this.broken.push(`archive ${this.homes}: another record`)
      rmSync(home, { recursive: true })
    }
    const { entriesSeen, broken } = this
    return { kills: done, finished, entriesSeen, undisturbed_ms: Math.round(duration), broken }
  }

  private freshHome(): string {
    const home = join(this.given.folder, `home-${++this.homes}`)
    mkdirSync(home)
    return home
  }

  /** How long it takes, and what it records, when nobody disturbs it. */
  private async undisturbed(): Promise<number> {
    const home = this.freshHome()
    const from = performance.now()
    await this.started(home)
    const duration = performance.now() - from
    const rows = await this.looked(home, { seen: [], what: 'undisturbed' })
    this.whole = contentOf(rows)
    if (rows.length === 0) this.broken.push('undisturbed: nothing was recorded')
    return duration
  }

  /** True where the kill came before the end. */
  private async started(home: string, kill_ms?: number): Promise<boolean> {
    const { program, path } = this.given
    const env = { ...process.env, TRUELOOP_HOME: home }
    const child = spawn(process.execPath, [program, 'examine', path], { env, stdio: 'ignore' })
    const timer = kill_ms === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), kill_ms)
    const signal = await ended(child)
    clearTimeout(timer)
    if (signal === null && child.exitCode !== 0 && child.exitCode !== 1)
      this.broken.push(`ended with ${child.exitCode}`)
    return signal === 'SIGKILL'
  }

  private async looked(home: string, { seen, what }: Look): Promise<readonly EntryRow[]> {
    const { job } = this.given
    return withArchive(home, async (archive) => {
      const rows = got(await archive.entriesAsTheyLie(job))
      const { intact } = got(await checkJob(archive, job, {}))
      const lost = seen.filter(({ hash }, at) => rows[at]?.hash !== hash).map(({ seq }) => `entry ${seq} is lost`)
      const laws = [
        ...lost,
        ...intact.faults.map(({ place, found }) => `${place}: ${found}`),
        ...falseNames(archive.folder)
      ]
      const content = contentOf(rows)
      if (this.whole.length > 0 && canonical(content) !== canonical(this.whole.slice(0, content.length)))
        laws.push('not the beginning of the whole record')
      this.broken.push(...laws.map((law) => `${what}: ${law}`))
      return rows
    })
  }
}

interface Look {
  readonly seen: readonly EntryRow[]
  readonly what: string
}

/** All but the moment at which an entry was made. */
const contentOf = (rows: readonly EntryRow[]): readonly string[] =>
  rows.map(({ body }) => {
    const { at: _, ...rest } = JSON.parse(body)
    return canonical(rest)
  })

const ended = (child: ChildProcess): Promise<NodeJS.Signals | null> =>
  new Promise((resolve) => child.once('exit', (_, signal) => resolve(signal)))
