/** The laws of a killed program, at every step and at many moments: house/long/kills/run.ts says them. `-- kills --kills=N`. */
import { pathToFileURL } from 'node:url'
import { bundleFile } from '../../scripts/lib/build.mjs'

export const title = '200 kills at random moments by command, and one at every step of one examined hole'

export async function run({ program, options, say }) {
  const stopped = await bundleFile('host/chain/testing/stopped.ts', 'build/long/stopped.mjs')
  const made = await bundleFile('house/long/kills/run.ts', 'build/long/kills-run.mjs')
  const { runKills } = await import(pathToFileURL(made).href)
  return runKills({ program: program('cli'), stopped, kills: Number(options.kills ?? 200), say })
}
