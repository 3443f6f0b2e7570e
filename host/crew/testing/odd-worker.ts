/** A worker for tests: it does what the name of a task says, and answers with that name. */
import { parentPort, threadId } from 'node:worker_threads'
import { serve } from '../serve.ts'

const sleep = (ms: number) => Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms)

serve(parentPort, ({ name }) => {
  if (name === 'exits') process.exit(3)
  if (name === 'throws') throw new Error('a defect on purpose')
  if (name.startsWith('endless')) for (;;) sleep(1000)
  if (name.startsWith('slow')) sleep(150)
  return { refused: true, code: 'test/answer', found: name, needed: String(threadId), remedy: '' }
})
