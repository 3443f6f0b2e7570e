/**
 * Two programs on the same question, measured fairly: fresh processes, pinned to one core where the machine can,
 * in the order A B B A (so that a drift of the machine hits both alike), the ratio taken pair by pair, the median of the
 * ratios reported. Answers are compared before any ratio is printed; unequal answers end the run without one.
 */
import { spawn } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { cpus } from 'node:os'
import { isDeepStrictEqual } from 'node:util'
import { provenance } from '../scripts/lib/provenance.mjs'
import { findTool } from '../scripts/lib/tools.mjs'

export const leastPairs = 9

/**
 * @typedef {{ answer: unknown, figures: Record<string, number> }} Reading what a program's output says; figures are times, s
 * @typedef {{ command: string, args: string[] }} Command
 * A side is one command, or several: `lanes` run side by side, the commands of a lane one after the other. `read` gets
 * the outputs as they lie in the lanes. `spread`: on all cores, not pinned.
 * @typedef {{ name: string, read: (stdout: string, all: string[][]) => Reading, spread?: boolean, env?: object }
 *   & (Command | { lanes: Command[][] })} Side
 */

const lanesOf = ({ lanes, command, args }) => lanes ?? [[{ command, args }]]

/** Fresh processes, pinned; resolves to the reading with the whole time from the first start to the last end as `process_s`. */
async function runOnce(side, pin) {
  const from = performance.now()
  const lane = async (commands) => {
    const texts = []
    for (const command of commands) texts.push(await output(side, command, side.spread ? [] : pin))
    return texts
  }
  const all = await Promise.all(lanesOf(side).map(lane))
  const process_s = (performance.now() - from) / 1000
  const { answer, figures } = side.read(all[0][0], all)
  return { answer, figures: { ...figures, process_s } }
}

function output({ name, env = {} }, { command, args }, pin) {
  const [program, ...rest] = [...pin, command, ...args]
  const child = spawn(program, rest, { stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, ...env } })
  const text = { stdout: '', stderr: '' }
  for (const stream of ['stdout', 'stderr'])
    child[stream].setEncoding('utf8').on('data', (more) => {
      text[stream] += more
    })
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('close', (code) =>
      code === 0 ? resolve(text.stdout) : reject(new Error(`${name} ended with ${code}\n${text.stderr.slice(-2000)}`))
    )
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
function summary(times) {
  const ratios = times.map(([a, b]) => a / b)
  const median = (side) =>
    rounded(
      quantile(
        times.map((pair) => pair[side]),
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

/** All sides in their order, then in the other one: A B B A, A B C C B A. One run of each is a row. */
async function measure(sides, { pairs, first, pin }) {
  const rows = []
  while (rows.length < pairs) {
    const order = sides.map((_, at) => at)
    for (const turn of [order, [...order].reverse()]) {
      const row = []
      for (const at of turn) row[at] = steady(sides[at], first[at], await runOnce(sides[at], pin))
      rows.push(row)
    }
  }
  return rows
}

/**
 * Runs any number of sides `pairs` times each (rounded up to even), all in one session. `check(readings)` is called once
 * after a first run of each, before any time is taken: what it throws ends the run.
 * Resolves to `{ rows, pinned }`; a row has one reading of each side, in the order of the sides.
 * @param {{ sides: Side[], pairs: number, check: (readings: Reading[]) => void }} plan
 */
export async function alternating({ sides, pairs, check }) {
  const pin = pinning()
  const first = []
  for (const side of sides) first.push(await runOnce(side, pin))
  check(first)
  return { rows: await measure(sides, { pairs, first, pin }), pinned: pin.length > 0 }
}

/** Two sides of rows against each other, by one figure of each: times, or what is named for them. */
export const ratioOf = (rows, [a, nameA], [b, nameB]) =>
  summary(rows.map((row) => [row[a].figures[nameA], row[b].figures[nameB]]))

/**
 * Runs a comparison and keeps its result beside the benchmark.
 * `compare(answerA, answerB)` gives `{ equal, compared }`: whether the answers are the same in what matters, and what that is.
 * Resolves to the exit code: 0 measured, 1 answers differ (nothing kept).
 * @param {{ title: string, a: Side, b: Side, pairs?: number, compare: Function, resultPath: string, versions?: object }} plan
 */
export async function paired({ title, a, b, pairs = 10, compare, resultPath, versions = {} }) {
  if (pairs < leastPairs) throw new Error(`${pairs} pairs are too few: at least ${leastPairs}`)
  const pin = pinning()
  const first = [await runOnce(a, pin), await runOnce(b, pin)]
  const { equal, compared } = compare(first[0].answer, first[1].answer)
  console.log(`${title}\nanswers ${equal ? 'equal' : 'DIFFER'}: ${JSON.stringify(compared)}`)
  if (!equal) return 1
  const runs = await measure([a, b], { pairs, first, pin })
  const names = Object.keys(first[0].figures).filter((name) => name in first[1].figures)
  const figures = Object.fromEntries(names.map((name) => [name, ratioOf(runs, [0, name], [1, name])]))
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

/** How many times as fast A was in what the kept result has, beside what is wanted of it. */
export function sayWanted(resultPath, wanted) {
  const { figures } = JSON.parse(readFileSync(resultPath, 'utf8'))
  for (const [name, { ratio }] of Object.entries(figures)) {
    const times = 1 / ratio
    const least = wanted[name]
    const verdict = least === undefined ? '' : `; ${times >= least ? 'reached' : 'NOT reached'}: ${least} wanted`
    console.log(`${name}: ${times.toPrecision(3)} times as fast${verdict}`)
  }
}
