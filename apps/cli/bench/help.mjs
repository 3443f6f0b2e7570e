/**
 * How long `--help` takes against bare Node, in turns (A B B A), fresh processes, 10 pairs. Prints; judges nothing.
 * Run: node apps/cli/bench/help.mjs
 */
import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const bundle = fileURLToPath(new URL('../../../build/cli/main.js', import.meta.url))

function time(args) {
  const from = performance.now()
  spawnSync(process.execPath, args, { stdio: 'ignore' })
  return performance.now() - from
}

const help = [bundle, '--help']
const bare = ['-e', '0']
const median = (values) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]
const pairs = Array.from({ length: 5 }).flatMap(() => {
  const [a, b, c, d] = [help, bare, bare, help].map(time)
  return [
    { help: a, bare: b },
    { help: d, bare: c }
  ]
})
const ratio = median(pairs.map((pair) => pair.help / pair.bare))
const [ours, theirs] = ['help', 'bare'].map((one) => median(pairs.map((pair) => pair[one])).toFixed(0))
console.log(`--help ${ours} ms, bare node ${theirs} ms, ratio ${ratio.toFixed(2)}`)
