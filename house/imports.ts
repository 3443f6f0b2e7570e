import { posix } from 'node:path'
import ts from 'typescript'
import { nodes, parse, placeOf, type Source } from './tree.ts'

/** One import, export-from, dynamic import or import type. */
export interface Import {
  readonly from: string
  readonly place: string
}

const specifierOf = (node: ts.Node): ts.Expression | ts.TypeNode | undefined => {
  if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) return node.moduleSpecifier
  if (ts.isImportTypeNode(node)) return node.argument
  if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) return node.arguments[0]
  return undefined
}

const textOf = (node: ts.Node): string | undefined => {
  if (ts.isStringLiteralLike(node)) return node.text
  return ts.isLiteralTypeNode(node) && ts.isStringLiteral(node.literal) ? node.literal.text : undefined
}

/** All imports of a file. One whose name is computed is given as `(computed)`. */
export function importsOf(source: Source): readonly Import[] {
  const found: Import[] = []
  for (const node of nodes(parse(source))) {
    const specifier = specifierOf(node)
    if (specifier !== undefined) found.push({ from: textOf(specifier) ?? '(computed)', place: placeOf(node) })
  }
  return found
}

/** Path in the clone that an import leads to: relative ones and `@trueloop/...`; undefined for a package or a built-in. */
export function targetOf(from: string, path: string): string | undefined {
  if (from.startsWith('.')) return posix.normalize(posix.join(posix.dirname(path), from))
  const [, name, rest] = from.match(/^@trueloop\/([^/]+)(?:\/(.+))?$/) ?? []
  if (name === undefined) return undefined
  const floor = ['ground', 'metal', 'job', 'host'].includes(name) ? name : `apps/${name}`
  return `${floor}${rest === undefined ? '' : `/${rest}`}/index.ts`
}
