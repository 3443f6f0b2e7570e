/** Makes a clone ready: the right Node, the packages of the lock file, nothing outside the clone. */
import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { npm } from './child.mjs'
import { withLock } from './lock.mjs'
import { inClone, root } from './places.mjs'

const oldest = [20, 19]
const lastLines = 25
const stampPath = inClone('node_modules', '.trueloop-setup.json')
const logPath = inClone('build', 'setup.log')

/** A set-up that could not be done, with what to do about it; printed without a stack. */
export class SetupFailure extends Error {}

/** Lines about the set-up go to stderr: stdout belongs to what is run. */
export const say = (line) => process.stderr.write(`${line}\n`)

export function checkNode(version = process.versions.node) {
  const [major, minor] = version.split('.').map(Number)
  if (major > oldest[0] || (major === oldest[0] && minor >= oldest[1])) return
  const needed = oldest.join('.')
  throw new SetupFailure(
    `found Node ${version}; needed Node ${needed} or newer; install it and run the same command again`
  )
}

/** Packages and whatever `work` builds from them, one process at a time in this clone. */
export async function setUp(work = async () => undefined) {
  checkNode()
  return withLock(inClone('build', 'setup.lock'), say, async () => {
    await install()
    return work()
  })
}

/** What the installed packages depend on: lock file, Node, platform. */
const wanted = () =>
  JSON.stringify({
    lock: createHash('sha256')
      .update(readFileSync(inClone('package-lock.json')))
      .digest('hex'),
    node: process.version,
    platform: `${process.platform}-${process.arch}`
  })

const installed = () => {
  try {
    return readFileSync(stampPath, 'utf8')
  } catch {
    return ''
  }
}

async function install() {
  const stamp = wanted()
  if (installed() === stamp) return
  say('installing packages (npm ci); a first time takes a minute')
  const { code, output } = await npm(['ci', '--no-audit', '--no-fund'], { cwd: root, capture: true })
  writeFileSync(logPath, output)
  if (code !== 0) throw new SetupFailure(failedInstall(code, output))
  writeFileSync(stampPath, stamp)
}

/** npm's manual page after a complaint hides the complaint. */
const withoutManual = (output) => output.split(/^npm error Clean install a project$/m)[0].trimEnd()

const failedInstall = (code, output) =>
  [
    ...withoutManual(output).split('\n').slice(-lastLines),
    `npm ci ended with ${code}; its whole output is in build/setup.log`,
    'what to do: see that the package registry npm is set up for can be reached and that the disk has room, then run the same command again'
  ].join('\n')

/** Runs a script's main function; a set-up failure ends it with its own words and code 1. */
export async function main(body) {
  try {
    process.exitCode = (await body()) ?? 0
  } catch (error) {
    if (!(error instanceof SetupFailure)) throw error
    say(error.message)
    process.exitCode = 1
  }
}
