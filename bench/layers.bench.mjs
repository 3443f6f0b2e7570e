/**
 * `node bench/layers.bench.mjs [--pairs N]`: 1 000 points of a coil over layers (layers.points.mjs) against the same
 * integral as an engineer writes it with NumPy and SciPy, its BLAS at one thread. Answers must agree to 1e-9 of each.
 * `points`: the program, which plans a coil at its lift-off once for all its points,
 * against the script, which goes through a point at a time: first pass and, `warmPoints`, a later one. `warmAlone`: both
 * start anew at every point. `warmSweep`: both keep what belongs to the coil. Processor time of each process, so that
 * others on the machine don't count. 100 times as fast is wanted of the points; a run that misses it says so and ends
 * with 0.
 */
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'
import { points } from './layers.points.mjs'
import { oneThread, pairsWanted, pointsFile, readChange as read, sameNumbers, scientific } from './numbers.mjs'
import { paired, sayWanted } from './paired.mjs'

const repeats = '5'
const resultPath = inClone('bench', 'layers.result.json')

await main(async () => {
  await setUp()
  const { python, versions } = scientific()
  const bundle = await bundleFile('bench/layers.entry.ts', 'build/bench/layers.mjs')
  const file = pointsFile('layers', points)
  const code = await paired({
    title: `layers: ${points.length} points of a coil over layers`,
    a: { name: 'Trueloop', command: process.execPath, args: [bundle, file, repeats], read },
    b: {
      name: 'NumPy and SciPy, one thread',
      command: python,
      args: [inClone('bench', 'peer_layers.py'), file],
      read,
      env: oneThread
    },
    compare: sameNumbers({ count: points.length, closeness: 1e-9 }),
    pairs: pairsWanted(),
    resultPath,
    versions
  })
  if (code === 0) sayWanted(resultPath, { points_s: 100, warmPoints_s: 100 })
  return code
})
