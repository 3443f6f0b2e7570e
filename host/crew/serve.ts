import type { MessagePort } from 'node:worker_threads'
import type { Result } from '@trueloop/ground/refusal'
import { answerOf, columnsOf, type Parcel, unpacked } from './parcel.ts'
import type { Examined, Task, Tell } from './task.ts'

/** What a worker says first of all, once its program is loaded. */
export const READY = 'ready'

/** So many bytes between two words of how far a worker has come: some tens a second. */
const TOLD_EVERY = 1 << 20

/** Every further mebibyte, as a plain number. */
function telling(port: MessagePort): Tell {
  let next = TOLD_EVERY
  return (bytes) => {
    if (bytes < next) return
    next = bytes + TOLD_EVERY
    port.postMessage(bytes)
  }
}

/**
 * What a worker does with what it is sent: one task after the other, each answered once, in order. What is thrown ends
 * the worker; the crew sees to the rest.
 */
export function serve(port: MessagePort | null, examine: (task: Task, tell: Tell) => Result<Examined>): void {
  if (port === null) throw new Error('this program is a worker: it is started by a crew')
  port.postMessage(READY)
  let task: Task | undefined
  port.on('message', (parcel: Parcel) => {
    task = unpacked(parcel, task)
    const answer = answerOf(examine(task, telling(port)))
    port.postMessage(answer, columnsOf(answer))
  })
}
