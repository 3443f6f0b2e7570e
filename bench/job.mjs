/** The job that the benchmark runs on: the WAV recordings of both trial jobs, repeated as files of their own. */
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync
} from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'

const names = ['al-quarter', 'ti-three-eighths']

/** The README of the trial: WAV of 32-bit floats, channels x, y, index. Only to choose how often; programs count for themselves. */
const bytesASample = 12

const wavHoles = (folder) =>
  readdirSync(folder)
    .filter((name) => /^hole-\d+\.wav$/.test(name))
    .sort()

/** One pass of a job: its reference scan, examined like a hole (its notches are known), then its holes. */
function passOf(trial, name) {
  const folder = join(trial, name)
  const reference = join(folder, 'reference-start.wav')
  const scans = [reference, ...wavHoles(folder).map((hole) => join(folder, hole))]
  const { notches } = JSON.parse(readFileSync(join(folder, 'setup.json'), 'utf8')).reference_standard
  return { name, setup: join(folder, 'setup.json'), reference, scans, notches }
}

/**
 * Copies the recordings until there are at least `samples` of them, in a temporary folder, and calls `work` with
 * `{ path, jobs: [{ name, setup, reference, scans, notches }] }`; the folder is removed after it.
 */
export async function withRepeatedJob(trial, samples, work) {
  const passes = names.map((name) => passOf(trial, name))
  const bytes = passes.flatMap(({ scans }) => scans).reduce((sum, path) => sum + statSync(path).size, 0)
  const times = Math.ceil((samples * bytesASample) / bytes)
  const folder = mkdtempSync(join(tmpdir(), 'trueloop-bench-'))
  try {
    const jobs = passes.map((pass) => ({ ...pass, scans: repeated(pass, times, join(folder, pass.name)) }))
    const path = join(folder, 'jobs.json')
    writeFileSync(path, JSON.stringify({ jobs }))
    return await work({ path, jobs, times })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

const repeated = ({ scans }, times, folder) =>
  Array.from({ length: times }, (_, time) => {
    const place = join(folder, String(time))
    mkdirSync(place, { recursive: true })
    return scans.map((from) => {
      const to = join(place, basename(from))
      copyFileSync(from, to)
      return to
    })
  }).flat()
