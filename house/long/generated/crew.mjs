/**
 * Runs a generated trial by set-ups, as many processes at once as there are cores. The rows of a set-up are kept under
 * build/long by the hash of the program that made them: a run that was broken off goes on where it was, and a changed
 * program begins anew.
 */
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { pathToFileURL } from 'node:url'
import { bundleFile } from '../../../scripts/lib/build.mjs'
import { run as runChild } from '../../../scripts/lib/child.mjs'
import { inClone, root } from '../../../scripts/lib/places.mjs'

const SETUPS = 20

/** A check of `npm run long`: `--setups=FIRST,COUNT` and `--holes=N` (a set-up) make it smaller, and the result says so. */
export const generatedTrial =
  (name) =>
  async ({ say, options = {} }) => {
    const [first, count] = (options.setups ?? `0,${SETUPS}`).split(',').map(Number)
    const holes = options.holes === undefined ? undefined : Number(options.holes)
    const worker = await bundleFile('house/long/generated/worker.ts', 'build/long/generated-worker.mjs')
    const index = await bundleFile('house/long/generated/index.ts', 'build/long/generated-index.mjs')
    const { tellOf } = await import(pathToFileURL(index).href)
    const crew = { name, holes, say, program: keptProgram(worker), rows: [] }
    await allOf(crew, { first, count })
    const { figures, table } = tellOf(name, crew.rows.flat())
    for (const line of table) say(line)
    const limited = options.setups !== undefined || holes !== undefined
    const { ok, ...rest } = figures
    return { ok, ...(limited ? { onlyPart: { setups: [first, count], holes: holes ?? 'all' } } : {}), ...rest }
  }

/** A copy named by its hash, so that a bundle made meanwhile changes nothing under a running crew. */
function keptProgram(path) {
  const bytes = readFileSync(path)
  const folder = inClone('build', 'long', 'rows', createHash('sha256').update(bytes).digest('hex').slice(0, 12))
  mkdirSync(folder, { recursive: true })
  const program = `${folder}/worker.mjs`
  if (!existsSync(program)) writeFileSync(program, bytes)
  return { folder, program }
}

async function allOf(crew, { first, count }) {
  const waiting = Array.from({ length: count }, (_, k) => first + k)
  const one = async () => {
    for (let setup = waiting.shift(); setup !== undefined; setup = waiting.shift())
      crew.rows[setup - first] = await rowsOf(crew, setup)
  }
  await Promise.all(Array.from({ length: Math.min(count, availableParallelism()) }, one))
}

async function rowsOf({ name, holes, say, program: { folder, program } }, setup) {
  const kept = `${folder}/${name}-${setup}-${holes ?? 'all'}.jsonl`
  const from = performance.now()
  if (!existsSync(kept)) {
    const { code, output } = await runChild(
      process.execPath,
      [program, name, String(setup), ...(holes === undefined ? [] : [String(holes)])],
      { capture: true }
    )
    if (code !== 0)
      throw new Error(`${name}, set-up ${setup} ended with ${code}: ${output.slice(-2000).replaceAll(root, '.')}`)
    writeFileSync(`${kept}.part`, output)
    renameSync(`${kept}.part`, kept)
  }
  const lines = readFileSync(kept, 'utf8').split('\n').filter(Boolean)
  say(`set-up ${setup}: ${lines.length} rows, ${((performance.now() - from) / 1000).toFixed(1)} s`)
  return lines.map((line) => JSON.parse(line))
}
