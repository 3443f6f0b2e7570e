/** Vite's bundle of the pages and their worker. */
import { readdirSync, readFileSync } from 'node:fs'
import { relative } from 'node:path'
import { inClone, root } from './places.mjs'

export const workbench = { name: 'workbench', folder: 'build/workbench' }

/** What decides beside the sources: the bundler, how it is set, and the packages. */
export async function workbenchRecipe(sha256) {
  const { version } = JSON.parse(readFileSync(inClone('node_modules/vite/package.json'), 'utf8'))
  return JSON.stringify([version, sha256('apps/workbench/vite.config.ts'), sha256('package-lock.json')])
}

/** Builds into a folder; resolves to all files that it was made from, or throws what was wrong. */
export async function bundleWorkbench(folder) {
  const { build } = await import('vite')
  // style sheets that a style sheet imports are told to no plugin
  const styles = readdirSync(inClone('apps/workbench/style')).map((name) => `apps/workbench/style/${name}`)
  const inputs = new Set(['apps/workbench/index.html', ...styles])
  const gather = {
    name: 'inputs',
    moduleParsed: ({ id }) => note(inputs, id),
    transform: (_, id) => void note(inputs, id)
  }
  const plugins = [gather]
  await build({
    configFile: inClone('apps/workbench/vite.config.ts'),
    logLevel: 'error',
    plugins,
    worker: { format: 'es', plugins: () => [gather] },
    build: { outDir: inClone(folder), emptyOutDir: true }
  })
  return [...inputs]
}

/** Files of the clone; those of packages follow from the lock file. */
function note(inputs, id) {
  const path = relative(root, id.replace(/\?.*$/, '')).replaceAll('\\', '/')
  if (!path.startsWith('..') && !path.startsWith('node_modules') && !id.startsWith('\0')) inputs.add(path)
}
