/**
 * Our side of the comparison, as a bundle of its own. `node examine.mjs JOBS.json thread` examines every scan in this
 * thread, its segments decoded before; `node examine.mjs JOBS.json crew WORKER.js N` with a crew of N workers, which read
 * for themselves. Goes through the job twice: as a fresh process, and warmed, when the engine knows what is hot.
 * Prints one JSON line; the clock runs as in the peer: standardization before it.
 */
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { pathToFileURL } from 'node:url'
import { type Crew, openCrew, type Task } from '@trueloop/host/crew'
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
async function byCrew(tasks: readonly Task[], crew: Crew): Promise<Measured> {
  const from = performance.now()
  const examinations: Examination[] = []
  for await (const found of crew.examineAll(tasks)) examinations.push(sound(found))
  return { seconds: (performance.now() - from) / 1000, examinations }
}

async function crewOf(program: string, workers: number): Promise<Crew> {
  const crew = openCrew({ program: pathToFileURL(program), workers })
  await crew.ready()
  return crew
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
const crew = mode === 'crew' ? await crewOf(program, Number(workers)) : undefined
const goThrough = async () => (crew === undefined ? inThread(tasks.flat()) : await byCrew(tasks.flat(), crew))
const { examinations, ...times } = await goThrough()
const digest = digestOf(examinations)
const { examinations: again, ...warm } = await goThrough()
if (digestOf(again) !== digest) throw new Error('the second time finds otherwise than the first')
await crew?.close()
const files = examinations.map(answerOf)
const lengths = tasks.map(({ length }) => length)
console.log(JSON.stringify({ ...times, warm, lengths, files, digest }))
