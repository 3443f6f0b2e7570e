import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import type { ChainEnd } from '@trueloop/job/record'
import type { JobEnd } from '../../archive/index.ts'
import type { Moment } from '../../clock/index.ts'
import { type Code, refuse } from '../codes.ts'

/** What a backup holds: `backup.json`. Every other file of it bears its own hash as its name. */
export interface BackupList {
  readonly trueloop: 'backup-list/1'
  readonly made: Moment
  readonly jobs: readonly JobEnd[]
  /** the chain of the registers */
  readonly shop: ChainEnd
  readonly database: { readonly sha256: string; readonly bytes: number }
  readonly originals: readonly { readonly sha256: string; readonly bytes: number }[]
}

export const listName = 'backup.json'
export const readMeName = 'READ-ME-FIRST.txt'
export const databases = 'databases'
export const unfinished = 'unfinished'

export const databasePath = (folder: string, sha256: string): string => join(folder, databases, `${sha256}.db`)

export const originalPath = (folder: string, sha256: string): string =>
  join(folder, 'originals', sha256.slice(0, 2), sha256)

export const listText = (list: BackupList): string => `${JSON.stringify(list, null, 1)}\n`

/** What lies in a folder; nothing where there is none. */
export async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return []
    throw error
  }
}

/** The list of a backup; undefined where none was ever finished. Refuses bundle/spoiled-backup. */
export async function readList(folder: string): Promise<Result<BackupList | undefined, Code>> {
  if (!(await namesIn(folder)).includes(listName)) return undefined
  const list = parsed(await readFile(join(folder, listName), 'utf8'))
  return list ?? spoiledBackup(folder, `${listName}, which is no list of a backup that this program knows`)
}

function parsed(text: string): BackupList | undefined {
  try {
    const list = JSON.parse(text) as Partial<BackupList>
    const { trueloop, jobs, shop, database, originals } = list
    const isHash = (one: { sha256?: unknown } | undefined) => /^[0-9a-f]{64}$/.test(String(one?.sha256))
    const isWhole =
      Array.isArray(jobs) &&
      typeof shop?.head === 'string' &&
      Array.isArray(originals) &&
      isHash(database) &&
      originals.every(isHash)
    return trueloop === 'backup-list/1' && isWhole ? (list as BackupList) : undefined
  } catch {
    return undefined
  }
}

const ours: readonly string[] = [listName, `${listName}.unfinished`, readMeName, databases, 'originals', unfinished]

/** A folder for a backup holds one, or the beginning of one, or nothing. Refuses bundle/folder-not-empty. */
export async function folderComplaint(folder: string): Promise<Refusal<Code> | undefined> {
  const others = (await namesIn(folder)).filter((name) => !ours.includes(name) && name !== `${readMeName}.unfinished`)
  return others.length === 0 ? undefined : notEmpty(folder, others)
}

export const notEmpty = (folder: string, others: readonly string[]) =>
  refuse('bundle/folder-not-empty', {
    found: `a folder that holds ${others.slice(0, 3).join(', ')}${others.length > 3 ? ', \u2026' : ''}`,
    needed: 'a folder that is empty or not there yet',
    remedy: 'name another folder',
    where: { file: folder }
  })

export const spoiledBackup = (folder: string, found: string) =>
  refuse('bundle/spoiled-backup', {
    found,
    needed: 'a backup as it was written',
    remedy: 'keep this folder as it is, and take another backup; while the archive is sound, back it up anew elsewhere',
    where: { file: folder }
  })

export const noBackup = (folder: string) =>
  refuse('bundle/no-backup', {
    found: 'no backup that was finished',
    needed: `a folder with a ${listName}`,
    remedy: 'name the folder that backup wrote, or run backup first',
    where: { file: folder }
  })
