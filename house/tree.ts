import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import ts from 'typescript'
import { cloneRoot } from './outside.ts'

/** One file of the clone. `path` is relative to the root, with forward slashes. */
export interface Source {
  readonly path: string
  readonly text: string
}

const textual = /\.(ts|tsx|mts|mjs|js|json|md|yaml|yml|html|css|svg|py|sh|txt|toml)$|(^|\/)(\.[a-z]+|run)$/

let listed: readonly string[] | undefined

/** All files that git tracks or would track: what is ignored is not part of the house. */
export function paths(): readonly string[] {
  listed ??= execFileSync('git', ['ls-files', '-co', '--exclude-standard', '-z'], { cwd: cloneRoot, encoding: 'utf8' })
    .split('\0')
    .filter((path) => path !== '' && existsSync(join(cloneRoot, path)))
    .sort()
  return listed
}

const load = (path: string): Source => ({ path, text: readFileSync(join(cloneRoot, path), 'utf8') })

/** The files whose path matches, with their text. */
export const sources = (wanted: RegExp): readonly Source[] =>
  paths()
    .filter((path) => wanted.test(path))
    .map(load)

export const textSources = (): readonly Source[] => sources(textual)

/** Code of floors and apps, tests included. */
export const codeSources = (): readonly Source[] => sources(/^(ground|metal|job|host|apps)\/.*\.tsx?$/)

/** Tests and their helpers: they may look into the world, and are not part of any bundle. */
export const isTest = (path: string): boolean => /\.test\.tsx?$|\.long\.ts$|\/testing\//.test(path)

export const isPure = (path: string): boolean => /^(ground|metal|job)\//.test(path) && !isTest(path)

const parsed = new WeakMap<Source, ts.SourceFile>()

export function parse(source: Source): ts.SourceFile {
  const known = parsed.get(source)
  if (known !== undefined) return known
  const file = ts.createSourceFile(source.path, source.text, ts.ScriptTarget.ES2023, true)
  parsed.set(source, file)
  return file
}

/** Every node of a tree, parents first; comments are none. */
export function nodes(node: ts.Node): readonly ts.Node[] {
  const all: ts.Node[] = []
  const visit = (one: ts.Node): void => {
    all.push(one)
    ts.forEachChild(one, visit)
  }
  visit(node)
  return all
}

export const lineOf = (node: ts.Node): number =>
  node.getSourceFile().getLineAndCharacterOfPosition(node.getStart()).line + 1

export const placeOf = (node: ts.Node): string => `${node.getSourceFile().fileName}:${lineOf(node)}`
