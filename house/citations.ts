import { posix } from 'node:path'
import ts from 'typescript'
import { nodes, parse, placeOf, type Source } from './tree.ts'

/** A work that is named as the source of something. */
export interface Citation {
  readonly key: string
  readonly place: string
}

const inComment = /(?:\/\*\*?|^\s*\*|\/\/|#\s)(?:.*?[^\w"'])?(?<!no )source:\s*(.+?)\s*(?:\*\/|$)/
const keyForm = /^[a-z0-9]+(?:-[a-z0-9]+)*$/
const keyWithNumber = /^[a-z]{3,}[a-z0-9-]*\d[a-z0-9]*$/

/**
 * `key, place; key place`: the first word is a key, whatever it looks like; a later part is one if it has the form
 * of a work with its year or number, else it is the place (a page, a table, a section).
 */
export function keysOf(text: string): readonly string[] {
  const heads = text.split(/[,;]/).map((part) => (part.trim().split(/[\s(]/)[0] ?? '').replace(/[.:)]+$/, ''))
  return heads.filter((head, index) => index === 0 || keyWithNumber.test(head))
}

const citationsInComments = ({ path, text }: Source): readonly Citation[] =>
  text.split('\n').flatMap((line, index) => {
    const [, cited] = line.match(inComment) ?? []
    return cited === undefined ? [] : keysOf(cited).map((key) => ({ key, place: `${path}:${index + 1}` }))
  })

/** A row of data in code: `{ …, source: 'some-work-1999' }`. Another use of the word is told by its form. */
function citationsInData(source: Source): readonly Citation[] {
  const found: Citation[] = []
  for (const node of nodes(parse(source))) {
    if (!ts.isPropertyAssignment(node) || node.name.getText() !== 'source') continue
    if (!ts.isStringLiteralLike(node.initializer)) continue
    const [key = ''] = keysOf(node.initializer.text)
    if (keyWithNumber.test(key)) found.push({ key, place: placeOf(node) })
  }
  return found
}

/** All works cited in code: doc blocks, other comments, rows of data. */
export const citationsIn = (source: Source): readonly Citation[] => [
  ...citationsInComments(source),
  ...(/\.tsx?$/.test(source.path) ? citationsInData(source) : [])
]

export interface Reference {
  readonly citations: readonly Citation[]
  readonly complaints: readonly string[]
}

type Json = Readonly<Record<string, unknown>>

/**
 * A file of reference values names a source and a method, for all of it or for each of its cases: either a work's key
 * as `source` with a `method` (printed, or computed how), or `computed by NAME.py with …` as `source`, which is both,
 * the program lying beside the file.
 */
export function referenceIn({ path, text }: Source, all: readonly string[] = [path]): Reference {
  const named = namers(JSON.parse(text) as unknown)
  const complaints = named.length === 0 ? ['names no source', 'names no method'] : named.flatMap(complaintsOf)
  const programs = named.flatMap(computedBy).filter((name) => !all.includes(`${posix.dirname(path)}/${name}`))
  const missing = programs.map((name) => `was computed by ${name}, which does not lie beside it`)
  const cited = named.filter((one) => computedBy(one).length === 0).flatMap((one) => strings(one.source))
  return {
    complaints: [...new Set([...complaints, ...missing])].map((line) => `${path}: ${line}`),
    citations: cited.flatMap(keysOf).map((key) => ({ key, place: path }))
  }
}

const strings = (value: unknown): readonly string[] => [value].flat().filter((one) => typeof one === 'string')

const isNamed = (value: unknown): boolean => strings(value).some((one) => one.trim() !== '')

const computedBy = (one: Json): readonly string[] =>
  strings(one.source).flatMap((text) => text.match(/^computed by (\S+\.\w+) with \S/)?.[1] ?? [])

const complaintsOf = (one: Json): readonly string[] =>
  ['source', 'method']
    .filter((name) => !isNamed(one[name]) && !(name === 'method' && computedBy(one).length > 0))
    .map((name) => `names no ${name}`)

const isRecord = (value: unknown): value is Json => typeof value === 'object' && value !== null && !Array.isArray(value)

/** The records that have to name both: the file's own, or each case where the file's own names neither. */
function namers(whole: unknown): readonly Json[] {
  if (Array.isArray(whole)) return whole.filter(isRecord)
  if (!isRecord(whole)) return []
  if (complaintsOf(whole).length === 0) return [whole]
  const cases = Object.values(whole).filter(Array.isArray).flat().filter(isRecord)
  return cases.length === 0 ? [whole] : cases.map((one) => ({ ...pick(whole), ...one }))
}

const pick = (whole: Json): Json => ({
  ...('source' in whole ? { source: whole.source } : {}),
  ...('method' in whole ? { method: whole.method } : {})
})

/** Citations that lead nowhere, in the form `place: key`. */
export const withoutWork = (citations: readonly Citation[], works: readonly string[]): readonly string[] =>
  citations
    .filter(({ key }) => !works.includes(key))
    .map(
      ({ key, place }) => `${place}: "${key}" ${keyForm.test(key) ? 'has no file in sources/' : 'is no key of a work'}`
    )

/** Works that nobody cites. */
export const uncited = (citations: readonly Citation[], works: readonly string[]): readonly string[] =>
  works.filter((work) => !citations.some(({ key }) => key === work))
