import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import { arch, cpus, platform, release, tmpdir } from 'node:os'
import { join, relative, sep } from 'node:path'
import { HOLE_METHOD, LOOP_METHOD, WELD_METHOD } from '@trueloop/job/examine'
import { program } from '../chain/index.ts'
import type { Moment } from '../clock/index.ts'
import { sha256Of } from '../hash/index.ts'
import shipped from './expected.json' with { type: 'json' }
import { type Check, publishedChecks } from './figures.ts'
import { findingChecks, runSet } from './set.ts'

/** A record of installation (what is on this machine) and performance (what it finds), as a document. */
export interface Validation {
  readonly kind: 'validation'
  readonly version: 1
  readonly at: Moment
  readonly program: { readonly name: string; readonly version: string }
  readonly methods: Readonly<Record<'fastener hole' | 'weld' | 'loop', number>>
  readonly machine: Readonly<Record<'system' | 'processor' | 'node', string>>
  /** files of the program with their SHA-256; empty where it runs from its sources */
  readonly files: readonly { readonly file: string; readonly sha256: string }[]
  readonly checks: readonly Check[]
  readonly holds: boolean
}

/**
 * Runs the shipped set on this machine. `folder` is where the program's own files lie. Takes as long as the demonstration
 * job; writes nothing but a folder for temporary files, which it removes.
 */
export async function validate(at: Moment, folder?: string): Promise<Validation> {
  const work = await mkdtemp(join(tmpdir(), 'trueloop-validate-'))
  try {
    const { examinations, checks } = await runSet(work)
    const all = [...publishedChecks(), methodCheck(), ...findingChecks(examinations, shipped), ...checks]
    return {
      ...{ kind: 'validation', version: 1, at, program, machine },
      methods,
      files: folder === undefined ? [] : await filesOf(folder),
      ...{ checks: all, holds: all.every(({ holds }) => holds) }
    }
  } finally {
    await rm(work, { recursive: true, force: true })
  }
}

export const methods = { 'fastener hole': HOLE_METHOD, weld: WELD_METHOD, loop: LOOP_METHOD } as const

export const machine = {
  system: `${platform()} ${release()}, ${arch()}`,
  processor: `${cpus().length} of ${cpus()[0]?.model ?? 'an unknown kind'}`,
  node: `${process.version}, V8 ${process.versions.v8}`
} as const

const methodCheck = (): Check => ({
  name: 'method of examination of fastener holes',
  ...{ needed: String(shipped.method), found: String(HOLE_METHOD) },
  ...{ holds: shipped.method === HOLE_METHOD, source: 'the release of this program' }
})

async function filesOf(folder: string): Promise<Validation['files']> {
  const names = await readdir(folder, { recursive: true, withFileTypes: true })
  const paths = names
    .filter((one) => one.isFile() && !one.name.endsWith('.map'))
    .map((one) => join(one.parentPath, one.name))
  const files = await Promise.all(
    paths.map(async (path) => ({ file: relative(folder, path).split(sep).join('/'), sha256: await hashOf(path) }))
  )
  return files.sort((a, b) => (a.file < b.file ? -1 : 1))
}

async function hashOf(path: string): Promise<string> {
  const bytes = await readFile(path)
  return sha256Of(
    (async function* () {
      yield bytes
    })()
  )
}
