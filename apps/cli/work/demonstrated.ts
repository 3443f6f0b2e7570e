import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { readShop, storedPlan } from '@trueloop/host/shop'
import { type Attachable, attachableDemonstration } from '@trueloop/job/prove'
import { withArchive } from './archive.ts'

/** A demonstration of the shop's record, for a technique. Refuses shop/no-such-plan, and as attachableDemonstration. */
export async function demonstrated(
  name: string
): Promise<{ readonly attachable: Attachable } | { readonly refusals: readonly Refusal[] }> {
  const shop = await withArchive(readShop)
  if (isRefusal(shop)) return { refusals: [shop] }
  const stored = storedPlan(name, shop)
  if (isRefusal(stored)) return { refusals: [stored] }
  const words = attachableDemonstration(stored.planned, stored.outcome)
  return isRefusal(words) ? { refusals: [words] } : { attachable: words }
}
