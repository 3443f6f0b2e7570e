/**
 * `node bench/help.bench.mjs [--pairs N]`: how long `--help` of the bundled command takes against a Node that does
 * nothing: at most twice as long (the limit is checked here, and the run says so).
 */
import { readFileSync } from 'node:fs'
import { build, program } from '../scripts/lib/build.mjs'
import { inClone } from '../scripts/lib/places.mjs'
import { main, SetupFailure, setUp } from '../scripts/lib/setup.mjs'
import { paired } from './paired.mjs'

const most = 2
const resultPath = inClone('bench', 'help.result.json')

/** What each must have said: help lists its commands, the bare Node nothing. */
const said = (stdout) => ({
  listsCommands: /^Commands:/m.test(stdout) && /^ +examine /m.test(stdout),
  bytes: stdout.length
})
const read = (stdout) => ({ answer: said(stdout), figures: {} })

const compare = (help, nothing) => ({
  equal: help.listsCommands && nothing.bytes === 0,
  compared: { help, nothing }
})

await main(async () => {
  await setUp(async () => {
    if (!(await build())) throw new SetupFailure('the program could not be built: see the lines above')
  })
  const at = process.argv.indexOf('--pairs')
  const code = await paired({
    title: 'help: the bundled command against a Node that does nothing, time of the whole process',
    a: { name: 'trueloop --help', command: process.execPath, args: [program('cli'), '--help'], read },
    b: { name: "node -e ''", command: process.execPath, args: ['-e', ''], read },
    compare,
    pairs: at < 0 ? 20 : Number(process.argv[at + 1]),
    resultPath
  })
  if (code !== 0) return code
  const { ratio } = JSON.parse(readFileSync(resultPath, 'utf8')).figures.process_s
  console.log(`${ratio} times: ${ratio <= most ? 'within' : 'NOT within'} the limit of ${most}`)
  return 0
})
