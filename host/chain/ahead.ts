import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { codes as crewCodes, type Examined } from '../crew/index.ts'
import type { ChainInput } from './context.ts'
import { taskOf, type Work } from './examine.ts'
import type { Listening } from './reading.ts'
import { withWall } from './walls.ts'

interface Begun {
  readonly found: Promise<Result<Examined>>
  /** how far the worker has come */
  bytes: number
  tell?: Listening['tell']
}

/** Scans that a crew examines while those before them are read, judged and recorded. */
export class Ahead {
  readonly #input: ChainInput
  /** by content */
  readonly #begun = new Map<string, Begun>()

  constructor(input: ChainInput) {
    this.#input = input
  }

  /** Hands the next scans to the crew, as many as it has room for. Nothing happens where there is no crew. */
  begin(works: Iterable<Work>): void {
    const { crew } = this.#input
    if (crew === undefined) return
    for (const work of works) {
      if (this.#begun.size >= crew.window) return
      if (!this.#begun.has(work.kept.sha256)) this.#give(crew, work)
    }
  }

  #give(crew: NonNullable<ChainInput['crew']>, work: Work): void {
    const { sha256 } = work.kept
    const task = taskOf(work, this.#input.archive.originalPath(sha256), withWall)
    const heard = (bytes: number) => {
      one.bytes = bytes
      one.tell?.(bytes)
    }
    const one: Begun = { found: crew.examine(task, heard), bytes: 0 }
    this.#begun.set(sha256, one)
  }

  /**
   * What the crew found in a scan. Undefined where it was not given to a crew, or the crew could not answer: a worker
   * that died says nothing about a recording, so it is not recorded as such but examined again, in this thread.
   */
  async found({ kept }: Work, { signal, tell }: Omit<Listening, 'take'>): Promise<Result<Examined> | undefined> {
    const begun = this.#begun.get(kept.sha256)
    if (begun === undefined) return undefined
    begun.tell = tell
    tell?.(begun.bytes)
    const found = await unlessAborted(begun.found, signal)
    this.#begun.delete(kept.sha256)
    signal?.throwIfAborted()
    return isRefusal(found) && crewCodes.some((code) => code === found.code) ? undefined : found
  }
}

/** An abort does not wait for the end of what a worker is at: it throws, as one in this thread does. */
function unlessAborted<T>(found: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (signal === undefined) return found
  return new Promise((resolve, reject) => {
    const stop = () => reject(signal.reason)
    if (signal.aborted) return stop()
    signal.addEventListener('abort', stop, { once: true })
    void found.then(resolve).finally(() => signal.removeEventListener('abort', stop))
  })
}
