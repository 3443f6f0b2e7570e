/**
 * `node bench/scale.bench.mjs [--runs N] [--most HOLES]`: how long it takes to verify a job of 2 000 holes (chain,
 * documents and originals of a few bytes; nothing is examined again), to report it as HTML from its archive, and to ask
 * archives of 1 000, 10 000 and 100 000 holes, in jobs of 2 000 at most, how their jobs stand. Each run is a fresh process.
 * The result stands in `scale.result.json`. A run that takes longer than is wanted says so and ends with 0.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { provenance } from '../scripts/lib/provenance.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'

const wanted_ms = { verify: 2000, report: 30_000, list: 50, waits: 50, job: 50 }
const option = (name, otherwise) =>
  process.argv.includes(name) ? Number(process.argv[process.argv.indexOf(name) + 1]) : otherwise
const runs = option('--runs', 3)
const most = option('--most', 100_000)
const sizes = [1000, 10_000, 100_000].filter((holes) => holes <= most)

const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]
const figure = (value) => Number(value.toPrecision(3))

function once(bundle, ...args) {
  const run = spawnSync(process.execPath, [bundle, ...args.map(String)], { encoding: 'utf8', maxBuffer: 2 ** 26 })
  if (run.status !== 0) throw new Error(run.stderr)
  return JSON.parse(run.stdout.trimEnd().split('\n').at(-1))
}

/** The middle of each time over some runs. */
function measured(bundle, ...args) {
  const all = Array.from({ length: runs }, () => once(bundle, ...args))
  const names = Object.keys(all[0].times)
  const middles = (kind) =>
    Object.fromEntries(names.map((name) => [name, figure(middle(all.map((one) => one[kind][name])))]))
  const { database_MB } = all[0]
  return {
    ms: middles('times'),
    cpu_ms: middles('cpu'),
    peak_MiB: Math.round(Math.max(...all.map(({ peak_MiB }) => peak_MiB))),
    database_MB: figure(database_MB)
  }
}

function ofSize(bundle, home, holes) {
  const each = Math.min(holes, 2000)
  const jobs = holes / each
  const folder = join(home, String(holes))
  once(bundle, 'make', folder, jobs, each)
  // the first look replays every job, as commands do when they record; the next ones find what was kept
  const first = once(bundle, 'look', folder, jobs, each)
  const result = {
    holes,
    jobs,
    firstList_ms: figure(first.times.list),
    ...measured(bundle, 'look', folder, jobs, each)
  }
  rmSync(folder, { recursive: true })
  console.log(`${holes} holes: ${JSON.stringify(result)}`)
  return result
}

function report(name, { ms, cpu_ms }) {
  const wanted = wanted_ms[name]
  const verdict = ms[name] <= wanted ? 'reached' : 'NOT reached'
  console.log(`${name}: ${ms[name]} ms, of the processor ${cpu_ms[name]} ms; ${verdict}: ${wanted} ms wanted`)
}

await main(async () => {
  await setUp()
  const bundle = await bundleFile('bench/scale.entry.ts', 'build/bench/scale.mjs')
  const home = mkdtempSync(join(tmpdir(), 'trueloop-scale-'))
  try {
    once(bundle, 'make', join(home, 'job'), 1, 2000)
    const job = measured(bundle, 'verify', join(home, 'job'), 1, 2000)
    const growth = sizes.map((holes) => ofSize(bundle, home, holes))
    for (const name of ['verify', 'report']) report(name, job)
    for (const name of ['list', 'waits', 'job']) report(name, growth.at(-1))
    const load = figure(loadavg()[0])
    console.log(`load while it ran: ${load}`)
    if (most < 100_000) return 0
    const title = 'scale: a job of 2 000 holes verified and reported; archives of 1 000, 10 000, 100 000 holes asked'
    const result = { title, ...provenance(), runs, load, wanted_ms, job, growth }
    writeFileSync(inClone('bench', 'scale.result.json'), `${JSON.stringify(result, null, 2)}\n`)
    return 0
  } finally {
    rmSync(home, { recursive: true, force: true })
  }
})
