import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Registers, shopChain } from '@trueloop/job/plan'
import { type EntryRow, type Fault, registersOf, verifyShop } from '@trueloop/job/record'
import { type Archive, shopWitness } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'

/** The shop's record as it is now. */
export interface Shop {
  readonly rows: readonly EntryRow[]
  readonly registers: Registers
  /** text of a document that its rows name; undefined where there is none */
  readonly document: (hash: string) => string | undefined
}

const textIn = (archive: Archive) => async (hash: string) => {
  const text = await archive.documentText(hash)
  return isRefusal(text) ? undefined : text
}

/** Reads the shop's record; without any rows where nobody was ever registered. Refuses what the archive refuses. */
export async function readShop(archive: Archive): Promise<Result<Shop>> {
  const rows = await archive.entries(shopChain)
  if (isRefusal(rows)) return rows
  const { document } = await shopWitness(rows, [], textIn(archive))
  return { rows, registers: registersOf(rows, document), document }
}

/** The registers of an archive; undefined where it has none, and people and things are what a job sheet says. */
export async function registersIn(archive: Archive): Promise<Result<Registers | undefined>> {
  const shop = await readShop(archive)
  if (isRefusal(shop)) return shop
  return shop.rows.length === 0 ? undefined : shop.registers
}

/** Verifies the shop's record, as it lies there. An empty list: it is whole, and every entry was let in by the rule. */
export async function checkShop(archive: Archive): Promise<Result<readonly Fault[]>> {
  const rows = await archive.entriesAsTheyLie(shopChain)
  if (isRefusal(rows)) return rows
  const end = await archive.end(shopChain)
  if (isRefusal(end)) return end
  const readable = rows.filter(({ body }) => isJson(body))
  const witness = await shopWitness(readable, [], textIn(archive))
  return verifyShop({ rows, hash: sha256, witness, kept: { count: end.count, head: end.head } })
}

function isJson(text: string): boolean {
  try {
    return typeof JSON.parse(text) === 'object'
  } catch {
    return false
  }
}
