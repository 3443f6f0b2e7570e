import type { MessagePort } from 'node:worker_threads'
import type { Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import { answerOf, type Parcel, unpacked } from './parcel.ts'
import type { Task } from './task.ts'

/** What a worker says first of all, once its program is loaded. */
export const READY = 'ready'

/**
 * What a worker does with what it is sent: one task after the other, each answered once, in order. What is thrown ends
 * the worker; the crew sees to the rest.
 */
export function serve(port: MessagePort | null, examine: (task: Task) => Result<Examination>): void {
  if (port === null) throw new Error('this program is a worker: it is started by a crew')
  port.postMessage(READY)
  let task: Task | undefined
  port.on('message', (parcel: Parcel) => {
    task = unpacked(parcel, task)
    const answer = answerOf(examine(task))
    port.postMessage(answer, answer.values === undefined ? [] : [answer.values.buffer])
  })
}
