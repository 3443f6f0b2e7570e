/**
 * `node bench/hole.bench.mjs [--pairs N]`: 24 points of a radial coil in a hole (hole.points.mjs) against the same
 * sum as an engineer writes it with NumPy and SciPy, its BLAS at one thread. Answers must agree to 1e-9 of each.
 * `points`: the program, which plans a coil in its hole once for all metals and frequencies,
 * against the script, which goes through a point at a time: first pass and, `warmPoints`, a later one. `warmAlone`: both
 * start anew at every point. `warmSweep`: both keep what belongs to the coil. Processor time of each process, so that
 * others on the machine don't count. 50 times as fast is wanted of the points; a run that misses it says so and ends
 * with 0.
 */
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'
import { points } from './hole.points.mjs'
import { oneThread, pairsWanted, pointsFile, readChange as read, sameNumbers, scientific } from './numbers.mjs'
import { paired, sayWanted } from './paired.mjs'

const repeats = '5'
const resultPath = inClone('bench', 'hole.result.json')

await main(async () => {
  await setUp()
  const { python, versions } = scientific()
  const bundle = await bundleFile('bench/hole.entry.ts', 'build/bench/hole.mjs')
  const file = pointsFile('hole', points)
  const code = await paired({
    title: `hole: ${points.length} points of a radial coil in a hole`,
    a: { name: 'Trueloop', command: process.execPath, args: [bundle, file, repeats], read },
    b: {
      name: 'NumPy and SciPy, one thread',
      command: python,
      args: [inClone('bench', 'peer_hole.py'), file],
      read,
      env: oneThread
    },
    compare: sameNumbers({ count: points.length, closeness: 1e-9 }),
    pairs: pairsWanted(),
    resultPath,
    versions
  })
  if (code === 0) sayWanted(resultPath, { points_s: 50, warmPoints_s: 50 })
  return code
})
