import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import { codes as crewCodes } from '../crew/index.ts'
import type { ChainInput } from './context.ts'
import { taskOf, type Work } from './examine.ts'
import type { Listening } from './reading.ts'

/** Scans that a crew examines while those before them are read, judged and recorded. */
export class Ahead {
  readonly #input: ChainInput
  /** by content */
  readonly #begun = new Map<string, Promise<Result<Examination>>>()

  constructor(input: ChainInput) {
    this.#input = input
  }

  /** Hands the next scans to the crew, as many as it has room for. Nothing happens where there is no crew. */
  begin(works: Iterable<Work>): void {
    const { crew, archive } = this.#input
    if (crew === undefined) return
    for (const work of works) {
      const { sha256 } = work.kept
      if (this.#begun.size >= crew.window) return
      if (!this.#begun.has(sha256)) this.#begun.set(sha256, crew.examine(taskOf(work, archive.originalPath(sha256))))
    }
  }

  /**
   * What the crew found in a scan. Undefined where it was not given to a crew, or the crew could not answer: a worker
   * that died says nothing about a recording, so it is not recorded as such but examined again, in this thread.
   */
  async found({ kept }: Work, { signal, tell }: Omit<Listening, 'take'>): Promise<Result<Examination> | undefined> {
    const begun = this.#begun.get(kept.sha256)
    if (begun === undefined) return undefined
    tell?.(0)
    const found = await begun
    this.#begun.delete(kept.sha256)
    signal?.throwIfAborted()
    return isRefusal(found) && crewCodes.some((code) => code === found.code) ? undefined : found
  }
}
