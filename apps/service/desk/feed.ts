import { isRefusal } from '@trueloop/ground/refusal'
import type { Entry, EntryRow } from '@trueloop/job/record'
import type { HeldArchive } from '../held-archive.ts'
import { markOf } from '../mark.ts'

/** What happens to a job while pages look: entries of whoever has written them, progress, the folder watch. */

export interface FeedEvent {
  readonly event: 'entry' | 'head' | 'progress' | 'watch'
  /** number of the entry: where a page that was cut off goes on */
  readonly id?: number
  readonly data: unknown
}

type Tell = (event: FeedEvent) => void

interface Listener {
  readonly job: string
  readonly tell: Tell
  /** entries that it has been told of */
  count: number
}

/** How often the files of the archive are looked at for changes by other programs, ms. Our own number: within a second. */
const look_ms = 400

export class Feed {
  readonly #archive: HeldArchive
  readonly #listeners = new Set<Listener>()
  #timer: NodeJS.Timeout | undefined
  #mark = ''
  #looking: Promise<void> = Promise.resolve()

  constructor(archive: HeldArchive) {
    this.#archive = archive
  }

  /** Tells of every entry after the one of this number (absent: from now on) until the answer is called. */
  listen(job: string, tell: Tell, after?: number): () => void {
    const listener: Listener = { job, tell, count: after === undefined ? -1 : after + 1 }
    this.#listeners.add(listener)
    this.#timer ??= setInterval(() => void this.#look(), look_ms)
    void this.changed()
    return () => {
      this.#listeners.delete(listener)
      if (this.#listeners.size === 0) this.close()
    }
  }

  /** Something that is no entry. */
  tell(job: string, event: FeedEvent): void {
    for (const one of this.#listeners) if (one.job === job) one.tell(event)
  }

  /** The record may have grown: looks at once. */
  changed(): Promise<void> {
    this.#looking = this.#looking.then(() => this.#tellNew())
    return this.#looking
  }

  close(): void {
    clearInterval(this.#timer)
    this.#timer = undefined
  }

  /** While this service holds the archive nobody else writes; after it, the files say whether somebody has. */
  async #look(): Promise<void> {
    const mark = await markOf(this.#archive.folder)
    if (this.#archive.isHeld || mark === this.#mark || mark === this.#archive.mark) return
    this.#mark = mark
    await this.changed()
  }

  async #tellNew(): Promise<void> {
    const jobs = new Set([...this.#listeners].map(({ job }) => job))
    for (const job of jobs) {
      const told = await this.#archive.use(async (archive) => {
        const end = await archive.end(job)
        if (isRefusal(end)) return end
        const behind = [...this.#listeners].some((one) => one.job === job && one.count !== end.count)
        return behind ? archive.entries(job) : []
      })
      // in use elsewhere for longer: looked at again when that has ended
      if (isRefusal(told)) this.#mark = ''
      else if (told.length > 0) this.#tellRows(job, told as readonly EntryRow[])
    }
  }

  #tellRows(job: string, rows: readonly EntryRow[]): void {
    for (const one of this.#listeners) {
      if (one.job !== job || one.count === rows.length) continue
      const fresh = one.count < 0 ? [] : rows.slice(Math.min(one.count, rows.length))
      one.count = rows.length
      for (const row of fresh) one.tell({ event: 'entry', id: row.seq, data: entryData(row) })
      one.tell({ event: 'head', id: rows.length - 1, data: { count: rows.length, head: rows.at(-1)?.hash } })
    }
  }
}

/** Kind, place and person; what was said is read where it may be shown. */
function entryData({ seq, kind, body }: EntryRow) {
  const entry = JSON.parse(body) as Entry
  const of = 'subject' in entry ? entry.subject : entry.kind === 'recording-kept' ? entry.of : undefined
  const subject = of !== undefined && 'name' in of ? { subject: { of: of.of, name: of.name } } : {}
  return { seq, kind, by: entry.by, at: entry.at, ...subject }
}
