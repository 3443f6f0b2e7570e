/**
 * `node bench/examine.bench.mjs [--pairs N] [--quick]`: our examine against the pipeline an engineer would write with NumPy
 * and SciPy (`bench/peer_pipeline.py` in the folder of outside data), on a job of 12 million samples made by repeating the
 * WAV recordings of both trial jobs. Both read the same files. One thread against one process, with and without reading;
 * two workers against one, and against two processes of the peer; the trial score of the same build in the same table.
 * The one thread and the one process are pinned to one core: what the engine compiles and collects beside is in their time.
 * Each line is there twice: as a fresh process, and warmed, when both programs have gone through the whole job once before.
 * `--quick [--samples N]`: a million samples, few pairs, no result kept: whether it runs, not how fast.
 * Ends with 1 where answers differ, never for being slow.
 */
import { spawnSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { build, bundleFile, program } from '../scripts/lib/build.mjs'
import { inClone, sharedPath } from '../scripts/lib/places.mjs'
import { provenance } from '../scripts/lib/provenance.mjs'
import { main, SetupFailure, setUp } from '../scripts/lib/setup.mjs'
import { findTool } from '../scripts/lib/tools.mjs'
import { notchesFound, sameSamplesAndNotches } from './answers.mjs'
import { withRepeatedJob } from './job.mjs'
import { alternating, leastPairs, ratioOf } from './paired.mjs'

const title = 'examine: the WAV recordings of two fastener-hole jobs, repeated; standardization made before'
const strong = { least_mm: 0.75, tolerance_deg: 18 }
/** What is asked of a run; a run that misses it says so and ends with 0. */
const aims = { computeRate: 4, goal: 10, twoWorkers: 1.7 }
const full = { samples: 12e6, pairs: 10 }
const quick = { samples: 1e6, pairs: 2 }

class Differ extends Error {}

function needed(value, what) {
  if (value === undefined)
    throw new SetupFailure(`found no ${what}; needed for this benchmark; see npm run outside and TRUELOOP_SHARED`)
  return value
}

const last = (stdout) => JSON.parse(stdout.trimEnd().split('\n').at(-1))
const sum = (numbers) => numbers.reduce((all, one) => all + one, 0)
const isReference = (path) => path.endsWith('reference-start.wav')

/** Samples in all, and the strong notches found in each job's reference scan, job by job. */
const answerOf = (jobs, filesOfJobs) => ({
  samples: sum(filesOfJobs.flat().map(({ samples }) => samples)),
  notches: jobs.flatMap(({ name, notches, scans }, at) => {
    const calls = filesOfJobs[at][scans.findIndex(isReference)].angles_deg.map((angle) => angle ?? Number.NaN)
    return notchesFound(calls, notches, strong).map((notch) => `${name}: ${notch}`)
  })
})

/** What the peer finds, listed once by its own functions: each of its timed runs has to count the same. */
function peerList({ python, script, jobs }) {
  return jobs.map(({ reference, scans }) => {
    const args = [inClone('bench', 'peer_found.py'), script, reference, ...scans]
    const listed = spawnSync(python, args, { encoding: 'utf8', maxBuffer: 2 ** 28 })
    if (listed.status !== 0) throw new Error(listed.stderr)
    return last(listed.stdout).files
  })
}

/**
 * The peer has one reference a run: a process (a lane) runs it once for each job. Every n-th scan goes to the n-th lane.
 * Warmed, each process goes through its scans once before they are timed.
 */
function peerSide({ python, script, jobs, listed }, processes, isWarm = false) {
  const part = (scans, lane) => scans.filter((_, at) => at % processes === lane)
  const program = isWarm ? [inClone('bench', 'peer_warm.py'), script] : [script]
  const lanes = Array.from({ length: processes }, (_, lane) =>
    jobs.map(({ reference, scans }) => ({ command: python, args: [...program, reference, ...part(scans, lane)] }))
  )
  const answer = answerOf(jobs, listed)
  const calls = sum(listed.flat().map(({ angles_deg }) => angles_deg.length))
  const read = (_, all) => {
    const outputs = all.map((lane) => lane.map(last))
    const every = (key) => sum(outputs.flat().map((one) => one[key]))
    if (every('samples') !== answer.samples || every('candidates') !== calls)
      throw new Error('the peer counted otherwise than its own functions')
    const longest = (key) => Math.max(...outputs.map((lane) => sum(lane.map((one) => one[key]))))
    return { answer, figures: { examine_s: longest('seconds'), compute_s: longest('compute_seconds') } }
  }
  // One thread a process: the processes are what it is given to run side by side.
  const env = { OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' }
  const name = `NumPy and SciPy, ${processes} process${processes > 1 ? 'es' : ''}${isWarm ? ', warmed' : ''}`
  return { name, lanes, read, spread: processes > 1, env }
}

function ourSide({ bundle, path, jobs }, mode, workers = 1) {
  const read = (stdout) => {
    const { seconds, compute_seconds, warm, lengths, files, digest } = last(stdout)
    const filesOfJobs = lengths.map((length, at) => files.slice(sum(lengths.slice(0, at))).slice(0, length))
    const compute =
      compute_seconds === undefined ? {} : { compute_s: compute_seconds, warmCompute_s: warm.compute_seconds }
    const figures = { examine_s: seconds, warmExamine_s: warm.seconds, ...compute }
    return { answer: { ...answerOf(jobs, filesOfJobs), digest }, figures }
  }
  const args = [bundle, path, mode, ...(mode === 'crew' ? [program('cli', 'worker'), String(workers)] : [])]
  const name = mode === 'crew' ? `Trueloop, ${workers} worker${workers > 1 ? 's' : ''}` : 'Trueloop, one thread'
  return { name, command: process.execPath, args, read, spread: mode === 'crew' }
}

/** Throws where two sides do not say the same: the peer in samples and strong notches, our own ways to the last bit. */
function compareAll([thread, peer, ...rest], jobs) {
  const { digest, ...ours } = thread.answer
  const { equal, compared } = sameSamplesAndNotches(ours, peer.answer)
  const bare = jobs.filter(({ name }) => !ours.notches.some((notch) => notch.startsWith(name)))
  const others = rest.map(({ answer }) => answer.digest).filter((one) => one !== undefined && one !== digest)
  console.log(`${title}\nanswers ${equal ? 'equal' : 'DIFFER'}: ${JSON.stringify(compared, null, 1)}`)
  if (!equal || bare.length > 0) throw new Differ('the answers of the two programs differ, or say nothing of a job')
  if (others.length > 0) throw new Differ('one thread, one worker and two workers do not find the same')
  return compared
}

/** The score of the very build that is measured, as its own command prints it. */
function trialScore(trial) {
  const run = spawnSync(process.execPath, [program('cli'), 'trial', trial, '--json'], { encoding: 'utf8' })
  if (run.status !== 0 && run.status !== 1) throw new Error(`trial ended with ${run.status}\n${run.stderr}`)
  return last(run.stdout).holes
}

const versionOf = (python, module) =>
  spawnSync(python, ['-c', `import ${module}; print(${module}.__version__)`], { encoding: 'utf8' }).stdout.trim()

/**
 * Sides in order: 0 our thread, 1 the peer, 2 our crew of one, 3 of two, 4 the peer in two processes; 5 and 6 the peer
 * warmed, in one process and in two. Our own sides have both times in one run.
 */
function figuresOf(rows, samples) {
  const compared = (a, b) => {
    // Ratio of rates, not of times: how many times as much A does in the same time as B.
    const { ratio, quarters, a_s, b_s, ratios } = ratioOf(rows, b, a)
    const rate = (seconds) => Number((samples / seconds / 1e6).toPrecision(4))
    return { ratio, quarters, ours_MSps: rate(b_s), other_MSps: rate(a_s), ratios }
  }
  const fresh = (a, b, name) => compared([a, name], [b, name])
  return {
    compute: fresh(0, 1, 'compute_s'),
    withReading: fresh(0, 1, 'examine_s'),
    twoWorkersAgainstOne: fresh(3, 2, 'examine_s'),
    twoWorkersAgainstTwoProcesses: fresh(3, 4, 'examine_s'),
    peerTwoProcessesAgainstOne: fresh(4, 1, 'examine_s'),
    warm: {
      compute: compared([0, 'warmCompute_s'], [5, 'compute_s']),
      withReading: compared([0, 'warmExamine_s'], [5, 'examine_s']),
      twoWorkersAgainstOne: fresh(3, 2, 'warmExamine_s'),
      twoWorkersAgainstTwoProcesses: compared([3, 'warmExamine_s'], [6, 'examine_s']),
      peerTwoProcessesAgainstOne: fresh(6, 5, 'examine_s')
    }
  }
}

const aim = (ratio, least, more = '') => `${ratio >= least ? 'reached' : 'NOT reached'}: ${least} times wanted${more}`
const mm = (value) => (value === null || value === undefined ? 'no value given' : `${value.toFixed(3)} mm`)

function table({ figures, score, samples, pairs }) {
  const line = (what, { ratio, quarters, ours_MSps, other_MSps }, note = '') =>
    `  ${what.padEnd(46)} ${String(ours_MSps).padStart(7)} ${String(other_MSps).padStart(7)}  ${String(ratio).padStart(6)}  (${quarters.join(' to ')}) ${note}`
  const lines = ({ compute, withReading, twoWorkersAgainstOne: two, ...peers }) => [
    line(
      'one thread, the peer: without reading',
      compute,
      aim(compute.ratio, aims.computeRate, `${compute.ratio >= aims.goal ? ', and the' : ','} goal ${aims.goal}`)
    ),
    line('one thread, the peer: with reading', withReading),
    line('two workers, one worker: with reading', two, aim(two.ratio, aims.twoWorkers)),
    line('two workers, two processes of the peer', peers.twoWorkersAgainstTwoProcesses),
    line('two processes of the peer, one', peers.peerTwoProcessesAgainstOne)
  ]
  return [
    `${samples} samples, ${pairs} runs of each; million samples a second, medians; ratio of rates, median (quarters)`,
    `  ${''.padEnd(46)} ${'ours'.padStart(7)} ${'other'.padStart(7)}  ${'ratio'.padStart(6)}`,
    'fresh processes, from the first sample on',
    ...lines(figures),
    'warmed: the whole job gone through once before',
    ...lines(figures.warm),
    'trial score of this build',
    `  found ${score.found} of ${score.flaws}; falsely called ${score.falselyCalledHoles} of ${score.holes} holes; faults caught ${score.faultsCaught} of ${score.faults}`,
    `  depth: mean absolute error ${mm(score.depthMae_mm)} over ${score.depthScored}; length: ${mm(score.lengthMae_mm)}; bounds true ${score.boundsTrue} of ${score.bounds}`
  ]
}

function wanted() {
  const isQuick = process.argv.includes('--quick')
  const usual = isQuick ? quick : full
  const number = (flag, otherwise) => {
    const at = process.argv.indexOf(flag)
    return at < 0 ? otherwise : Number(process.argv[at + 1])
  }
  const samples = isQuick ? number('--samples', usual.samples) : usual.samples
  const pairs = number('--pairs', usual.pairs)
  if (!isQuick && !(pairs >= leastPairs)) throw new SetupFailure(`${pairs} pairs are too few: at least ${leastPairs}`)
  return { isQuick, samples, pairs }
}

async function measured(given, { pairs, isQuick }) {
  const { python, trial, jobs, times } = given
  const listed = peerList(given)
  const peer = (processes, isWarm) => peerSide({ ...given, listed }, processes, isWarm)
  const crew = (workers) => ourSide(given, 'crew', workers)
  const sides = [ourSide(given, 'thread'), peer(1), crew(1), crew(2), peer(2), peer(1, true), peer(2, true)]
  let compared
  const check = (readings) => {
    compared = compareAll(readings, jobs)
  }
  const { rows, pinned } = await alternating({ sides, pairs, check })
  const figures = figuresOf(rows, compared.samples)
  const score = trialScore(trial)
  console.log(table({ figures, score, samples: compared.samples, pairs: rows.length }).join('\n'))
  const result = {
    ...{ title, sides: sides.map(({ name }) => name), ...provenance() },
    versions: { numpy: versionOf(python, 'numpy'), scipy: versionOf(python, 'scipy') },
    ...{
      pairs: rows.length,
      order: 'ABCDEFG GFEDCBA',
      pinned: pinned ? 'one thread, one process' : 'nothing',
      repeats: times
    },
    ...{ aims, compared, figures, trial: score }
  }
  const kept = isQuick ? inClone('build', 'bench', 'examine.quick.json') : inClone('bench', 'examine.result.json')
  writeFileSync(kept, `${JSON.stringify(result, null, 2)}\n`)
}

await main(async () => {
  const plan = wanted()
  const python = needed(findTool('scipy'), 'python3 with SciPy')
  const script = needed(sharedPath('bench/peer_pipeline.py'), 'peer pipeline')
  const trial = needed(sharedPath('trial'), 'trial recordings')
  const bundle = await setUp(async () => {
    if (!(await build())) throw new SetupFailure('the program could not be built: see the lines above')
    mkdirSync(inClone('build', 'bench'), { recursive: true })
    return bundleFile('bench/examine.entry.ts', 'build/bench/examine.mjs')
  })
  try {
    await withRepeatedJob(trial, plan.samples, (job) => measured({ ...job, python, script, trial, bundle }, plan))
    return 0
  } catch (error) {
    if (!(error instanceof Differ)) throw error
    console.error(error.message)
    return 1
  }
})
