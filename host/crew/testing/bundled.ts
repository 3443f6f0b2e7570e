import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { build } from 'esbuild'
import { cloneRoot } from '../../../house/outside.ts'

/** Node 20 runs no TypeScript: a worker of the sources as one module, as the build makes it. */
export async function bundledWorker(entry: string, name: string): Promise<URL> {
  const outfile = join(cloneRoot, 'build', 'crew-test', `${name}.mjs`)
  await build({
    absWorkingDir: cloneRoot,
    entryPoints: [entry],
    outfile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20.19',
    logLevel: 'error'
  })
  return pathToFileURL(outfile)
}
