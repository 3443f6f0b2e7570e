import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import {
  appendShop,
  type EntryRow,
  type Code as RecordCode,
  type ShopCode,
  type ShopEntry,
  shopChainOf,
  type Witness
} from '@trueloop/job/record'
import type { Kysely } from 'kysely'
import { sha256, signatureHolds } from '../hash/index.ts'
import { textOf } from './documents.ts'
import { entriesOf, writeEntries } from './entries.ts'
import type { Tables } from './tables.ts'

/** The shop's own record: a chain beside those of the jobs, in the same tables, under a name that no job bears. */

export interface ShopAppending {
  readonly expectedSeq: number
  readonly entries: readonly ShopEntry[]
}

/** Appends in one transaction: all or none. The rows of all entries asked for come back, old ones too. */
export const appendShopEntries = (
  db: Kysely<Tables>,
  appending: ShopAppending
): Promise<Result<readonly EntryRow[], RecordCode | ShopCode>> =>
  db.transaction().execute(async (step) => {
    const rows = await entriesOf(step, shopChain)
    const witness = await shopWitness(rows, appending.entries, (hash) => textOf(step, hash))
    const appended = appendShop(shopChainOf(rows, witness), appending, sha256)
    if (isRefusal(appended)) return appended
    if (appended.fresh.length > 0) await writeEntries(step, shopChain, appended.fresh)
    return appended.rows
  })

type TextOf = (hash: string) => Promise<string | undefined>

/** The documents that entries name, at hand before the rule looks. */
export async function shopWitness(
  rows: readonly EntryRow[],
  entries: readonly ShopEntry[],
  textOf: TextOf
): Promise<Witness> {
  const texts = new Map<string, string>()
  for (const hash of new Set([...rows.map(({ body }) => JSON.parse(body)), ...entries].flatMap(namedBy))) {
    const text = await textOf(hash)
    if (text !== undefined) texts.set(hash, text)
  }
  return { document: (hash) => texts.get(hash), holds: signatureHolds }
}

const namedBy = (entry: Partial<Record<string, unknown>>): readonly string[] => {
  const { person } = (entry.signed ?? {}) as { readonly person?: unknown }
  return [entry.document, entry.old, person].filter((one) => typeof one === 'string')
}
