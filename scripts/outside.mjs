/**
 * npm run outside: which outside tools the tests could use, which are missing and how to get them.
 * `-- --yes` gets them: Debian packages by apt-get (as root), npm packages into the git-ignored build/outside.
 * `--long` with it gets also what only the slow checks of `npm run long` and single benchmarks use.
 */
import { existsSync, mkdirSync, writeFileSync } from 'node:fs'
import { endOnSignals, npm, run } from './lib/child.mjs'
import { inClone } from './lib/places.mjs'
import { main } from './lib/setup.mjs'
import { findTool, forgetTools, tools } from './lib/tools.mjs'

const here = `${process.platform}-${process.arch}`
const fits = (tool) => tool.platform === undefined || tool.platform === here
const long = process.argv.includes('--long')
const missing = () => tools.filter((tool) => fits(tool) && (long || !tool.long) && findTool(tool.name) === undefined)
const packagesOf = (some) => [...new Set(some.flatMap((tool) => tool.apt ?? []))].sort()
const aptArgs = (packages) => ['install', '-y', '--no-install-recommends', ...packages]
const npmArgs = (tool) => [
  'install',
  '--no-save',
  '--no-package-lock',
  '--no-audit',
  '--no-fund',
  '--prefix',
  tool.folder,
  tool.package
]

function show() {
  for (const { name, long: slow } of tools)
    console.log(
      `  ${name.padEnd(12)}${findTool(name) ?? `missing${slow ? ' (for npm run long and benchmarks only: --long gets it)' : ''}`}`
    )
}

function lines(some) {
  const packages = packagesOf(some)
  const apt = packages.length === 0 ? [] : ['apt-get update', `apt-get ${aptArgs(packages).join(' ')}`]
  return [...apt, ...some.filter((tool) => tool.kind === 'npm').map((tool) => `npm ${npmArgs(tool).join(' ')}`)]
}

async function getFromDebian(some) {
  const packages = packagesOf(some)
  if (packages.length === 0) return true
  if (process.getuid?.() !== 0) {
    console.error('the Debian packages have to be installed by root; run the apt-get lines above as root')
    return false
  }
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  const stdio = ['ignore', 'inherit', 'inherit']
  if ((await run('apt-get', ['update', '-qq'], { env, stdio })).code !== 0)
    console.error('apt-get update failed; going on with the lists there are')
  return (await run('apt-get', ['-qq', ...aptArgs(packages)], { env, stdio })).code === 0
}

/** A folder with a package file of its own, so that npm does not take the clone for the place to install into. */
async function getFromNpm(tool) {
  const folder = inClone(tool.folder)
  mkdirSync(folder, { recursive: true })
  const manifest = inClone(tool.folder, 'package.json')
  if (!existsSync(manifest)) writeFileSync(manifest, '{ "private": true }\n')
  return (await npm(npmArgs({ ...tool, folder }), { cwd: folder })).code === 0
}

async function getAll(some) {
  const got = [await getFromDebian(some)]
  for (const tool of some.filter(({ kind }) => kind === 'npm')) got.push(await getFromNpm(tool))
  forgetTools()
  const left = missing()
  if (left.length > 0) console.error(`still missing: ${left.map(({ name }) => name).join(', ')}`)
  return got.every(Boolean) && left.length === 0
}

endOnSignals()
await main(async () => {
  show()
  const some = missing()
  if (some.length === 0) return 0
  console.log(['', 'to get what is missing:', ...lines(some).map((line) => `  ${line}`)].join('\n'))
  if (process.argv.includes('--yes')) return (await getAll(some)) ? 0 : 1
  console.log(`or: npm run outside -- --yes${long ? ' --long' : ''}`)
  return 0
})
