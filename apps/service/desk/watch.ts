import { constants, createReadStream, type Dirent, type FSWatcher, watch as watchFolder } from 'node:fs'
import { lstat, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { wallClock } from '@trueloop/host/clock'
import type { Crew } from '@trueloop/host/crew'
import { sha256Of } from '@trueloop/host/hash'
import { replayed } from '@trueloop/host/memory'
import type { EntryOf } from '@trueloop/job/record'
import type { IntakeFile, IntakeSubject, WatchView } from '../api/schemas/index.ts'
import { refuse } from '../codes.ts'
import type { HeldArchive } from '../held-archive.ts'
import type { Feed } from './feed.ts'
import { mostBytes, takeIn, tooLarge, type Verdict } from './intake.ts'

/**
 * A folder into which an instrument writes its recordings. Nothing in it is ever changed, moved or removed. A file counts
 * as written when its size and its time have stood still for a while; one that grows after that is another recording.
 */
export interface Timing {
  /** how often the folder is looked at, whatever the operating system tells, ms */
  readonly look_ms: number
  /** how long size and time stand still before a file is read: writers pause between blocks, ms */
  readonly still_ms: number
}

/** Our own numbers: instruments write in blocks, many times a second; the verdict is wanted before the probe is put down. */
export const usualTiming: Timing = { look_ms: 300, still_ms: 900 }

/** Most files that are shown, and looked through when a watch begins. Our own number. */
const mostFiles = 200

interface Found {
  name: string
  key: string
  since: number
  changed_ms: number
  bytes: number
  told: IntakeFile
}

interface Expecting {
  readonly job: string
  readonly by: string
  subject: IntakeSubject | undefined
}

export interface Watched {
  readonly folder: string
  readonly archive: HeldArchive
  readonly feed: Feed
  readonly timing?: Timing
  readonly crew?: Crew | undefined
}

export class FolderWatch {
  readonly #given: Watched
  readonly #timing: Timing
  readonly #found = new Map<string, Found>()
  #expecting: Expecting | undefined
  #trouble: Refusal | undefined
  #watcher: FSWatcher | undefined
  #timer: NodeJS.Timeout | undefined
  #turn: Promise<void> = Promise.resolve()
  readonly #ending = new AbortController()

  constructor(given: Watched) {
    this.#given = given
    this.#timing = given.timing ?? usualTiming
  }

  view(): WatchView {
    const { job, by, subject } = this.#expecting ?? {}
    const files = [...this.#found.values()].map(({ told }) => told).sort((a, b) => (a.at < b.at ? -1 : 1))
    const { refused: _, ...trouble } = this.#trouble ?? { refused: true }
    return {
      watches: true,
      ...(job === undefined ? {} : { job }),
      ...(subject === undefined ? {} : { expects: subject }),
      ...(by === undefined ? {} : { by }),
      ...(this.#trouble === undefined ? {} : { trouble: trouble as NonNullable<WatchView['trouble']> }),
      files: files.slice(-mostFiles)
    }
  }

  /** From now on, what appears is of this. Begins to look where nobody has yet. */
  async expect(job: string, by: string, subject: IntakeSubject | undefined): Promise<void> {
    const isBegin = this.#expecting?.job !== job
    this.#expecting = { job, by, subject }
    // the verdict is wanted at once: whoever examines has their program loaded by then
    void this.#given.crew?.ready()
    if (isBegin) await this.#begin(job)
    this.#timer ??= setInterval(() => void this.#look(), this.#timing.look_ms)
    void this.#look()
  }

  /** Takes a file that lay there before as what is expected. Refuses service/no-such-file. */
  take(name: string): Result<undefined> {
    const one = this.#found.get(name)
    if (one === undefined || one.told.state !== 'lies there') return noFile(name)
    this.#tell(one, { state: 'waits', why: [] })
    void this.#look()
    return undefined
  }

  async close(): Promise<void> {
    clearInterval(this.#timer)
    this.#watcher?.close()
    this.#ending.abort()
    await this.#turn.catch(() => undefined)
  }

  /** What lies there already is known by its content, or told as lying there; none of it is taken by itself. */
  async #begin(job: string): Promise<void> {
    this.#found.clear()
    this.#notice()
    const recorded = await this.#recordings(job)
    for (const { name } of (await this.#files()).slice(0, mostFiles)) {
      const one = await this.#meet(name)
      if (one === undefined || one.told.state === 'passed over') continue
      const entry = recorded.get((await this.#hash(name)) ?? '')
      if (entry === undefined) this.#tell(one, { state: 'lies there', why: [] })
      else this.#tell(one, { state: 'recorded', why: [], recording: entry.sha256 }, entry.of)
    }
  }

  #notice(): void {
    try {
      this.#watcher ??= watchFolder(this.#given.folder, () => void this.#look()).on('error', () => undefined)
    } catch {
      // looked at again and again all the same
    }
  }

  async #recordings(job: string): Promise<ReadonlyMap<string, EntryOf<'recording-kept'>>> {
    const rows = await this.#given.archive.use((archive) => archive.entries(job))
    if (isRefusal(rows) || rows.length === 0) return new Map()
    return new Map(replayed(rows).recordings.map((entry) => [entry.sha256, entry]))
  }

  #look(): Promise<void> {
    this.#turn = this.#turn.then(() => this.#once()).catch((error: unknown) => this.#broken(error))
    return this.#turn
  }

  async #once(): Promise<void> {
    if (this.#ending.signal.aborted) return
    const names = (await this.#files()).map(({ name }) => name)
    this.#forget(new Set(names))
    for (const name of names) await this.#meet(name)
    const now = performance.now()
    for (const one of this.#found.values()) {
      const isStill = now - one.since >= this.#timing.still_ms && one.bytes > 0
      if (one.told.state === 'being written' && isStill) this.#tell(one, { state: 'waits', why: [] })
    }
    const expecting = this.#expecting
    const waiting = [...this.#found.values()].filter(({ told }) => told.state === 'waits')
    const next = waiting.sort((a, b) => a.changed_ms - b.changed_ms)[0]
    if (next !== undefined && expecting?.subject !== undefined) await this.#read(next, expecting, expecting.subject)
  }

  /** Folders, links and hidden files are no recordings; what is no plain file is told once. */
  async #files(): Promise<readonly Dirent[]> {
    try {
      const all = await readdir(this.#given.folder, { withFileTypes: true })
      this.#trouble = undefined
      return all.filter(({ name }) => !name.startsWith('.'))
    } catch (error) {
      this.#trouble = unreachable(error)
      return []
    }
  }

  async #meet(name: string): Promise<Found | undefined> {
    const file = await lstat(join(this.#given.folder, name)).catch(() => undefined)
    if (file === undefined) return undefined
    const key = `${file.size}@${file.mtimeMs}`
    const before = this.#found.get(name)
    if (before?.key === key) return before
    const base = { name, key, since: performance.now(), changed_ms: file.mtimeMs, bytes: file.size }
    const told: IntakeFile = { file: name, state: 'being written', why: [], at: wallClock().time }
    const one: Found = { ...base, told }
    this.#found.set(name, one)
    const no = file.isFile()
      ? file.size > mostBytes
        ? tooLarge(name)
        : undefined
      : noFile(name, 'a folder, a link or a device')
    this.#tell(one, no === undefined ? { state: 'being written', why: [] } : { state: 'passed over', why: [plain(no)] })
    return one
  }

  /** Gone again: told where it had not been read. */
  #forget(names: ReadonlySet<string>): void {
    for (const [name, one] of this.#found) {
      if (names.has(name)) continue
      this.#found.delete(name)
      const isUnread = one.told.state === 'being written' || one.told.state === 'waits'
      if (isUnread) this.#tell(one, { state: 'passed over', why: [plain(gone(name))] })
    }
  }

  async #read(one: Found, { job, by }: Expecting, subject: IntakeSubject): Promise<void> {
    const { archive, feed, crew } = this.#given
    this.#tell(one, { state: 'being read', why: [] }, subject)
    const tell = (progress: object) => feed.tell(job, { event: 'progress', data: progress })
    const taken = wallClock(new Date(one.changed_ms))
    const incoming = { job, by, subject, file: one.name, bytes: this.#bytes(one.name), taken, tell, crew }
    const verdict = await takeIn(archive, { ...incoming, signal: this.#ending.signal })
    const now = this.#verdictFor(one, verdict)
    // written on while it was read: what was read is half of it, and the rest comes as another file
    const after = await this.#meet(one.name)
    if (after === one || now.recording !== undefined) this.#tell(one, now, subject)
    else if (after === undefined) this.#tell(one, { state: 'passed over', why: [plain(gone(one.name))] }, subject)
    if (now.state === 'complete' && this.#expecting?.job === job && this.#expecting.subject === subject)
      this.#expecting.subject = undefined
    void feed.changed()
  }

  #verdictFor(one: Found, verdict: Result<Verdict | undefined>): Verdict {
    if (verdict === undefined) return { state: 'passed over', why: [plain(gone(one.name))] }
    if (!isRefusal(verdict)) return verdict as Verdict
    // the archive is in use elsewhere: it is tried again
    if (verdict.code === 'archive/locked') return { state: 'waits', why: [plain(verdict)] }
    return { state: 'scan again', why: [plain(verdict)] }
  }

  /** A link that has taken the place of the file meanwhile is not followed. */
  #bytes(name: string): AsyncIterable<Uint8Array> {
    const flags = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0)
    return createReadStream(join(this.#given.folder, name), { flags: flags as unknown as string })
  }

  async #hash(name: string): Promise<string | undefined> {
    try {
      return await sha256Of(this.#bytes(name))
    } catch {
      return undefined
    }
  }

  #tell(one: Found, verdict: Verdict, subject?: IntakeSubject): void {
    const of = subject ?? one.told.subject
    one.told = { file: one.name, ...verdict, ...(of === undefined ? {} : { subject: of }), at: wallClock().time }
    const { job } = this.#expecting ?? {}
    if (job !== undefined) this.#given.feed.tell(job, { event: 'watch', data: one.told })
  }

  #broken(error: unknown): void {
    if (!this.#ending.signal.aborted) this.#trouble = unreachable(error)
  }
}

const plain = ({ refused: _, ...reason }: Refusal): IntakeFile['why'][number] => reason

const noFile = (name: string, found = `no file "${name}" that lies there unread`): Refusal =>
  refuse('service/no-such-file', {
    found,
    needed: 'a plain file in the watched folder',
    remedy: 'let the instrument write its recordings as files, directly into the folder'
  })

const gone = (name: string): Refusal =>
  refuse('service/file-gone', {
    found: `${name}, which was gone before it could be read`,
    needed: 'a file that stays where it was written',
    remedy: 'write it again; nothing of it is in the record'
  })

const unreachable = (error: unknown): Refusal =>
  refuse('service/folder-unreachable', {
    found: `a watched folder that can not be looked at: ${(error as NodeJS.ErrnoException).code ?? 'unreadable'}`,
    needed: 'the folder that was named when the service was started',
    remedy: 'make it reachable again: the watch goes on by itself'
  })
