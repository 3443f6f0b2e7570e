import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import { type Archive, openArchive } from '../../archive/index.ts'
import { type Comparison, comparedWith } from '../compare.ts'
import { backupDiffers, chainName } from './backup.ts'
import { type Restored, type Restoring, restoreInto } from './restore.ts'

/** What a drill has shown. In the comparisons `ours` is the living archive, `theirs` the backup. */
export interface Drilled extends Restored {
  readonly compared: readonly Comparison[]
  /** the same of the registers */
  readonly shop: Comparison
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
    const apart = [...compared.jobs, compared.shop].find(isApart)
    if (apart !== undefined) return backupDiffers(folder, apartText(apart))
    const notInBackup = await onlyIn(archive, restored)
    return isRefusal(notInBackup)
      ? notInBackup
      : { ...restored, compared: compared.jobs, shop: compared.shop, notInBackup }
  } finally {
    await rm(place, { recursive: true, force: true })
  }
}

const isApart = ({ standing }: Comparison): boolean => standing !== 'the same' && standing !== 'theirs is older'

const apartText = ({ job, theirs }: Comparison): string =>
  `${chainName(job)} with the head ${theirs.count}:${theirs.head}`

interface Compared {
  readonly jobs: readonly Comparison[]
  readonly shop: Comparison
}

async function compareAll(archive: Archive, path: string, { jobs }: Restored): Promise<Result<Compared>> {
  const copy = await openArchive(path)
  if (isRefusal(copy)) return copy
  try {
    const all: Comparison[] = []
    for (const { id } of jobs) {
      const compared = await compareOne(archive, copy, id)
      if (isRefusal(compared)) return compared
      all.push(compared)
    }
    const shop = await compareOne(archive, copy, shopChain)
    return isRefusal(shop) ? shop : { jobs: all, shop }
  } finally {
    await copy.close()
  }
}

async function compareOne(archive: Archive, copy: Archive, job: string): Promise<Result<Comparison>> {
  const rows = await copy.entries(job)
  return isRefusal(rows) ? rows : comparedWith(archive, { job, rows })
}

async function onlyIn(archive: Archive, { jobs }: Restored): Promise<Result<readonly string[]>> {
  const living = await archive.jobs()
  if (isRefusal(living)) return living
  const known = new Set(jobs.map(({ id }) => id))
  return living.map(({ id }) => id).filter((id) => !known.has(id))
}
