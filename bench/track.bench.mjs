/**
 * `node bench/track.bench.mjs [--samples N]`: a track of 100 million samples through the weld chain, with its absolute
 * channel: rate against hashing the same samples (SHA-256, four columns of 64-bit floats) in the same process, and memory
 * at its end against that after a tenth of it. No peer: nothing published does this. Wanted: memory flat (at most 1.1).
 */
import { execFile } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { promisify } from 'node:util'
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { provenance } from '../scripts/lib/provenance.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'

const most = 1.1
const at = process.argv.indexOf('--samples')
const samples = at < 0 ? 100_000_000 : Number(process.argv[at + 1])

await main(async () => {
  await setUp()
  const bundle = await bundleFile('bench/track.entry.ts', 'build/bench/track.mjs')
  const [load] = loadavg()
  const { stdout } = await promisify(execFile)(process.execPath, ['--expose-gc', bundle, String(samples)])
  const told = JSON.parse(stdout)
  const figures = {
    samplesPerSecond: Math.round(told.samples / told.chain_s),
    inTimesOfHashing: Number((told.chain_s / told.hash_s).toFixed(2)),
    memory: Number((told.late_bytes / told.early_bytes).toFixed(3))
  }
  const title = 'track: a painted track along a weld, rate and memory'
  const result = { title, ...provenance(), load, figures, told }
  writeFileSync(inClone('bench', 'track.result.json'), `${JSON.stringify(result, null, 2)}\n`)
  console.log(`${told.samples} samples, ${told.length_m.toFixed(0)} m: ${figures.samplesPerSecond} a second`)
  console.log(`in times of hashing them: ${figures.inTimesOfHashing}`)
  const isFlat = figures.memory <= most
  console.log(
    `memory at the end, of that after a tenth: ${figures.memory}; ${isFlat ? 'reached' : 'NOT reached'}: ≤ ${most} wanted`
  )
  return 0
})
