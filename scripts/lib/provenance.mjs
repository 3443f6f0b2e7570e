/** What a kept result has to say about its run: commit, whether the tree was changed, date, machine, versions. */
import { execFileSync } from 'node:child_process'
import { cpus, totalmem } from 'node:os'
import { root } from './places.mjs'

function git(...args) {
  try {
    return execFileSync('git', args, { cwd: root, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim()
  } catch {
    return ''
  }
}

/** Result files do not count as a change: writing the first would make the second's tree "changed". */
const isChanged = () =>
  git('status', '--porcelain')
    .split('\n')
    .some((line) => line !== '' && !/results?\//.test(line))

export const provenance = () => ({
  commit: git('rev-parse', '--verify', '--short=12', 'HEAD') || 'none',
  treeChanged: isChanged(),
  date: new Date().toISOString().slice(0, 10),
  machine: {
    cores: cpus().length,
    processor: cpus()[0]?.model ?? 'unknown',
    memory_GiB: Math.round(totalmem() / 2 ** 30),
    platform: `${process.platform}-${process.arch}`
  },
  node: process.version
})
