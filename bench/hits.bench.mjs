/**
 * `node bench/hits.bench.mjs [--pairs N]`: bounds of the size found in 90 % by hits and misses, against R.
 * `bound`: the likelihood ratio on 100 000 rows as they come (portable generator, no two of one size), from sizes to the
 * bound; we put rows together as we see fit, R as it would. `resamples`: the bound by 2 000 resamples of 100 flaws,
 * corrected for bias and acceleration, equal draws on both sides. R by Newton steps of its own, as somebody writes it with
 * care: quicker there than glm. Answers must agree to 1e-8. Processor time of computation alone: neither start nor
 * reading; first pass, and `warm` the middle of later ones, when both sides have compiled what they run. 5 times as fast
 * is wanted; a run that misses it says so and ends with 0.
 */
import { spawnSync } from 'node:child_process'
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { main, SetupFailure, setUp } from '../scripts/lib/setup.mjs'
import { findTool } from '../scripts/lib/tools.mjs'
import { oneThread, pairsWanted } from './numbers.mjs'
import { paired, sayWanted } from './paired.mjs'

const repeats = '9'
const closeness = 1e-8
const resultPath = inClone('bench', 'hits.result.json')
const names = ['hits', 'hitsOfFew', 'a90', 'a90_95', 'a90OfFew', 'corrected', 'bias', 'acceleration']

const read = (stdout) => {
  const { answer, ...figures } = JSON.parse(stdout.trimEnd().split('\n').at(-1))
  return { answer, figures }
}

function compare(ours, theirs) {
  const apart = Math.max(...theirs.map((value, at) => Math.abs(ours[at] / value - 1)))
  const equal = ours.length === names.length && theirs.length === names.length && apart < closeness
  return { equal, compared: { ...Object.fromEntries(names.map((name, at) => [name, ours[at]])), apart } }
}

function rscript() {
  const program = findTool('rscript')
  if (program === undefined)
    throw new SetupFailure('found no Rscript; get it by `npm run outside -- --yes --long` (Debian package r-base-core)')
  return program
}

await main(async () => {
  await setUp()
  const program = rscript()
  const version = spawnSync(program, ['-e', 'cat(as.character(getRversion()))'], { encoding: 'utf8' }).stdout
  const bundle = await bundleFile('bench/hits.entry.ts', 'build/bench/hits.mjs')
  const code = await paired({
    title: 'hits: bound of 100 000 rows; 2 000 resamples of 100 flaws',
    a: { name: 'Trueloop', command: process.execPath, args: [bundle, repeats], read },
    b: { name: 'R', command: program, args: [inClone('bench', 'peer_hits.R'), repeats], read, env: oneThread },
    compare,
    pairs: pairsWanted(),
    resultPath,
    versions: { r: version }
  })
  const wanted = ['bound_s', 'resamples_s', 'warmBound_s', 'warmResamples_s']
  if (code === 0) sayWanted(resultPath, Object.fromEntries(wanted.map((name) => [name, 5])))
  return code
})
