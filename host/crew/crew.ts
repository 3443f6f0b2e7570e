import { availableParallelism } from 'node:os'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'
import { type Given, Hand } from './hand.ts'
import type { Examined, Task, Tell } from './task.ts'

/** Workers that examine recordings side by side. What they find is equal to the byte to what one thread finds. */
export interface Crew {
  /** how many work side by side at most */
  readonly workers: number
  /** how many tasks are worth handing in before the first answer: more only wait */
  readonly window: number
  /** Starts every worker now, not only when tasks need it; resolves when their program is loaded (or they have ended). */
  ready(): Promise<void>
  /**
   * One recording. Never rejects: refuses `crew/worker-died`, `crew/closed`, and what `examineTask` refuses. Tasks are
   * begun in the order of the calls. `tell`: how far the worker has come with it.
   */
  examine(task: Task, tell?: Tell): Promise<Result<Examined>>
  /**
   * Many recordings; answers in the order of the tasks, whatever the order of finishing. A task is drawn only when there
   * is room for it, so that neither recordings nor answers pile up.
   */
  examineAll(tasks: Iterable<Task> | AsyncIterable<Task>): AsyncGenerator<Result<Examined>, void, undefined>
  /** Ends every worker; what is not answered by then is refused (`crew/closed`). To be called once all is done: idle workers hold the process. */
  close(): Promise<void>
}

export interface CrewOptions {
  /** the built entry `worker` */
  readonly program: URL
  /** default: as many as the machine runs side by side */
  readonly workers?: number
  /** closes the crew when aborted */
  readonly signal?: AbortSignal
}

/** Tasks that lie with a worker at a time: the one it is at, and the next, so that it never waits for us. */
const TASKS_A_WORKER = 2

/** Opens a crew. Its workers are started when the first tasks need them. */
export function openCrew({ program, workers = availableParallelism(), signal }: CrewOptions): Crew {
  if (!Number.isInteger(workers) || workers < 1) throw new Error(`a crew of ${workers} workers`)
  const pool = new Pool(program, workers)
  if (signal?.aborted === true) void pool.close()
  signal?.addEventListener('abort', () => void pool.close(), { once: true })
  return pool
}

class Pool implements Crew {
  readonly workers: number
  readonly #program: URL
  readonly #hands = new Set<Hand>()
  #waiting: Given[] = []
  #closed = false

  constructor(program: URL, workers: number) {
    this.#program = program
    this.workers = workers
  }

  get window(): number {
    return TASKS_A_WORKER * this.workers
  }

  async ready(): Promise<void> {
    while (!this.#closed && this.#hands.size < this.workers) this.#hire()
    await Promise.all([...this.#hands].map((hand) => hand.ready))
  }

  examine(task: Task, tell?: Tell): Promise<Result<Examined>> {
    return new Promise((answer) => {
      if (this.#closed) return answer(closed(task))
      this.#waiting.push({ task, answer, tell })
      this.#handOut()
    })
  }

  async *examineAll(tasks: Iterable<Task> | AsyncIterable<Task>): AsyncGenerator<Result<Examined>, void, undefined> {
    const begun: Promise<Result<Examined>>[] = []
    for await (const task of tasks) {
      begun.push(this.examine(task))
      if (begun.length === this.window) yield (await begun.shift()) as Result<Examined>
    }
    for (const found of begun) yield await found
  }

  async close(): Promise<void> {
    this.#closed = true
    for (const { task, answer } of this.#waiting.splice(0)) answer(closed(task))
    await Promise.all([...this.#hands].map((hand) => hand.end()))
  }

  #handOut(): void {
    while (this.#waiting.length > 0 && !this.#closed) {
      const hand = this.#freeHand()
      if (hand === undefined) return
      hand.give(this.#waiting.shift() as Given)
    }
  }

  /** An idle one before a new one, a new one before a second task for one that works. */
  #freeHand(): Hand | undefined {
    const [least] = [...this.#hands].sort((a, b) => a.load - b.load)
    if (least?.load === 0) return least
    if (this.#hands.size < this.workers) return this.#hire()
    return least !== undefined && least.load < TASKS_A_WORKER ? least : undefined
  }

  #hire(): Hand {
    const hand = new Hand(this.#program, {
      free: () => this.#handOut(),
      gone: (one, left, why) => this.#lost(one, left, why)
    })
    this.#hands.add(hand)
    return hand
  }

  /** The task it was at is answered with why; those it had not begun go to another. Each death costs a task, so it ends. */
  #lost(hand: Hand, left: readonly Given[], why: string): void {
    this.#hands.delete(hand)
    if (this.#closed) {
      for (const { task, answer } of left) answer(closed(task))
      return
    }
    const [at, ...rest] = left
    at?.answer(died(at.task, why))
    this.#waiting = [...rest, ...this.#waiting]
    this.#handOut()
  }
}

const died = ({ name }: Task, why: string): Refusal<Code> =>
  refuse('crew/worker-died', {
    found: `the worker that examined it ended before its answer: ${why}`,
    needed: 'a worker that lives until it has answered',
    remedy: 'examine this recording again; if it happens again, with less else running on the machine',
    where: { file: name }
  })

const closed = ({ name }: Task): Refusal<Code> =>
  refuse('crew/closed', {
    found: 'a crew that was closed before this recording was examined',
    needed: 'a crew that is open until the last answer',
    remedy: 'run the command again: it goes on where it stopped',
    where: { file: name }
  })
