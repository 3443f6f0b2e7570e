/** What the benchmarks against NumPy and SciPy share: the peer's Python, and how near two lists of answers must be. */
import { spawnSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { inClone } from '../scripts/lib/places.mjs'
import { SetupFailure } from '../scripts/lib/setup.mjs'
import { findTool } from '../scripts/lib/tools.mjs'

export const oneThread = { OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', MKL_NUM_THREADS: '1' }

const versionOf = (python, module) =>
  spawnSync(python, ['-c', `import ${module}; print(${module}.__version__)`], { encoding: 'utf8' }).stdout.trim()

/** A python3 with NumPy and SciPy, and their versions. */
export function scientific() {
  const python = findTool('scipy')
  const versions = python === undefined ? {} : { numpy: versionOf(python, 'numpy'), scipy: versionOf(python, 'scipy') }
  if (!versions.numpy || !versions.scipy) throw new SetupFailure('found no python3 with NumPy and SciPy')
  return { python, versions }
}

/** A program's one line: its answers, and its times. */
export const readChange = (stdout) => {
  const { change, ...figures } = JSON.parse(stdout.trimEnd().split('\n').at(-1))
  return { answer: change, figures }
}

/** The points of a benchmark as the file that both programs read. */
export function pointsFile(name, points) {
  const path = inClone('build', 'bench', `${name}.points.json`)
  mkdirSync(inClone('build', 'bench'), { recursive: true })
  writeFileSync(path, JSON.stringify(points))
  return path
}

export function pairsWanted() {
  const at = process.argv.indexOf('--pairs')
  return at < 0 ? 10 : Number(process.argv[at + 1])
}

/** Complex answers, each within `closeness` of its own size from the peer's. */
export const sameNumbers =
  ({ count, closeness }) =>
  (ours, theirs) => {
    const apart = Math.max(
      ...theirs.map(([re, im], at) => Math.hypot(ours[at][0] - re, ours[at][1] - im) / Math.hypot(re, im))
    )
    const equal = ours.length === count && theirs.length === count && apart < closeness
    return { equal, compared: { answers: ours.length, apart } }
  }
