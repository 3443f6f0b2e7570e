/** The stages of `npm test`, in order. Each takes nothing and resolves to a tally. */
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join, relative } from 'node:path'
import { build } from './build.mjs'
import { run } from './child.mjs'
import { inClone, root } from './places.mjs'
import { oneCheck, sum, tallyOf } from './tally.mjs'

const isDoor = (path) => path.endsWith('.door.test.ts')
const isHouse = (path) => path.startsWith('house/')
/** Outside readers: tests that ask another program (house/tools.ts) about our bytes or our numbers. */
const isReader = (path) => !isDoor(path) && /\bneedsTool\(/.test(readFileSync(inClone(path), 'utf8'))

export const stages = [
  { name: 'types', work: types },
  { name: 'lint', work: lint },
  { name: 'build', work: async () => oneCheck(await build()) },
  { name: 'house', work: () => vitest('house', (path) => isHouse(path)) },
  { name: 'unit', work: () => vitest('unit', (path) => !isHouse(path) && !isDoor(path) && !isReader(path)) },
  { name: 'doors', work: () => vitest('doors', (path) => !isHouse(path) && isDoor(path)) },
  { name: 'outside', work: () => vitest('outside', (path) => !isHouse(path) && isReader(path)) }
]

const packageProgram = (name, file) => join(root, 'node_modules', name, file)

/** A quiet tool: what it says is shown only when it is not content. */
async function check(program, args) {
  const { code, output } = await run(process.execPath, [program, ...args], { cwd: root, capture: true })
  if (code !== 0) process.stdout.write(output)
  return oneCheck(code === 0)
}

async function types() {
  const configs = ['tsconfig.pure.json', 'tsconfig.node.json', 'tsconfig.web.json'].filter((name) =>
    existsSync(inClone(name))
  )
  const tsc = packageProgram('typescript', 'bin/tsc')
  return sum(await Promise.all(configs.map((config) => check(tsc, ['-p', config, '--pretty', 'false']))))
}

function lint() {
  return check(packageProgram('@biomejs/biome', 'bin/biome'), ['check', '--colors=off', '.'])
}

let tests

/** Every test file, as Vitest itself finds them: none falls between two stages. */
async function testFiles() {
  if (tests !== undefined) return tests
  const args = [packageProgram('vitest', 'vitest.mjs'), 'list', '--filesOnly', '--json']
  const { code, output } = await run(process.execPath, args, { cwd: root, capture: true })
  if (code !== 0) throw new Error(output)
  tests = JSON.parse(output.slice(output.indexOf('['))).map(({ file }) => relative(root, file).replaceAll('\\', '/'))
  return tests
}

async function vitest(name, isWanted) {
  const wanted = (await testFiles()).filter(isWanted)
  if (wanted.length === 0) return sum([])
  const file = inClone('build', 'test', `${name}.json`)
  mkdirSync(inClone('build', 'test'), { recursive: true })
  rmSync(file, { force: true })
  const reporters = ['--reporter=dot', '--reporter=json', `--outputFile.json=${file}`]
  const all = [packageProgram('vitest', 'vitest.mjs'), 'run', ...reporters, ...wanted]
  const plain = process.stdout.isTTY ? {} : { NO_COLOR: '1' }
  const { code } = await run(process.execPath, all, { cwd: root, env: { ...process.env, ...plain } })
  return tallyOf(existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined, code)
}
