import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type EntryRow, type JobState, replay } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'

/** What was read and replayed, kept in memory while nothing has changed: a program that answers many times a minute. */

const states = new WeakMap<readonly EntryRow[], JobState>()

/** The state that these very rows say; replayed once, for as long as somebody holds the rows. */
export function replayed(rows: readonly EntryRow[]): JobState {
  const known = states.get(rows)
  if (known !== undefined) return known
  const state = replay(rows)
  states.set(rows, state)
  return state
}

interface Kept {
  readonly head: string
  readonly rows: readonly EntryRow[]
}

/** Jobs that are kept; the one that was asked for longest ago is dropped. Our own number: a person works on one or two. */
const most = 6

/** Rows of jobs, the same array as long as the chain ends as it did: they were found sound when they were read. */
export class EntryMemory {
  readonly #jobs = new Map<string, Kept>()

  /** The archive with entries from memory, where its end says that they are the same. */
  over(archive: Archive): Archive {
    return {
      ...archive,
      entries: (job) => this.#entries(archive, job),
      append: async (job, expectedSeq, entries) => {
        const done = await archive.append(job, expectedSeq, entries)
        if (!isRefusal(done)) this.#grown(job, expectedSeq, done as readonly EntryRow[])
        return done
      }
    }
  }

  async #entries(archive: Archive, job: string): ReturnType<Archive['entries']> {
    const end = await archive.end(job)
    if (isRefusal(end)) return end
    const known = this.#jobs.get(job)
    if (known !== undefined && known.rows.length === end.count && known.head === end.head) return this.#keep(job, known)
    const rows: Result<readonly EntryRow[]> = await archive.entries(job)
    return isRefusal(rows) ? (rows as never) : this.#keep(job, { head: end.head, rows: rows as readonly EntryRow[] })
  }

  #keep(job: string, kept: Kept): readonly EntryRow[] {
    this.#jobs.delete(job)
    if (kept.rows.length > 0) this.#jobs.set(job, kept)
    const oldest = this.#jobs.keys().next().value
    if (this.#jobs.size > most && oldest !== undefined) this.#jobs.delete(oldest)
    return kept.rows
  }

  /** What was appended to what is known is known too, without reading all of it again. */
  #grown(job: string, expectedSeq: number, rows: readonly EntryRow[]): void {
    const known = this.#jobs.get(job)
    const fresh = rows.filter(({ seq }) => seq >= expectedSeq)
    const follows = known !== undefined && known.rows.length === expectedSeq && fresh[0]?.previous === known.head
    if (!follows || fresh.some(({ seq }, at) => seq !== expectedSeq + at)) return
    this.#keep(job, { head: fresh.at(-1)?.hash ?? '', rows: [...known.rows, ...fresh] })
  }
}
