import ts from 'typescript'
import { nodes, parse, placeOf, type Source } from './tree.ts'

/** Exact in every engine: IEEE 754 operations, comparisons, integer work, and constants. Everything else of Math is not. */
const exactMath = [
  ...['sqrt', 'abs', 'floor', 'round', 'min', 'max', 'imul', 'fround', 'ceil', 'trunc', 'sign', 'clz32'],
  ...['PI', 'E', 'LN2', 'LN10', 'LOG2E', 'LOG10E', 'SQRT2', 'SQRT1_2']
]

/** The world outside: clock, random source, platform. Below `host` they are arguments. */
const world = [
  ...['Date', 'performance', 'setTimeout', 'setInterval', 'setImmediate', 'queueMicrotask', 'requestAnimationFrame'],
  ...[
    'process',
    'console',
    'fs',
    'crypto',
    'fetch',
    'document',
    'window',
    'globalThis',
    'self',
    'navigator',
    'require'
  ],
  ...['localStorage', 'indexedDB', 'Worker', 'Buffer', 'eval', 'Function', 'Intl', 'WeakRef', 'FinalizationRegistry']
]

/** Methods whose answer depends on the engine's language data. */
const localMethods = ['toLocaleString', 'toLocaleUpperCase', 'toLocaleLowerCase', 'localeCompare', 'normalize']

/** Names that no local declaration can make harmless. */
const neverLocal = ['Math', 'Date']

export interface Finding {
  readonly name: string
  readonly place: string
}

/** Uses of what is forbidden in the pure floors, in one file. */
export const forbiddenIn = (source: Source): readonly Finding[] => find(source, nameForbidden)

/** The numeric part alone, which binds libraries too: what could make a result differ between engines or runs. */
export const unexactIn = (source: Source): readonly Finding[] => find(source, nameUnexact)

type Namer = (node: ts.Node, declared: ReadonlySet<string>) => string | undefined

function find(source: Source, namer: Namer): readonly Finding[] {
  const declared = declaredIn(source)
  const found: Finding[] = []
  for (const node of nodes(parse(source))) {
    const name = namer(node, declared)
    if (name !== undefined) found.push({ name, place: placeOf(node) })
  }
  return found
}

const nameForbidden: Namer = (node, declared) => {
  const unexact = nameUnexact(node, declared)
  if (unexact !== undefined) return unexact
  if (ts.isPropertyAccessExpression(node) && localMethods.includes(node.name.text)) return `.${node.name.text}`
  if (!ts.isIdentifier(node) || !world.includes(node.text) || isOnlyAName(node)) return undefined
  return declared.has(node.text) && !neverLocal.includes(node.text) ? undefined : node.text
}

const nameUnexact: Namer = (node) => {
  if (node.kind === ts.SyntaxKind.AsteriskAsteriskToken) return '**'
  if (node.kind === ts.SyntaxKind.AsteriskAsteriskEqualsToken) return '**='
  if (!ts.isIdentifier(node) || !neverLocal.includes(node.text) || isOnlyAName(node)) return undefined
  return node.text === 'Date' ? 'Date' : inexactMath(node)
}

/** `Math` itself may appear only before a dot and an exact name: no alias, no brackets, no destructuring. */
function inexactMath(node: ts.Identifier): string | undefined {
  const parent = node.parent
  if (!ts.isPropertyAccessExpression(parent) || parent.expression !== node) return 'Math'
  return exactMath.includes(parent.name.text) ? undefined : `Math.${parent.name.text}`
}

/** An identifier that stands for no value: `.name`, `{ name: … }`, a member's or parameter's own name, an import's. */
function isOnlyAName(node: ts.Identifier): boolean {
  const parent = node.parent
  if (ts.isPropertyAccessExpression(parent)) return parent.name === node
  if (ts.isQualifiedName(parent)) return parent.right === node
  if (ts.isShorthandPropertyAssignment(parent)) return false
  return (parent as { name?: ts.Node }).name === node && !ts.isImportSpecifier(parent)
}

/** Names that the file itself declares: `window` is a good name for a taper, and no DOM. */
function declaredIn(source: Source): ReadonlySet<string> {
  const names = new Set<string>()
  for (const node of nodes(parse(source))) {
    const name = isDeclaration(node) ? node.name : undefined
    if (name !== undefined && ts.isIdentifier(name)) names.add(name.text)
  }
  return names
}

const isDeclaration = (node: ts.Node): node is ts.NamedDeclaration =>
  ts.isVariableDeclaration(node) ||
  ts.isParameter(node) ||
  ts.isBindingElement(node) ||
  ts.isFunctionDeclaration(node) ||
  ts.isImportSpecifier(node)
