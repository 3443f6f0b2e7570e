import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  type Entered,
  editionOfRow,
  historyOf,
  nameOfRow,
  type PersonRow,
  type RegisterRow,
  type Registers,
  shopChain
} from '@trueloop/job/plan'
import { canonical, type EntryRow, type ShopEntry } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import type { Moment } from '../clock/index.ts'
import { type Signer, signedEntry } from '../keys/index.ts'
import { refuse } from './codes.ts'
import { readShop, type Shop } from './shop.ts'

type Draft<E> = E extends ShopEntry ? Omit<E, 'version' | 'id' | 'at' | 'by' | 'signed'> : never
/** What a person states for the registers, before it has its moment and its signature. */
export type ShopDraft = Draft<ShopEntry>

/** Who states something, where. */
export interface Stating {
  readonly archive: Archive
  readonly signer: Signer
  readonly clock?: () => Moment
}

/** Appends what a person states, signed over the record as they saw it: all of it, or nothing. */
export async function appendStated(
  shop: Shop,
  drafts: readonly ShopDraft[],
  stating: Stating
): Promise<Result<readonly EntryRow[]>> {
  const { signer, clock } = stating
  const entries = drafts.map((draft) =>
    signedEntry<ShopEntry>(draft, { chain: shopChain, rows: shop.rows, signer, clock })
  )
  return entries.length === 0 ? [] : stating.archive.appendShop(shop.rows.length, entries)
}

/** What became of rows that were to be registered. */
export interface RegisteredRows {
  readonly added: readonly Entered[]
  /** stood there before, word for word */
  readonly unchanged: readonly Entered[]
}

/**
 * Registers rows; what stands there already, word for word, is left as it is. Into empty registers the signer's own row
 * comes first. Refuses `shop/first-person-missing`, and what the record of the shop refuses; then nothing is registered.
 */
export async function registerRows(rows: readonly RegisterRow[], stating: Stating): Promise<Result<RegisteredRows>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  const fresh = rows.filter((row) => !stands(row, shop.registers))
  const drafts = await draftsFor(fresh, shop, stating)
  if (isRefusal(drafts)) return drafts
  const done = await appendStated(shop, drafts, stating)
  if (isRefusal(done)) return done
  return { added: fresh.map(enteredOf), unchanged: rows.filter((row) => !fresh.includes(row)).map(enteredOf) }
}

const enteredOf = (row: RegisterRow): Entered => ({ what: row.register, name: nameOfRow(row) })

/** The latest row of the same edition says the very same, and was not struck off since. */
function stands(row: RegisterRow, registers: Registers): boolean {
  const { what, name } = enteredOf(row)
  const last = historyOf(registers, { what, name }).findLast((one) => editionOfRow(one.row) === editionOfRow(row))
  if (last === undefined || canonical(last.row) !== canonical(row)) return false
  return registers.struckOff.every((one) => one.what !== what || one.name !== name || one.seq <= last.seq)
}

async function draftsFor(
  rows: readonly RegisterRow[],
  shop: Shop,
  { archive, signer }: Stating
): Promise<Result<readonly ShopDraft[]>> {
  const isFirst = shop.rows.length === 0
  const own = rows.find((row): row is PersonRow => row.register === 'person' && row.name === signer.row.name)
  if (isFirst && own === undefined && rows.length > 0) return firstMissing(signer.row.name)
  const drafts: ShopDraft[] = []
  for (const row of isFirst && own !== undefined ? [own, ...rows.filter((one) => one !== own)] : rows) {
    const document = await archive.storeDocument(row.register, row)
    if (isRefusal(document)) return document
    const { what, name } = enteredOf(row)
    drafts.push(
      isFirst && row === own ? { kind: 'shop-opened', name, document } : { kind: 'registered', what, name, document }
    )
  }
  return drafts
}

const firstMissing = (name: string) =>
  refuse('shop/first-person-missing', {
    found: `empty registers, and rows without the one of ${name}, who signs`,
    needed: 'as the first row, that of a person of Level III who registers themself',
    remedy: 'add the person who signs to the file, under people'
  })

/** Strikes something off from a day on. Refuses what the record of the shop refuses. */
export async function strikeOff(
  { what, name, from, reason }: Entered & { readonly from: string; readonly reason: string },
  stating: Stating
): Promise<Result<readonly EntryRow[]>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  return appendStated(shop, [{ kind: 'struck-off', what, name, from, reason }], stating)
}

export interface Replacing {
  /** the row with the lost key, by its document, and the row itself */
  readonly old: { readonly document: string; readonly row: PersonRow }
  /** public half of the new one */
  readonly public: string
  readonly reason: string
}

/** Puts a new key in the place of a lost one. Refuses what the record of the shop refuses. */
export async function replaceKey(
  { old, public: key, reason }: Replacing,
  stating: Stating
): Promise<Result<readonly EntryRow[]>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  const row: PersonRow = { ...old.row, key: { kind: 'Ed25519', public: key } }
  const document = await stating.archive.storeDocument('person', row)
  if (isRefusal(document)) return document
  const { name } = old.row
  return appendStated(shop, [{ kind: 'key-replaced', name, old: old.document, document, reason }], stating)
}
