import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import type { ChainEnd } from '@trueloop/job/record'
import type { Archive, JobEnd } from '../../archive/index.ts'
import { checkJob } from '../../chain/index.ts'
import { checkShop } from '../../shop/index.ts'

/** How every chain of an archive ends: those of the jobs, and that of the registers. */
export interface Ends {
  readonly jobs: readonly JobEnd[]
  readonly shop: ChainEnd
}

export async function endsOf(archive: Archive): Promise<Result<Ends>> {
  const jobs = await archive.jobs()
  if (isRefusal(jobs)) return jobs
  const shop = await archive.end(shopChain)
  return isRefusal(shop) ? shop : { jobs, shop: { count: shop.count, head: shop.head } }
}

export interface ChainFault {
  readonly chain: string
  readonly found: string
  readonly needed: string
}

export interface Verifying {
  readonly signal?: AbortSignal
  readonly tell?: (text: string) => void
}

/** Verifies every chain, its documents and originals; gives the first fault. */
export async function firstFault(
  archive: Archive,
  { jobs }: Ends,
  how: Verifying
): Promise<Result<ChainFault | undefined>> {
  for (const { id } of jobs) {
    how.signal?.throwIfAborted()
    how.tell?.(`verifying ${id}`)
    const checked = await checkJob(archive, id, {})
    if (isRefusal(checked)) return checked
    const [fault] = checked.intact.faults
    if (fault !== undefined)
      return { chain: `job "${id}"`, found: `${fault.place}: ${fault.found}`, needed: fault.needed }
  }
  const faults = await checkShop(archive)
  if (isRefusal(faults)) return faults
  const [fault] = faults
  return fault && { chain: 'registers', found: `${fault.place}: ${fault.found}`, needed: fault.needed }
}
