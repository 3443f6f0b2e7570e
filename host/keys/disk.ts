import { randomUUID } from 'node:crypto'
import { constants } from 'node:fs'
import * as fs from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { makeFolder } from '../folder/index.ts'
import { sha256 } from '../hash/index.ts'
import { type Code, refuse } from './codes.ts'
import { fileText, type KeyFile, readForm } from './form.ts'

/** Key files in their folder: one a key, readable by its owner alone. */

/** Whose key, and in which folder. */
export interface KeyPlace {
  readonly folder: string
  readonly name: string
}

/** A key file with its place. */
export interface Found {
  readonly path: string
  readonly file: KeyFile
}

const plain = (name: string): string =>
  name.replaceAll(/[^\p{L}\p{N}._-]+/gu, '-').replaceAll(/^[-.]+|[-.]+$/g, '') || 'person'

/** The name for people's eyes, its hash for file systems that take two names for one. */
const stem = (name: string): string => `${plain(name).slice(0, 60)}-${sha256(name).slice(0, 8)}.`

export const pathOf = ({ folder, name }: KeyPlace, publicKey: string): string =>
  join(folder, `${stem(name)}${sha256(publicKey).slice(0, 12)}.json`)

/** The key files of a person, in the order of their names; a key that was replaced stays. Refuses `keys/damaged`. */
export const keyFilesOf = (place: KeyPlace): Promise<Result<readonly Found[], Code>> =>
  guarded(place.folder, async () => {
    const found: Found[] = []
    for (const path of await pathsOf(place)) {
      const file = readForm(await fs.readFile(path, 'utf8'), path)
      if (isRefusal(file)) return file
      if (file.name === place.name) found.push({ path, file })
    }
    return found
  })

async function pathsOf({ folder, name }: KeyPlace): Promise<readonly string[]> {
  const names = await fs.readdir(folder).catch(emptyWhereMissing)
  return names
    .filter((one) => one.startsWith(stem(name)) && one.endsWith('.json'))
    .sort()
    .map((one) => join(folder, one))
}

function emptyWhereMissing(error: NodeJS.ErrnoException): string[] {
  if (error.code === 'ENOENT') return []
  throw error
}

/** Written beside, synced, renamed, folder synced: under the final name lies the whole or what was there before. */
export const writeKeyFile = (path: string, file: KeyFile): Promise<Result<undefined, Code>> =>
  guarded(path, async () => {
    await makeFolder(dirname(path), 0o700)
    const beside = join(dirname(path), `.${basename(path)}.${randomUUID()}`)
    try {
      await writeBeside(beside, fileText(file))
      await fs.rename(beside, path)
      await syncFolder(dirname(path))
    } finally {
      await fs.rm(beside, { force: true })
    }
    return undefined
  })

async function writeBeside(path: string, text: string): Promise<void> {
  const handle = await fs.open(path, constants.O_CREAT | constants.O_EXCL | constants.O_WRONLY, 0o600)
  try {
    await handle.writeFile(text)
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** Windows has no handle of a folder to sync. */
async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return
  const folder = await fs.open(path, 'r')
  try {
    await folder.sync()
  } finally {
    await folder.close()
  }
}

/** Trouble of the system is a refusal; anything else is a wrong program and thrown on. */
async function guarded<T>(path: string, step: () => Promise<T>): Promise<T | Refusal<Code>> {
  try {
    return await step()
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    if (code === undefined) throw error
    return refuse('keys/unreachable', {
      found: message,
      needed: 'a folder of keys in which this user may read and write',
      remedy: 'correct the permissions, or free some space; no key was changed',
      where: { file: path }
    })
  }
}
