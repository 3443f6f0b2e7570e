import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'
import type { Measured } from './measure.ts'
import { hashInName, inOrder, isName, names, version } from './names.ts'
import type { ProgramName } from './text/job-json.ts'

/** What `job.json` claims. Nothing of it is believed before the record says the same. */
export interface Faces {
  readonly job: string
  readonly count: number
  readonly head: string
  readonly program: ProgramName
  readonly files: readonly { readonly name: string; readonly sha256: string; readonly bytes: number }[]
}

/** Refuses bundle/unknown-version where the text is no list, or one of another version. */
export function facesOf(text: string): Result<Faces, Code> {
  const said = parsed(text)
  if (said?.trueloop !== version) return unknownVersion(String(said?.trueloop ?? 'nothing that can be read'))
  return isFaces(said) ? said : unknownVersion(`${version} with members of other kinds`)
}

function parsed(text: string): Record<string, unknown> | undefined {
  try {
    const value: unknown = JSON.parse(text)
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : undefined
  } catch {
    return undefined
  }
}

function isFaces(said: Record<string, unknown>): said is Record<string, unknown> & Faces {
  const { job, count, head, program, files } = said as Partial<Faces>
  const isProgram = typeof program?.name === 'string' && typeof program.version === 'string'
  const isEnd = typeof job === 'string' && typeof count === 'number' && typeof head === 'string'
  return isProgram && isEnd && Array.isArray(files) && files.every(isFile)
}

const isFile = (one: unknown): boolean => {
  const { name, sha256, bytes } = (one ?? {}) as Partial<Faces['files'][number]>
  return typeof name === 'string' && typeof sha256 === 'string' && typeof bytes === 'number'
}

/**
 * Compares the list with what is there: names, order, sizes, hashes, and names that are hashes.
 * Refuses bundle/unlisted-file, bundle/missing-file, bundle/changed-file.
 */
export function listComplaint({ files }: Faces, measured: ReadonlyMap<string, Measured>): Refusal<Code> | undefined {
  const listed = new Map(files.map((one) => [one.name, one]))
  for (const name of [names.job, names.sums, names.entries, ...listed.keys()])
    if (!measured.has(name)) return missing(name)
  for (const [name, found] of measured) {
    const isList = name === names.job || name === names.sums
    const line = listed.get(name)
    if (!isName(name) || (line === undefined) !== isList) return unlisted(name)
    const needed = hashInName(name) ?? line?.sha256 ?? found.sha256
    if (found.sha256 !== needed) return changed(name, found, needed)
  }
  return orderComplaint([...measured.keys()])
}

function orderComplaint(all: readonly string[]): Refusal<Code> | undefined {
  const sorted = inOrder(all.map((name) => ({ name })))
  const at = all.findIndex((name, index) => sorted[index]?.name !== name)
  return at < 0 ? undefined : unlisted(`${all[at]} at place ${at + 1} of the ZIP`)
}

const remedy = 'ask for the bundle again from where it was exported; nothing of this one was taken in'

const unknownVersion = (found: string) =>
  refuse('bundle/unknown-version', {
    found: `a bundle whose ${names.job} says ${JSON.stringify(found.slice(0, 80))}`,
    needed: version,
    remedy: 'use the version of the program that wrote it, or a newer one',
    where: { path: names.job }
  })

const missing = (name: string) =>
  refuse('bundle/missing-file', {
    found: `no ${name} in the bundle`,
    needed: 'every file that is listed',
    remedy,
    where: { path: name }
  })

const unlisted = (name: string) =>
  refuse('bundle/unlisted-file', {
    found: name,
    needed: 'the files that are listed, in their order, and no other',
    remedy,
    where: { path: name }
  })

const changed = (name: string, { sha256 }: Measured, needed: string) =>
  refuse('bundle/changed-file', { found: `${name} with the hash ${sha256}`, needed, remedy, where: { path: name } })
