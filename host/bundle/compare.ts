import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { beginning, type ChainEnd, type EntryRow, sharedBy } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import type { Bundle } from './bundle.ts'

/** How a job in the archive stands to the same job in a bundle. */
export interface Comparison {
  readonly job: string
  /** the ends of both chains; of a job that is not there, the beginning */
  readonly ours: ChainEnd
  readonly theirs: ChainEnd
  /** entries that both have, from the first on: where the two go apart */
  readonly common: number
  readonly standing: 'not here' | 'the same' | 'ours is older' | 'theirs is older' | 'forked'
}

/** Compares the record of a job with that in a bundle, entry by entry. Refuses what the archive refuses. */
export async function comparedWith(
  archive: Pick<Archive, 'entries'>,
  { job, rows }: Pick<Bundle, 'job' | 'rows'>
): Promise<Result<Comparison>> {
  const own = await archive.entries(job)
  if (isRefusal(own)) return own
  const common = sharedBy(own, rows)
  return { job, ours: endOf(own), theirs: endOf(rows), common, standing: standingOf(own.length, rows.length, common) }
}

export const endOf = (rows: readonly EntryRow[]): ChainEnd => ({
  count: rows.length,
  head: rows.at(-1)?.hash ?? beginning
})

function standingOf(ours: number, theirs: number, common: number): Comparison['standing'] {
  if (ours === 0 && theirs > 0) return 'not here'
  if (common < Math.min(ours, theirs)) return 'forked'
  if (ours === theirs) return 'the same'
  return ours < theirs ? 'ours is older' : 'theirs is older'
}
