/**
 * Sizes of functions and files against the aims of the house: `node house/sizes.mjs [folder …]`. No test: something to look at.
 * Tests, declarations and kernels (`*.kernel.ts`, which may be longer) are listed apart from the product.
 */
import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import ts from 'typescript'
import { inClone, root } from '../scripts/lib/places.mjs'

const aims = { 'function median': 10, 'function p90': 25, 'file p90': 220, 'exports p90': 6, 'parameters most': 3 }
const longest = 12

const folders = process.argv.slice(2)
const listed = execFileSync('git', ['ls-files', '-co', '--exclude-standard'], { cwd: root, encoding: 'utf8' }).split(
  '\n'
)
const isWanted = (path) => folders.length === 0 || folders.some((folder) => path.startsWith(folder))
const files = listed.filter((path) => /\.(ts|tsx|mjs)$/.test(path) && !/\.d\.m?ts$/.test(path) && isWanted(path))

const kindOf = (path) =>
  /\.test\.ts$|\/testing\//.test(path) ? 'tests' : /\.kernel\.ts$/.test(path) ? 'kernels' : 'product'

/** Lines of a span that hold code: neither blank nor comment alone. */
const codeLines = (text) =>
  text.split('\n').filter((line) => line.trim() !== '' && !/^\s*(\/\/|\/?\*)/.test(line)).length

function functionsIn(node, found = []) {
  if (ts.isFunctionLike(node) && node.body !== undefined && nameOf(node) !== undefined)
    found.push({ name: nameOf(node), lines: codeLines(node.getText()), parameters: node.parameters.length })
  node.forEachChild((child) => void functionsIn(child, found))
  return found
}

const nameOf = (node) =>
  node.name?.getText() ?? (ts.isVariableDeclaration(node.parent) ? node.parent.name.getText() : undefined)

const isExported = (statement) =>
  ts.canHaveModifiers(statement) && ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)

function measure(path) {
  const file = ts.createSourceFile(path, readFileSync(inClone(path), 'utf8'), ts.ScriptTarget.ES2023, true)
  const exported = file.statements.filter(isExported).length
  return { path, kind: kindOf(path), lines: codeLines(file.text), exported, functions: functionsIn(file) }
}

function quantile(numbers, share) {
  const sorted = [...numbers].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0
}

function report(kind, measured) {
  const functions = measured.flatMap(({ path, functions }) => functions.map((one) => ({ ...one, path })))
  const lines = functions.map((one) => one.lines)
  const figures = {
    'function median': quantile(lines, 0.5),
    'function p90': quantile(lines, 0.9),
    'file p90': quantile(
      measured.map((one) => one.lines),
      0.9
    ),
    'exports p90': quantile(
      measured.map((one) => one.exported),
      0.9
    ),
    'parameters most': Math.max(0, ...functions.map((one) => one.parameters))
  }
  console.log(`\n${kind}: ${measured.length} files, ${functions.length} functions`)
  for (const [name, value] of Object.entries(figures))
    console.log(
      `  ${name.padEnd(18)}${String(value).padStart(6)}   aim ${aims[name]}${value > aims[name] ? '   over' : ''}`
    )
  const top = (list, label) =>
    list
      .toSorted((a, b) => b.lines - a.lines)
      .slice(0, longest)
      .filter((one) => one.lines > label)
  for (const one of top(functions, aims['function p90']))
    console.log(`  ${String(one.lines).padStart(5)}  ${one.path} ${one.name}`)
  for (const one of top(measured, aims['file p90'])) console.log(`  ${String(one.lines).padStart(5)}  ${one.path}`)
}

const all = files.map(measure)
for (const kind of ['product', 'kernels', 'tests'])
  report(
    kind,
    all.filter((one) => one.kind === kind)
  )
