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
  readonly told: Told
}

/** Each is looked at when it is there, with the clock standing, and let go, as the peer lets go of its own. */
function inThread(tasks: readonly Task[]): Measured {
  const told = new Told()
  let [read_s, compute_s] = [0, 0]
  for (const task of tasks) {
    const timed = examineDecoded(task)
    read_s += timed.read_s
    compute_s += timed.compute_s
    told.add(timed.examination)
  }
  return { seconds: read_s + compute_s, compute_seconds: compute_s, told }
}

/** From the first task to the last answer. The start of the workers is before it, as that of the processes is for the peer. */
async function byCrew(tasks: readonly Task[], crew: Crew): Promise<Measured> {
  const from = performance.now()
  const examinations: Examination[] = []
  for await (const found of crew.examineAll(tasks)) examinations.push(sound(found).examination)
  const seconds = (performance.now() - from) / 1000
  const told = new Told()
  for (const examination of examinations) told.add(examination)
  return { seconds, told }
}

/** What every way must agree on to the last bit; warnings of the reader belong to a crew's notes alone. */
class Told {
  readonly files: ReturnType<typeof answerOf>[] = []
  readonly #hash = createHash('sha256')

  add(examination: Examination): void {
    const { notes: _, ...rest } = examination
    this.#hash.update(JSON.stringify(rest))
    this.files.push(answerOf(examination))
  }

  digest(): string {
    return this.#hash.digest('hex')
  }
}

async function crewOf(program: string, workers: number): Promise<Crew> {
  const crew = openCrew({ program: pathToFileURL(program), workers })
  await crew.ready()
  return crew
}

const [path = '', mode = '', program = '', workers = ''] = process.argv.slice(2)
const { jobs } = JSON.parse(readFileSync(path, 'utf8')) as { readonly jobs: readonly BenchJob[] }
const tasks = jobs.map(tasksOf)
const crew = mode === 'crew' ? await crewOf(program, Number(workers)) : undefined
const goThrough = async () => (crew === undefined ? inThread(tasks.flat()) : await byCrew(tasks.flat(), crew))
const { told, ...times } = await goThrough()
const { told: again, ...warm } = await goThrough()
const digest = told.digest()
if (again.digest() !== digest) throw new Error('the second time finds otherwise than the first')
await crew?.close()
const lengths = tasks.map(({ length }) => length)
console.log(JSON.stringify({ ...times, warm, lengths, files: told.files, digest }))
