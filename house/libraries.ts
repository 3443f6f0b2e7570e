import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'
import { type Finding, unexactIn } from './forbidden.ts'
import { importsOf } from './imports.ts'
import { cloneRoot } from './outside.ts'
import { isPure, type Source } from './tree.ts'

/** Specifiers of other people's packages that the given files import below `host`. */
export const librariesOf = (all: readonly Source[]): readonly string[] => {
  const pure = all.filter(({ path }) => isPure(path))
  const bare = pure.flatMap((source) => importsOf(source).map(({ from }) => from))
  return [...new Set(bare.filter((from) => !from.startsWith('.') && !from.startsWith('@trueloop/')))].sort()
}

/** The files that loading a package loads, as the bundler that makes our doors finds them. */
export async function filesOf(library: string): Promise<readonly Source[]> {
  const contents = `import * as all from ${JSON.stringify(library)}; export { all }`
  const result = await build({
    stdin: { contents, resolveDir: join(cloneRoot, 'job') },
    absWorkingDir: cloneRoot,
    bundle: true,
    format: 'esm',
    platform: 'node',
    metafile: true,
    write: false
  })
  const paths = Object.keys(result.metafile.inputs).filter((path) => path !== '<stdin>')
  return paths.map((path) => ({ path, text: readFileSync(join(cloneRoot, path), 'utf8') }))
}

/** How often each inexact name appears in each file, as `path name: count`: the form of the exception list. */
export function counted(findings: readonly Finding[]): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {}
  for (const { name, place } of findings) {
    const key = `${place.replace(/:\d+$/, '')} ${name}`
    counts[key] = (counts[key] ?? 0) + 1
  }
  return counts
}

export const unexactOfLibrary = async (library: string): Promise<Readonly<Record<string, number>>> =>
  counted((await filesOf(library)).flatMap(unexactIn))
