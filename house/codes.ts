import ts from 'typescript'
import { isTest, nodes, parse, type Source } from './tree.ts'

/** A refusal code as it stands in a room's list. */
export interface Code {
  readonly code: string
  readonly path: string
}

const isList = (path: string): boolean => /(^|\/)codes\.ts$/.test(path)

/** All codes of all rooms: every string in a `codes.ts`. */
export const codesIn = (all: readonly Source[]): readonly Code[] =>
  all
    .filter(({ path }) => isList(path))
    .flatMap((source) => stringsOf(source).map((code) => ({ code, path: source.path })))

function stringsOf(source: Source): readonly string[] {
  const found: string[] = []
  for (const node of nodes(parse(source))) {
    const isName = ts.isImportDeclaration(node.parent ?? node) || ts.isExportDeclaration(node.parent ?? node)
    if (ts.isStringLiteralLike(node) && !isName && !ts.isLiteralTypeNode(node.parent)) found.push(node.text)
  }
  return found
}

const roomOf = (path: string): string => path.split('/').at(-2) ?? ''

/** A code is `room/what-is-wrong`, its room the folder of its list. */
export const misnamed = (codes: readonly Code[]): readonly string[] =>
  codes
    .filter(({ code, path }) => !new RegExp(`^${roomOf(path)}/[a-z0-9]+(-[a-z0-9]+)*$`).test(code))
    .map(({ code, path }) => `${path}: ${code}`)

export const doubled = (codes: readonly Code[]): readonly string[] =>
  codes.filter(({ code }, index) => codes.findIndex((other) => other.code === code) < index).map(({ code }) => code)

/** Codes that no test quotes: nobody has seen them come. */
export function unprovoked(codes: readonly Code[], all: readonly Source[]): readonly string[] {
  const quoted = new Set(all.filter(({ path }) => isTest(path)).flatMap(stringsOf))
  return codes.filter(({ code }) => !quoted.has(code)).map(({ code, path }) => `${path}: ${code}`)
}

/** Rooms that refuse by a list which is not their `codes.ts`. */
export const elsewhere = (all: readonly Source[]): readonly string[] =>
  all.filter(({ path, text }) => !isTest(path) && /\brefuser\(\s*\[/.test(text)).map(({ path }) => path)
