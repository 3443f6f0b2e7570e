/**
 * `node bench/report.bench.mjs [--holes N] [--runs N]`: time of the report of an invented job of 2 000 holes, as HTML and
 * as PDF, each run a fresh process; the reading of the archive is not in it. The result stands in `report.result.json`.
 * A run that takes longer than is wanted says so and ends with 0.
 */
import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { bundleFile } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { provenance } from '../scripts/lib/provenance.mjs'
import { main, setUp } from '../scripts/lib/setup.mjs'

const wanted_s = 30
const option = (name, otherwise) => Number(process.argv[process.argv.indexOf(name) + 1] || otherwise)
const has = (name) => process.argv.includes(name)
const holes = has('--holes') ? option('--holes', 2000) : 2000
const runs = has('--runs') ? option('--runs', 3) : 3

function once(bundle) {
  const run = spawnSync(process.execPath, [bundle, String(holes)], { encoding: 'utf8', maxBuffer: 2 ** 26 })
  if (run.status !== 0) throw new Error(run.stderr)
  return JSON.parse(run.stdout.trimEnd().split('\n').at(-1))
}

const middle = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]
const figure = (value) => Number(value.toPrecision(4))

await main(async () => {
  await setUp()
  const bundle = await bundleFile('bench/report.entry.ts', 'build/bench/report.mjs')
  const all = Array.from({ length: runs }, () => once(bundle))
  const [{ htmlBytes, pdfBytes, pages }] = all
  const both_s = all.map(({ html_s, pdf_s }) => html_s + pdf_s)
  const figures = {
    html_s: figure(middle(all.map(({ html_s }) => html_s))),
    pdf_s: figure(middle(all.map(({ pdf_s }) => pdf_s))),
    both_s: figure(middle(both_s)),
    cpu_s: figure(middle(all.map(({ cpu_s }) => cpu_s))),
    peak_MiB: Math.round(Math.max(...all.map(({ peak_MiB }) => peak_MiB)))
  }
  console.log(
    `report of ${holes} holes: ${JSON.stringify(figures)}; ${pages} pages, HTML ${htmlBytes}, PDF ${pdfBytes} bytes`
  )
  console.log(figures.both_s <= wanted_s ? `reached: ${wanted_s} s wanted` : `NOT reached: ${wanted_s} s wanted`)
  // Others at work on the same cores lengthen the time, not the processor's: both are kept, and how many there were.
  const load = figure(loadavg()[0])
  console.log(`load while it ran: ${load}`)
  if (holes !== 2000) return 0
  const title = 'report: an invented job of 2 000 holes, HTML and PDF together, without reading the archive'
  const result = {
    title,
    ...provenance(),
    holes,
    runs,
    pages,
    htmlBytes,
    pdfBytes,
    both_s: both_s.map(figure),
    figures
  }
  writeFileSync(inClone('bench', 'report.result.json'), `${JSON.stringify(result, null, 2)}\n`)
  return 0
})
