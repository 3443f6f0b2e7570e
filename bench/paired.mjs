/**
 * Two programs on the same question, measured fairly: fresh processes, pinned to one core where the machine can,
 * in the order A B B A (so that a drift of the machine hits both alike), the ratio taken pair by pair, the median of the
 * ratios reported. Answers are compared before any ratio is printed; unequal answers end the run without one.
 */
import { spawn } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { isDeepStrictEqual } from 'node:util'
import { provenance } from '../scripts/lib/provenance.mjs'
import { findTool } from '../scripts/lib/tools.mjs'

const leastPairs = 9

/**
 * @typedef {{ answer: unknown, figures: Record<string, number> }} Reading what a program's output says; figures are times, s
 * @typedef {{ name: string, command: string, args: string[], read: (stdout: string) => Reading }} Side
 */

/** Fresh process, pinned; resolves to the reading with the whole time of the process as `process_s`. */
function runOnce({ name, command, args, read }, pin) {
  const [program, ...rest] = [...pin, command, ...args]
  const from = performance.now()
  const child = spawn(program, rest, { stdio: ['ignore', 'pipe', 'pipe'] })
  const text = { stdout: '', stderr: '' }
  for (const stream of ['stdout', 'stderr'])
    child[stream].setEncoding('utf8').on('data', (more) => {
      text[stream] += more
    })
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('close', (code) => {
      const process_s = (performance.now() - from) / 1000
      if (code !== 0) return reject(new Error(`${name} ended with ${code}\n${text.stderr.slice(-2000)}`))
      const { answer, figures } = read(text.stdout)
      resolve({ answer, figures: { ...figures, process_s } })
    })
  })
}

/** The last core: the first one is where a quiet machine does its own work. */
function pinning() {
  const taskset = findTool('taskset')
  return taskset === undefined ? [] : [taskset, '-c', String(cpus().length - 1)]
}

function quantile(numbers, share) {
  const sorted = [...numbers].sort((x, y) => x - y)
  const at = share * (sorted.length - 1)
  const below = Math.floor(at)
  return sorted[below] + (at - below) * ((sorted[below + 1] ?? sorted[below]) - sorted[below])
}

const rounded = (number) => Number(number.toPrecision(4))

/** Time of A over time of B: below 1, A is the faster. */
function summary(name, runs) {
  const ratios = runs.map(([a, b]) => a.figures[name] / b.figures[name])
  const median = (side) =>
    rounded(
      quantile(
        runs.map((pair) => pair[side].figures[name]),
        0.5
      )
    )
  return {
    ratio: rounded(quantile(ratios, 0.5)),
    quarters: [rounded(quantile(ratios, 0.25)), rounded(quantile(ratios, 0.75))],
    a_s: median(0),
    b_s: median(1),
    ratios: ratios.map(rounded)
  }
}

/** A program whose answer changes from run to run has none. */
function steady(side, first, reading) {
  if (!isDeepStrictEqual(first.answer, reading.answer))
    throw new Error(`${side.name} gave another answer in another run`)
  return reading
}

async function measure({ a, b, pairs }, first, pin) {
  const runs = []
  const one = async (side, name) => steady(side, first[name], await runOnce(side, pin))
  while (runs.length < pairs) {
    const a1 = await one(a, 'a')
    const b1 = await one(b, 'b')
    const b2 = await one(b, 'b')
    const a2 = await one(a, 'a')
    runs.push([a1, b1], [a2, b2])
  }
  return runs
}

/**
 * Runs a comparison and keeps its result beside the benchmark.
 * `compare(answerA, answerB)` gives `{ equal, compared }`: whether the answers are the same in what matters, and what that is.
 * Resolves to the exit code: 0 measured, 1 answers differ (nothing kept).
 * @param {{ title: string, a: Side, b: Side, pairs?: number, compare: Function, resultPath: string, versions?: object }} plan
 */
export async function paired({ title, a, b, pairs = 10, compare, resultPath, versions = {} }) {
  if (pairs < leastPairs) throw new Error(`${pairs} pairs are too few: at least ${leastPairs}`)
  const pin = pinning()
  const first = { a: await runOnce(a, pin), b: await runOnce(b, pin) }
  const { equal, compared } = compare(first.a.answer, first.b.answer)
  console.log(`${title}\nanswers ${equal ? 'equal' : 'DIFFER'}: ${JSON.stringify(compared)}`)
  if (!equal) return 1
  const runs = await measure({ a, b, pairs }, first, pin)
  const names = Object.keys(first.a.figures).filter((name) => name in first.b.figures)
  const figures = Object.fromEntries(names.map((name) => [name, summary(name, runs)]))
  show({ a, b, figures, count: runs.length })
  const result = {
    title,
    a: a.name,
    b: b.name,
    ...provenance(),
    versions,
    pairs: runs.length,
    order: 'ABBA',
    pinned: pin.length > 0,
    compared,
    figures
  }
  writeFileSync(resultPath, `${JSON.stringify(result, null, 2)}\n`)
  return 0
}

function show({ a, b, figures, count }) {
  console.log(`${count} pairs; time of ${a.name} / time of ${b.name}`)
  for (const [name, { ratio, quarters, a_s, b_s }] of Object.entries(figures))
    console.log(`  ${name.padEnd(12)} ${ratio} (quarters ${quarters.join(' to ')}); medians ${a_s} s and ${b_s} s`)
}
