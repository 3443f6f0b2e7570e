import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import { type Compared, comparedScans, type JobState } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { pictureOf } from './pictures.ts'

/** Compares the scans of a job by their pictures, as far as these are still at hand. */
export async function alikeIn(archive: Archive, state: JobState): Promise<Result<Compared>> {
  const known = new Map<string, Examination>()
  for (const { examinations, beforeCut } of state.places) {
    for (const { examination } of [...beforeCut, ...examinations]) {
      const picture = await pictureOf(archive, examination)
      if (picture === undefined) continue
      const document = await archive.document(examination)
      if (isRefusal(document)) return document
      known.set(examination, { ...(JSON.parse(document.text) as Examination), picture })
    }
  }
  return comparedScans(state, (hash) => known.get(hash))
}
