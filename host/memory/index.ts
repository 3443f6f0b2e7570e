import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type EntryRow, type JobState, type Replayed, replayFrom } from '@trueloop/job/record'
import type { Archive, JobEnd, Remembered } from '../archive/index.ts'

/** What was read and replayed, kept in memory: a program that answers many times a minute. */

/** Jobs that are kept; the one that was asked for longest ago is dropped. Our own number: a person works on one or two. */
const most = 6

const states = new WeakMap<readonly EntryRow[], JobState>()

/** The longest record of each job that was replayed, by the hash of its first entry. */
const longest = new Map<string, Replayed>()

/**
 * The state that these very rows say; replayed once, for as long as somebody holds the rows. Rows that go on where others
 * of the same job have ended, or end before, are replayed from there: see `replayFrom`.
 */
export function replayed(rows: readonly EntryRow[]): JobState {
  const known = states.get(rows)
  if (known !== undefined) return known
  const first = rows[0]?.hash ?? ''
  const before = longest.get(first)
  const made = replayFrom(rows, before)
  states.set(rows, made.state)
  keepIn(longest, first, before === undefined || isLonger(made, before) ? made : before)
  return made.state
}

/** Another record that began alike, a merged one, takes the place of the one before it. */
const isLonger = ({ rows }: Replayed, before: Replayed): boolean =>
  rows.length >= before.rows.length || before.rows[rows.length - 1]?.hash !== rows.at(-1)?.hash

/** As the one that was asked for last; the one before all others is dropped where there are too many. */
function keepIn<T>(kept: Map<string, T>, key: string, value: T): void {
  kept.delete(key)
  kept.set(key, value)
  const oldest = kept.keys().next().value
  if (kept.size > most && oldest !== undefined) kept.delete(oldest)
}

interface Kept {
  readonly head: string
  readonly rows: readonly EntryRow[]
}

/** Rows of jobs, the same array as long as the chain ends as it did: they were found sound when they were read. */
export class EntryMemory implements Remembered {
  readonly #jobs = new Map<string, Kept>()
  readonly replay = replayed

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

  /** The rows of a job that ends so, where they are known. */
  rows({ id, count, head }: JobEnd): readonly EntryRow[] | undefined {
    const known = this.#jobs.get(id)
    return known !== undefined && known.rows.length === count && known.head === head ? known.rows : undefined
  }

  async #entries(archive: Archive, job: string): ReturnType<Archive['entries']> {
    const end = await archive.end(job)
    if (isRefusal(end)) return end
    const known = this.rows(end)
    if (known !== undefined) return this.#keep(job, { head: end.head, rows: known })
    const rows: Result<readonly EntryRow[]> = await archive.entries(job)
    return isRefusal(rows) ? (rows as never) : this.#keep(job, { head: end.head, rows: rows as readonly EntryRow[] })
  }

  #keep(job: string, kept: Kept): readonly EntryRow[] {
    if (kept.rows.length === 0) this.#jobs.delete(job)
    else keepIn(this.#jobs, job, kept)
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
