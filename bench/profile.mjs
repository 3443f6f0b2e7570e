/**
 * `node bench/profile.mjs [--samples N]`: where the time of one thread goes on the job of the benchmark: ns a sample by
 * room, by file and by function, from V8's own sampling profile of the bundle. For a person who wants it faster; no result is
 * kept. Code that V8 puts into its caller is counted where it was written; reading the reference scan of each job, which the
 * benchmark leaves out, is in it.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { bundleFile } from '../scripts/lib/build.mjs'
import { sharedPath } from '../scripts/lib/places.mjs'
import { main, SetupFailure, setUp } from '../scripts/lib/setup.mjs'
import { withRepeatedJob } from './job.mjs'

const usual = 4e6
const interval_us = 250
const mostLines = 25

/** The bundler writes the name of each source before its text: line number -> source. */
function sourceLines(bundle) {
  let source = ''
  return readFileSync(bundle, 'utf8')
    .split('\n')
    .map((line) => {
      source = /^\/\/ ([\w@./-]+\.(?:ts|js|mjs))$/.exec(line)?.[1] ?? source
      return source
    })
}

function sourceOf({ url, functionName, lineNumber }, bundle, lines) {
  if (url.startsWith('file:') && fileURLToPath(url) === bundle) return lines[lineNumber] ?? '(bundle)'
  if (url.startsWith('node:')) return 'Node'
  return functionName.startsWith('(') ? functionName : '(native)'
}

/** µs by own time of each call frame, as [source, function, µs]. */
function ownTimes({ nodes, samples, timeDeltas }, bundle) {
  const lines = sourceLines(bundle)
  const byNode = new Map()
  samples.forEach((node, at) => {
    byNode.set(node, (byNode.get(node) ?? 0) + timeDeltas[at])
  })
  return nodes.map(({ id, callFrame }) => [
    sourceOf(callFrame, bundle, lines),
    callFrame.functionName || '(anonymous)',
    byNode.get(id) ?? 0
  ])
}

function summed(times, keyOf) {
  const sums = new Map()
  for (const [source, name, time] of times) {
    const key = keyOf(source, name)
    sums.set(key, (sums.get(key) ?? 0) + time)
  }
  return [...sums].sort((a, b) => b[1] - a[1])
}

const roomOf = (source) => (source.includes('/') ? source.split('/').slice(0, 2).join('/') : source)

function show(title, sums, samples) {
  console.log(`\n${title}, ns a sample`)
  for (const [key, us] of sums.slice(0, mostLines).filter(([, time]) => (time * 1000) / samples >= 0.1))
    console.log(`  ${((us * 1000) / samples).toFixed(1).padStart(8)}  ${key}`)
}

function profiled(bundle, jobs) {
  const folder = mkdtempSync(join(tmpdir(), 'trueloop-profile-'))
  try {
    const flags = ['--cpu-prof', `--cpu-prof-dir=${folder}`, `--cpu-prof-interval=${interval_us}`]
    const run = spawnSync(process.execPath, [...flags, bundle, jobs, 'thread'], {
      encoding: 'utf8',
      maxBuffer: 2 ** 28
    })
    if (run.status !== 0) throw new Error(run.stderr)
    const [file = ''] = readdirSync(folder)
    return { said: JSON.parse(run.stdout), profile: JSON.parse(readFileSync(join(folder, file), 'utf8')) }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

await main(async () => {
  const trial = sharedPath('trial')
  if (trial === undefined) throw new SetupFailure('found no trial recordings; name their folder in TRUELOOP_SHARED')
  const at = process.argv.indexOf('--samples')
  const wanted = at < 0 ? usual : Number(process.argv[at + 1])
  const bundle = await setUp(() => bundleFile('bench/examine.entry.ts', 'build/bench/profile.mjs'))
  const { said, profile } = await withRepeatedJob(trial, wanted, ({ path }) => profiled(bundle, path))
  const once = said.files.reduce((sum, file) => sum + file.samples, 0)
  const ns = ({ compute_seconds, seconds }) =>
    [compute_seconds, seconds].map((time) => ((time * 1e9) / once).toFixed(1)).join(', with reading ')
  console.log(`${once} samples, twice; examining ${ns(said)} ns a sample; warmed ${ns(said.warm)}`)
  const samples = 2 * once
  const times = ownTimes(profile, bundle).filter(([source]) => source !== '(idle)' && source !== '(root)')
  show('by room', summed(times, roomOf), samples)
  show(
    'by file',
    summed(times, (source) => source),
    samples
  )
  show(
    'by function',
    summed(times, (source, name) => `${name}  ${source}`),
    samples
  )
  return 0
})
