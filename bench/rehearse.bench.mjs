/**
 * `node bench/rehearse.bench.mjs [--runs N]`: recordings of a practice by the field of its probe, once the tables of their
 * flaws are there: time to make one over the time that it lasts, as fresh processes make them (the sample sheet of the
 * guide: reference standard, two holes, recheck). At most a fifth is wanted; a run that misses it says so and ends with 0.
 * The result stands in `rehearse.result.json`.
 */
import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { parse } from 'yaml'
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { provenance } from '../scripts/lib/provenance.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'

const WANTED = 0.2
const at = process.argv.indexOf('--runs')
const runs = at < 0 ? 5 : Number(process.argv[at + 1])
const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]
const figure = (value) => Number(value.toPrecision(3))

await main(async () => {
  await setUp()
  const bundle = await bundleFile('bench/rehearse.entry.ts', 'build/bench/rehearse.mjs')
  const sheet = JSON.stringify(parse(readFileSync(inClone('docs', 'samples', 'hole-job.yaml'), 'utf8')))
  const all = Array.from({ length: runs }, () => {
    const run = spawnSync(process.execPath, [bundle, sheet], { encoding: 'utf8' })
    if (run.status !== 0) throw new Error(run.stderr)
    return JSON.parse(run.stdout.trimEnd().split('\n').at(-1))
  })
  const recordings = all[0].holes.map(({ file, flaws, lasts_ms }, k) => ({
    ...{ file, flaws, lasts_ms: figure(lasts_ms) },
    share: figure(middle(all.map(({ holes }) => holes[k].took_ms / holes[k].lasts_ms)))
  }))
  const tables_ms = figure(middle(all.map((one) => one.tables_ms)))
  const result = {
    title: 'recordings by the field of the probe',
    ...provenance(),
    load: figure(loadavg()[0]),
    runs,
    tables_ms,
    recordings
  }
  writeFileSync(inClone('bench', 'rehearse.result.json'), `${JSON.stringify(result, null, 2)}\n`)
  for (const { file, flaws, share } of recordings)
    console.log(
      `${file}: ${flaws} flaws, ${share} of its duration; ${share <= WANTED ? 'reached' : 'NOT reached'}: ${WANTED} wanted`
    )
  console.log(`all tables: ${tables_ms} ms`)
  return 0
})
