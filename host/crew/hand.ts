import { Worker } from 'node:worker_threads'
import type { Result } from '@trueloop/ground/refusal'
import { type Answer, foundIn, parcelOf } from './parcel.ts'
import { READY } from './serve.ts'
import type { Examined, Task, Tell } from './task.ts'

/** A task, and who waits for its answer. */
export interface Given {
  readonly task: Task
  readonly answer: (found: Result<Examined>) => void
  /** how far the worker has come with it */
  readonly tell?: Tell | undefined
}

export interface Listening {
  /** a task is answered: another one may be given */
  readonly free: () => void
  /** the worker has ended, for this reason, with these tasks not answered; the first is the one it was at */
  readonly gone: (hand: Hand, left: readonly Given[], why: string) => void
}

/** One worker and the tasks that lie with it. It answers them in their order. */
export class Hand {
  /** resolves when its program is loaded, or when it has ended */
  readonly ready: Promise<void>
  readonly #worker: Worker
  readonly #given: Given[] = []
  #sent: Task | undefined
  #trouble: string | undefined

  constructor(program: URL, listening: Listening) {
    this.#worker = new Worker(program)
    this.ready = new Promise((resolve) => {
      this.#worker.once('message', () => resolve())
      this.#worker.once('exit', () => resolve())
    })
    this.#worker.on('message', (answer: typeof READY | number | Answer) => {
      if (answer === READY) return
      if (typeof answer === 'number') return void this.#given[0]?.tell?.(answer)
      this.#given.shift()?.answer(foundIn(answer))
      listening.free()
    })
    // An 'error' is always followed by 'exit'; what was answered before has been heard by then.
    this.#worker.on('error', (error) => {
      this.#trouble = error instanceof Error ? error.message : String(error)
    })
    this.#worker.on('exit', (code) =>
      listening.gone(this, this.#given.splice(0), this.#trouble ?? `it ended by itself with code ${code}`)
    )
  }

  get load(): number {
    return this.#given.length
  }

  give(given: Given): void {
    this.#given.push(given)
    this.#worker.postMessage(parcelOf(given.task, this.#sent))
    this.#sent = given.task
  }

  /** Ends the worker, whatever it is at. */
  async end(): Promise<void> {
    await this.#worker.terminate()
  }
}
