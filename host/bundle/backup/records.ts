import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import { canonical } from '@trueloop/job/record'
import type { Archive } from '../../archive/index.ts'
import { checkShop } from '../../shop/index.ts'
import { namedBy } from '../named.ts'
import { spoiledBackup } from './list.ts'

/** Where a copy of the records is not as the archive: jobs, entries, documents, each read from both. */
export async function recordsDiffer(archive: Archive, copy: Archive): Promise<Refusal | undefined> {
  const [jobs, copied] = [await archive.jobs(), await copy.jobs()]
  if (isRefusal(jobs)) return jobs
  if (isRefusal(copied)) return copied
  if (canonical(jobs) !== canonical(copied)) return spoiledBackup(copy.folder, 'another list of jobs in the copy')
  for (const id of [...jobs.map((one) => one.id), shopChain]) {
    const no = await chainDiffers(archive, copy, id)
    if (no !== undefined) return no
  }
  const faults = await checkShop(copy)
  if (isRefusal(faults)) return faults
  return faults.length === 0 ? undefined : spoiledBackup(copy.folder, 'registers that do not hold in the copy')
}

async function chainDiffers(archive: Archive, copy: Archive, job: string): Promise<Refusal | undefined> {
  const [rows, copied] = [await archive.entries(job), await copy.entries(job)]
  if (isRefusal(rows)) return rows
  if (isRefusal(copied)) return copied
  if (canonical(rows) !== canonical(copied))
    return spoiledBackup(copy.folder, `other entries of job "${job}" in the copy`)
  for (const hash of namedBy(rows).documents.keys()) {
    const document = await copy.document(hash)
    if (isRefusal(document)) return document
  }
  return undefined
}
