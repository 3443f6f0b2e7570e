import { join } from 'node:path'
import { build } from 'esbuild'
import { cloneRoot } from '../../../house/outside.ts'

/** Makes the program that stops itself, as a bundle that Node runs. */
export async function buildStopped(): Promise<string> {
  const outfile = join(cloneRoot, 'build', 'testing', `stopped-${process.pid}.mjs`)
  const entry = join(cloneRoot, 'host/chain/testing/stopped.ts')
  const external = ['libsql', 'kysely', 'zod']
  await build({
    ...{ entryPoints: [entry], outfile, external },
    ...{ bundle: true, platform: 'node', format: 'esm', logLevel: 'silent' }
  })
  return outfile
}
