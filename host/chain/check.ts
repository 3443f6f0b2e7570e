import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type ChainEnd, type ShopAtHand, type Verification, verify } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { sha256, signatureHolds } from '../hash/index.ts'
import { checkShop, readShop } from '../shop/index.ts'
import { reexamine } from './again.ts'
import { withOverview } from './overview.ts'

export interface Checking {
  /** the end of the chain as a printed report has it */
  readonly printed?: ChainEnd
  /** examine every recording again */
  readonly again?: boolean
}

/** Verifies the record of a job: chain, documents, originals, and (asked for) every examination once more. */
export async function checkJob(
  archive: Archive,
  job: string,
  { printed, again }: Checking
): Promise<Result<Verification>> {
  const broken = await archive.checkPages()
  if (isRefusal(broken)) return broken
  const rows = await archive.entriesAsTheyLie(job)
  if (isRefusal(rows)) return rows
  const end = await archive.end(job)
  if (isRefusal(end)) return end
  const shop = await shopIn(archive)
  if (isRefusal(shop)) return shop
  const verification = await verify({
    rows,
    shop,
    hash: sha256,
    holds: signatureHolds,
    kept: { count: end.count, head: end.head },
    ...(printed === undefined ? {} : { printed }),
    original: async (name) => unlessRefused(await archive.hashOfOriginal(name)),
    document: async (name) => unlessRefused(await archive.documentText(name)),
    ...(again === true ? { reexamine: (examined) => reexamine(archive, rows, examined) } : {})
  })
  return withOverview(archive, rows, verification)
}

/** Registers that are not whole prove nothing of anybody. */
async function shopIn(archive: Archive): Promise<Result<ShopAtHand | string>> {
  const faults = await checkShop(archive)
  if (isRefusal(faults)) return faults
  if (faults.length > 0) return 'the registers are NOT intact: verify --registers'
  const shop = await readShop(archive)
  if (isRefusal(shop)) return shop
  return shop.rows.length === 0 ? 'this archive has no registers' : shop
}

/** What the archive can't give is not there: the verdict says so. */
const unlessRefused = <T>(answer: Result<T>): T | undefined => (isRefusal(answer) ? undefined : answer)
