/**
 * Our side of the comparison, as a bundle of its own. `node examine.mjs JOBS.json thread` examines every scan in this
 * thread, its segments decoded before; `node examine.mjs JOBS.json crew WORKER.js N` with a crew of N workers, which read
 * for themselves. Prints one JSON line; the clock runs as in the peer: standardization before it.
 */
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { openCrew, type Task } from '@trueloop/host/crew'
import type { Examination } from '@trueloop/job/examine'
import { answerOf, type BenchJob, examineDecoded, sound, tasksOf } from './examine.adapter.ts'

interface Measured {
  readonly seconds: number
  /** not known of a crew: its workers read while others examine */
  readonly compute_seconds?: number
  readonly examinations: readonly Examination[]
}

function inThread(tasks: readonly Task[]): Measured {
  const timed = tasks.map(examineDecoded)
  const sum = (key: 'read_s' | 'compute_s') => timed.reduce((all, one) => all + one[key], 0)
  const compute_seconds = sum('compute_s')
  return {
    seconds: sum('read_s') + compute_seconds,
    compute_seconds,
    examinations: timed.map(({ examination }) => examination)
  }
}

/** From the first task to the last answer. The start of the workers is before it, as that of the processes is for the peer. */
async function withCrew(tasks: readonly Task[], program: string, workers: number): Promise<Measured> {
  const crew = openCrew({ program: pathToFileURL(program), workers })
  await crew.ready()
  const from = performance.now()
  const examinations: Examination[] = []
  for await (const found of crew.examineAll(tasks)) examinations.push(sound(found))
  const seconds = (performance.now() - from) / 1000
  await crew.close()
  return { seconds, examinations }
}

/** What every way must agree on to the last bit; warnings of the reader belong to a crew's notes alone. */
const digestOf = (examinations: readonly Examination[]): string => {
  const hash = createHash('sha256')
  for (const { notes: _, ...rest } of examinations) hash.update(JSON.stringify(rest))
  return hash.digest('hex')
}

const [path = '', mode = '', program = '', workers = ''] = process.argv.slice(2)
const { jobs } = JSON.parse(readFileSync(path, 'utf8')) as { readonly jobs: readonly BenchJob[] }
const tasks = jobs.map(tasksOf)
const { examinations, ...times } =
  mode === 'crew' ? await withCrew(tasks.flat(), program, Number(workers)) : inThread(tasks.flat())
const files = examinations.map(answerOf)
const lengths = tasks.map(({ length }) => length)
console.log(JSON.stringify({ ...times, lengths, files, digest: digestOf(examinations) }))
