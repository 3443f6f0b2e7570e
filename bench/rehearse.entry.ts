import { isRefusal } from '@trueloop/ground/refusal'
import { sheetOf } from '@trueloop/job/plan'
import { generate, memoryShelf, practiceOf } from '@trueloop/job/rehearse'

/** One JSON line: how long a recording of each hole takes once its tables are there, against its own duration. */
const read = sheetOf(JSON.parse(process.argv[2] ?? ''))
if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
const shelf = memoryShelf()
const from = performance.now()
const practice = practiceOf(read.sheet, 3, shelf)
if (isRefusal(practice)) throw new Error(practice.found)
const tables_ms = performance.now() - from
const holes = practice.recordings.map(({ file, scene, seed }) => {
  const start = performance.now()
  const { x, rate_Hz } = generate(scene, seed, shelf)
  return { file, flaws: scene.flaws.length, took_ms: performance.now() - start, lasts_ms: (1000 * x.length) / rate_Hz }
})
process.stdout.write(`${JSON.stringify({ tables_ms, holes })}\n`)
