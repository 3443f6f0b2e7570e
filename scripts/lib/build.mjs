/** The doors: bundles that Node runs (esbuild) and the pages (Vite); built only when an input, an option or a bundler changed. */
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { inClone, root } from './places.mjs'
import { say } from './setup.mjs'
import { bundleWorkbench, workbench, workbenchRecipe } from './workbench.mjs'

/** Packages with a native part stay outside the bundles and are loaded from node_modules. */
const external = ['libsql', '@libsql/*', '@myriaddreamin/*']

/** CommonJS packages inside an ES module bundle call `require` for the built-ins of Node. */
const banner = {
  js: "import { createRequire as trueloopRequire } from 'node:module'\nconst require = trueloopRequire(import.meta.url)"
}

/** Program and worker lie in one bundle: they share their chunks, and neither can be older than the other. */
export const bundles = [
  { name: 'cli', entries: { main: 'apps/cli/main.ts', worker: 'host/crew/worker.ts' }, folder: 'build/cli' }
]

const options = ({ entries, folder }) => ({
  absWorkingDir: root,
  entryPoints: entries,
  outdir: folder,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20.19',
  sourcemap: true,
  metafile: true,
  logLevel: 'silent',
  chunkNames: 'chunks/[name]-[hash]',
  external,
  banner
})

const sha256 = (path) =>
  createHash('sha256')
    .update(readFileSync(inClone(path)))
    .digest('hex')

/** Builds what is not up to date; true when all is there in the end. */
export async function build(wanted = bundles) {
  const esbuild = await import('esbuild')
  const made = []
  for (const bundle of wanted)
    made.push(isCurrent(bundle, recipe(bundle, esbuild.version)) || (await make(bundle, esbuild)))
  if (wanted === bundles) made.push(await buildWorkbench())
  return made.every(Boolean)
}

async function buildWorkbench() {
  const made = await workbenchRecipe(sha256)
  if (isCurrent(workbench, made)) return true
  const next = `${workbench.folder}.next`
  try {
    const inputs = await bundleWorkbench(next)
    putInPlace(next, workbench.folder)
    writeStamp(workbench, { recipe: made, inputs, outputs: filesIn(workbench.folder) })
    return true
  } catch (error) {
    say(String(error?.stack ?? error))
    return false
  }
}

const filesIn = (folder) =>
  readdirSync(inClone(folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name !== 'stamp.json')
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))

const stampOf = ({ folder }) => inClone(folder, 'stamp.json')

/** What decides, beside the inputs' bytes: bundler, options, and the packages (resolution may change with them). */
const recipe = (bundle, version) => JSON.stringify([version, options(bundle), sha256('package-lock.json')])

function isCurrent(bundle, wanted) {
  try {
    const stamp = JSON.parse(readFileSync(stampOf(bundle), 'utf8'))
    const same = ([path, hash]) => sha256(path) === hash
    const there = Object.entries(stamp.outputs).every(same)
    return stamp.recipe === wanted && there && Object.entries(stamp.inputs).every(same)
  } catch {
    return false
  }
}

/** Made beside the old bundle and put in its place whole, the stamp written last. */
async function make(bundle, esbuild) {
  const next = { ...bundle, folder: `${bundle.folder}.next` }
  rmSync(inClone(next.folder), { recursive: true, force: true })
  let result
  try {
    result = await esbuild.build(options(next))
  } catch (error) {
    say(await report(error, esbuild))
    return false
  }
  if (result.warnings.length > 0) {
    // An import that isn't exported is only a warning to the bundler and undefined when it runs: never shipped.
    say(await report({ errors: result.warnings }, esbuild))
    return false
  }
  putInPlace(next.folder, bundle.folder)
  const outputs = Object.keys(result.metafile.outputs).map((path) => path.replace(next.folder, bundle.folder))
  writeStamp(bundle, { recipe: recipe(bundle, esbuild.version), inputs: Object.keys(result.metafile.inputs), outputs })
  return true
}

async function report(error, esbuild) {
  if (!Array.isArray(error.errors)) throw error
  return (await esbuild.formatMessages(error.errors, { kind: 'error' })).join('\n')
}

function putInPlace(from, to) {
  mkdirSync(inClone('build'), { recursive: true })
  rmSync(inClone(to), { recursive: true, force: true })
  renameSync(inClone(from), inClone(to))
}

function writeStamp(bundle, { recipe, inputs, outputs }) {
  const hashes = (paths) =>
    Object.fromEntries(paths.filter((path) => existsSync(inClone(path))).map((path) => [path, sha256(path)]))
  writeFileSync(stampOf(bundle), JSON.stringify({ recipe, inputs: hashes(inputs), outputs: hashes(outputs) }, null, 1))
}

/** One TypeScript file with all that it imports as one module, for a benchmark or a slow check; resolves to its path. */
export async function bundleFile(entry, outfile) {
  const esbuild = await import('esbuild')
  const {
    splitting: _,
    outdir: __,
    metafile: ___,
    chunkNames: ____,
    ...rest
  } = options({ entries: [entry], folder: '' })
  await esbuild.build({ ...rest, outfile, logLevel: 'error' })
  return inClone(outfile)
}

/** Path of a bundle's program. */
export const program = (name, entry = 'main') => join(root, 'build', name, `${entry}.js`)
