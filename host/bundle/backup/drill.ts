import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '../../archive/index.ts'
import { type Comparison, comparedWith } from '../compare.ts'
import { backupDiffers } from './backup.ts'
import { type Restored, type Restoring, restoreInto } from './restore.ts'

/** What a drill has shown. In the comparisons `ours` is the living archive, `theirs` the backup. */
export interface Drilled extends Restored {
  readonly compared: readonly Comparison[]
  /** jobs of the living archive that the backup does not have */
  readonly notInBackup: readonly string[]
}

/**
 * Restores a backup into a temporary folder, verifies every job there, and compares each with the living archive. The
 * folder is removed afterwards. Refuses what restoring refuses, and bundle/backup-differs where a job of the backup is
 * not the beginning of the living one.
 */
export async function drill(archive: Archive, folder: string, how: Restoring = {}): Promise<Result<Drilled>> {
  const place = await mkdtemp(join(tmpdir(), 'trueloop-drill-'))
  try {
    const restored = await restoreInto(folder, join(place, 'archive'), how)
    if (isRefusal(restored)) return restored
    const compared = await compareAll(archive, join(place, 'archive'), restored)
    if (isRefusal(compared)) return compared
    const apart = compared.find(({ standing }) => standing !== 'the same' && standing !== 'theirs is older')
    if (apart !== undefined) return backupDiffers(folder, apartText(apart))
    const notInBackup = await onlyIn(archive, restored)
    return isRefusal(notInBackup) ? notInBackup : { ...restored, compared, notInBackup }
  } finally {
    await rm(place, { recursive: true, force: true })
  }
}

const apartText = ({ job, theirs }: Comparison): string => `job "${job}" with the head ${theirs.count}:${theirs.head}`

async function compareAll(archive: Archive, path: string, { jobs }: Restored): Promise<Result<readonly Comparison[]>> {
  const copy = await openArchive(path)
  if (isRefusal(copy)) return copy
  try {
    const all: Comparison[] = []
    for (const { id } of jobs) {
      const rows = await copy.entries(id)
      if (isRefusal(rows)) return rows
      const compared = await comparedWith(archive, { job: id, rows })
      if (isRefusal(compared)) return compared
      all.push(compared)
    }
    return all
  } finally {
    await copy.close()
  }
}

async function onlyIn(archive: Archive, { jobs }: Restored): Promise<Result<readonly string[]>> {
  const living = await archive.jobs()
  if (isRefusal(living)) return living
  const known = new Set(jobs.map(({ id }) => id))
  return living.map(({ id }) => id).filter((id) => !known.has(id))
}
