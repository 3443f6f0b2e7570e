/**
 * `node bench/crack.bench.mjs [--pairs N]`: the scan of TEAM 15, problem 1, at 37 places with 40 by 20 cells, against the
 * same model as an engineer would write it with NumPy and SciPy, its BLAS at one thread. Same cells and matching, so the
 * answers must agree to 1e-7 of the largest. Fresh process (first scan) and warmed (middle of five more). `system` is the
 * scan without the field of the coil, which we interpolate over the radius and the peer computes for every cell and place.
 * At least as fast is wanted; a run that misses it says so and ends with 0.
 */
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'
import { oneThread, pairsWanted, scientific } from './numbers.mjs'
import { paired, sayWanted } from './paired.mjs'

const repeats = '5'
const closeness = 1e-7
const resultPath = inClone('bench', 'crack.result.json')

const read = (stdout) => {
  const { change, ...figures } = JSON.parse(stdout.trimEnd().split('\n').at(-1))
  return { answer: change, figures }
}

/** Largest difference of two lists of complex numbers over the largest of them. */
function compare(ours, theirs) {
  const size = Math.max(...theirs.map(([re, im]) => Math.hypot(re, im)))
  const apart = Math.max(...ours.map(([re, im], at) => Math.hypot(re - theirs[at][0], im - theirs[at][1]))) / size
  const equal = ours.length === theirs.length && ours.length === 37 && apart < closeness
  return { equal, compared: { places: ours.length, largest_ohm: size, apart } }
}

await main(async () => {
  await setUp()
  const { python, versions } = scientific()
  const bundle = await bundleFile('bench/crack.entry.ts', 'build/bench/crack.mjs')
  const script = inClone('metal', 'fields', 'reference', 'crack.py')
  const code = await paired({
    title: 'crack: TEAM 15, problem 1, 37 places, 40 by 20 cells',
    a: { name: 'Trueloop', command: process.execPath, args: [bundle, repeats], read },
    b: {
      name: 'NumPy and SciPy, one thread',
      command: python,
      args: [inClone('bench', 'peer_crack.py'), script, repeats],
      read,
      env: oneThread
    },
    compare,
    pairs: pairsWanted(),
    resultPath,
    versions
  })
  const wanted = ['scan_s', 'system_s', 'warmScan_s', 'warmSystem_s', 'process_s']
  if (code === 0) sayWanted(resultPath, Object.fromEntries(wanted.map((name) => [name, 1])))
  return code
})
