import { setTimeout as sleep } from 'node:timers/promises'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openPatiently } from '@trueloop/host/archive'
import { EntryMemory } from '@trueloop/host/memory'
import { markOf } from './mark.ts'

/**
 * Times of the hold, ms. Our own numbers: a burst of requests of one page opens the archive once; a command that waits
 * (see `openPatiently`) gets in after a moment, however many requests there are.
 */
export interface Hold {
  /** it is let go so long after the last request */
  readonly idle_ms: number
  /** after so long it is let go as soon as nothing is under way, and requests wait */
  readonly longest_ms: number
  /** and stays free for so long */
  readonly pause_ms: number
}

const usual: Hold = { idle_ms: 600, longest_ms: 2000, pause_ms: 150 }

/** An archive that several requests share while it is open. What writes is done one after the other. */
export class HeldArchive {
  readonly folder: string
  readonly #hold: Hold
  #archive: Promise<Result<Archive>> | undefined
  #openedAt = 0
  #users = 0
  #long = 0
  #timer: NodeJS.Timeout | undefined
  #letting: Promise<void> = Promise.resolve()
  #turn: Promise<unknown> = Promise.resolve()
  #idle: (() => void)[] = []
  #mark = ''
  readonly #memory = new EntryMemory()

  constructor(folder: string, hold: Hold = usual) {
    this.folder = folder
    this.#hold = hold
  }

  get isHeld(): boolean {
    return this.#archive !== undefined
  }

  /** The files of the archive as this program has left them: see `markOf`. */
  get mark(): string {
    return this.#mark
  }

  /** Refuses what opening the archive refuses. */
  async use<T>(work: (archive: Archive) => Promise<Result<T>>): Promise<Result<T>> {
    await this.#rest()
    await this.#letting
    this.#users++
    clearTimeout(this.#timer)
    try {
      const archive = await this.#opened()
      return isRefusal(archive) ? archive : await work(archive)
    } finally {
      this.#users--
      if (this.#users === 0) this.#whenIdle()
    }
  }

  /** The same for work that may take long: others share the archive with it meanwhile, and do not wait for its end. */
  async useLong<T>(work: (archive: Archive) => Promise<Result<T>>): Promise<Result<T>> {
    this.#long++
    try {
      return await this.use(work)
    } finally {
      this.#long--
    }
  }

  /** The same, after every writing that was asked for before. */
  write<T>(work: (archive: Archive) => Promise<Result<T>>): Promise<Result<T>> {
    const mine = this.#turn.then(() => this.useLong(work))
    this.#turn = mine.catch(() => undefined)
    return mine
  }

  /** Lets go at once, after what is under way. */
  async close(): Promise<void> {
    await this.#turn
    clearTimeout(this.#timer)
    if (this.#users > 0) await new Promise<void>((resolve) => void this.#idle.push(resolve))
    clearTimeout(this.#timer)
    this.#letGo()
    await this.#letting
  }

  async #opened(): Promise<Result<Archive>> {
    if (this.#archive === undefined) {
      this.#openedAt = performance.now()
      this.#archive = openPatiently(this.folder, { brief: true, memory: this.#memory }).then((archive) =>
        isRefusal(archive) ? archive : this.#memory.over(archive)
      )
    }
    const archive = await this.#archive
    if (isRefusal(archive)) this.#archive = undefined
    return archive
  }

  #whenIdle(): void {
    for (const told of this.#idle.splice(0)) told()
    this.#timer = setTimeout(() => this.#letGo(), this.#hold.idle_ms)
    this.#timer.unref()
  }

  #letGo(): void {
    const held = this.#archive
    if (held === undefined || this.#users > 0) return
    this.#archive = undefined
    this.#letting = held.then(async (archive) => {
      if (isRefusal(archive)) return
      await archive.close()
      this.#mark = await markOf(this.folder)
    })
  }

  /** Held for long: who waits outside comes first. */
  async #rest(): Promise<void> {
    const isTired = () => performance.now() - this.#openedAt > this.#hold.longest_ms
    while (this.#archive !== undefined && isTired() && !(this.#long > 0 && this.#users > 0)) {
      if (this.#users > 0) await new Promise<void>((resolve) => void this.#idle.push(resolve))
      this.#letGo()
      await this.#letting
      await sleep(this.#hold.pause_ms)
    }
  }
}
