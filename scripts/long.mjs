/**
 * npm run long: checks that are too slow for every day. `-- NAME …` runs some, `-- --list` lists them; `--name=value`
 * is handed to the checks as an option.
 * A check is a module with `title` and `run(context)` in house/long/*.mjs or in any *.long.ts; `run` resolves to
 * `{ ok, … }` with plain figures. Its result is kept in git as house/long/results/NAME.json with commit and date.
 */
import { execFileSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { basename } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build, bundleFile, program } from './lib/build.mjs'
import { endOnSignals } from './lib/child.mjs'
import { inClone, root, sharedPath } from './lib/places.mjs'
import { provenance } from './lib/provenance.mjs'
import { main, SetupFailure, setUp } from './lib/setup.mjs'
import { findTool } from './lib/tools.mjs'

const isCheck = /^house\/long\/[^/]+\.mjs$|\.long\.ts$/
const nameOf = (path) => basename(path).replace(/\.mjs$|\.long\.ts$/, '')

const list = () =>
  execFileSync('git', ['ls-files', '-co', '--exclude-standard'], { cwd: root, encoding: 'utf8' })
    .split('\n')
    .filter((path) => isCheck.test(path))

/** TypeScript checks are bundled first, as the doors are. */
const moduleOf = async (path) =>
  path.endsWith('.ts') ? bundleFile(path, `build/long/${nameOf(path)}.mjs`) : inClone(path)

/** Options of the form --name=value. */
const options = Object.fromEntries(
  process.argv.slice(2).flatMap((arg) => {
    const [, name, value] = arg.match(/^--([a-z]+)=(.*)$/) ?? []
    return name === undefined ? [] : [[name, value]]
  })
)

const context = { root, program, sharedPath, findTool, options, say: (line) => console.log(`   ${line}`) }

async function runOne(path) {
  const name = nameOf(path)
  const { title, run } = await import(pathToFileURL(await moduleOf(path)).href)
  console.log(`\n== ${name}: ${title}`)
  const from = performance.now()
  const result = await run(context).catch((error) => ({ ok: false, error: String(error) }))
  const seconds = Number(((performance.now() - from) / 1000).toFixed(1))
  console.log(JSON.stringify(result, null, 2))
  console.log(`== ${name}: ${result.ok ? 'good' : 'NOT GOOD'}, ${seconds} s`)
  // What could not run has no figures: those of the last run that did stand.
  if (result.error === undefined) keep(name, { name, title, ...provenance(), seconds, result })
  return result.ok === true
}

function keep(name, result) {
  mkdirSync(inClone('house', 'long', 'results'), { recursive: true })
  writeFileSync(inClone('house', 'long', 'results', `${name}.json`), `${JSON.stringify(result, null, 2)}\n`)
}

endOnSignals()
await main(async () => {
  const wanted = process.argv.slice(2).filter((arg) => !arg.startsWith('-'))
  const all = list()
  const some = all.filter((path) => wanted.length === 0 || wanted.includes(nameOf(path)))
  if (process.argv.includes('--list')) console.log(all.map(nameOf).join('\n'))
  if (process.argv.includes('--list')) return 0
  if (some.length < Math.max(wanted.length, 1))
    throw new SetupFailure(`found no such check; there are: ${all.map(nameOf).join(', ')}`)
  await setUp(async () => {
    if (!(await build())) throw new SetupFailure('the program could not be built: see the lines above')
  })
  const good = []
  for (const path of some) good.push(await runOne(path))
  return good.every(Boolean) ? 0 : 1
})
