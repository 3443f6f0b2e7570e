/**
 * `node bench/examine.bench.mjs [--pairs N]`: our examine against the pipeline an engineer would write with NumPy and
 * SciPy (`bench/peer_pipeline.py` in the folder of outside data), on the WAV recordings of the first trial job.
 */
import { spawnSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone, sharedPath } from '../scripts/lib/places.mjs'
import { main, SetupFailure, setUp } from '../scripts/lib/setup.mjs'
import { findTool } from '../scripts/lib/tools.mjs'
import { notchesFound, sameSamplesAndNotches } from './answers.mjs'
import { paired } from './paired.mjs'

/** One pass over the recordings takes the peer a tenth of a second: repeated until the clock's own noise is small. */
const passes = 8
const strong = { least_mm: 0.75, tolerance_deg: 18 }

function needed(value, what) {
  if (value === undefined)
    throw new SetupFailure(`found no ${what}; needed for this benchmark; see npm run outside and TRUELOOP_SHARED`)
  return value
}

const last = (stdout) => JSON.parse(stdout.trimEnd().split('\n').at(-1))
const total = (files) => files.reduce((sum, { samples }) => sum + samples, 0)

/** The first recording examined is the reference scan itself, whose notches are known. */
const answerOf = (files, notches) => ({
  samples: total(files),
  notches: notchesFound(files[0].angles_deg, notches, strong)
})

/** What the peer finds is listed once by its own functions; in each timed run its counts must agree with that. */
function peerSide({ python, script, reference, scans, notches }) {
  const listed = spawnSync(python, [inClone('bench', 'peer_found.py'), script, reference, ...scans], {
    encoding: 'utf8',
    maxBuffer: 2 ** 28
  })
  if (listed.status !== 0) throw new Error(listed.stderr)
  const { files } = last(listed.stdout)
  const calls = files.reduce((sum, { angles_deg }) => sum + angles_deg.length, 0)
  const read = (stdout) => {
    const { samples, seconds, candidates } = last(stdout)
    if (samples !== total(files) || candidates !== calls)
      throw new Error('the peer counted otherwise than its own functions')
    return { answer: answerOf(files, notches), figures: { examine_s: seconds } }
  }
  return { name: 'NumPy and SciPy', command: python, args: [script, reference, ...scans], read }
}

function ourSide({ bundle, setup, reference, scans, notches }) {
  const read = (stdout) => {
    const { seconds, files } = last(stdout)
    return { answer: answerOf(files, notches), figures: { examine_s: seconds } }
  }
  return { name: 'Trueloop', command: process.execPath, args: [bundle, setup, reference, ...scans], read }
}

const versionOf = (python, module) =>
  spawnSync(python, ['-c', `import ${module}; print(${module}.__version__)`], { encoding: 'utf8' }).stdout.trim()

function inputs(folder) {
  const reference = join(folder, 'reference-start.wav')
  const holes = readdirSync(folder)
    .filter((name) => /^hole-\d+\.wav$/.test(name))
    .sort()
  const pass = [reference, ...holes.map((name) => join(folder, name))]
  const setup = join(folder, 'setup.json')
  const { notches } = JSON.parse(readFileSync(setup, 'utf8')).reference_standard
  return { setup, reference, scans: Array.from({ length: passes }, () => pass).flat(), notches }
}

await main(async () => {
  const python = needed(findTool('scipy'), 'python3 with SciPy')
  const script = needed(sharedPath('bench/peer_pipeline.py'), 'peer pipeline')
  const given = inputs(needed(sharedPath('trial/al-quarter'), 'trial recordings'))
  const bundle = await setUp(() => bundleFile('bench/examine.entry.ts', 'build/bench/examine.mjs'))
  const at = process.argv.indexOf('--pairs')
  return paired({
    title: 'examine: reading and examining the WAV recordings of a fastener-hole job, standardization made before',
    a: ourSide({ ...given, bundle }),
    b: peerSide({ ...given, python, script }),
    compare: sameSamplesAndNotches,
    pairs: at < 0 ? 10 : Number(process.argv[at + 1]),
    versions: { numpy: versionOf(python, 'numpy'), scipy: versionOf(python, 'scipy') },
    resultPath: inClone('bench', 'examine.result.json')
  })
})
