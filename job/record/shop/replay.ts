import { noRegisters, type RegisterRow, type Registers, rowOfDocument } from '../../plan/index.ts'
import type { EntryRow } from '../row.ts'
import type { ShopEntry, ShopEntryOf } from './kinds.ts'

/** Text of a stored document; undefined where there is none. */
export type DocumentText = (hash: string) => string | undefined

/** The row that a document holds; undefined where there is none, or it holds none. */
export function rowIn(text: string | undefined): RegisterRow | undefined {
  try {
    return text === undefined ? undefined : rowOfDocument(JSON.parse(text))
  } catch {
    return undefined
  }
}

/**
 * The registers that the entries of the shop's record make. A document that holds no row is skipped: nobody is let in by
 * a row that can not be read, and `verifyShop` says so.
 */
export const registersOf = (rows: readonly EntryRow[], document: DocumentText): Registers =>
  rows.reduce<Registers>(
    (registers, { seq, body }) => withEntry(registers, { seq, entry: JSON.parse(body) as ShopEntry }, document),
    noRegisters
  )

interface Placed {
  readonly seq: number
  readonly entry: ShopEntry
}

/** The registers after one more entry. */
export function withEntry(registers: Registers, placed: Placed, document: DocumentText): Registers {
  const { entry, seq } = placed
  if (entry.kind === 'struck-off') {
    const { what, name, from, reason } = entry
    return { ...registers, struckOff: [...registers.struckOff, { what, name, from, reason, seq }] }
  }
  if (!isOfRow(entry)) return registers
  const row = rowIn(document(entry.document))
  if (row === undefined) return registers
  const registered = [...registers.registered, { row, document: entry.document, seq }]
  return { registered, struckOff: [...registers.struckOff, ...replacedBy(placed)] }
}

type OfRow = ShopEntryOf<'shop-opened' | 'registered' | 'key-replaced'>

const isOfRow = (entry: ShopEntry): entry is OfRow =>
  entry.kind === 'shop-opened' || entry.kind === 'registered' || entry.kind === 'key-replaced'

/** A replaced key takes all rows that bear the old one out of the register, those of times to come too. */
function replacedBy({ entry, seq }: Placed): Registers['struckOff'] {
  if (entry.kind !== 'key-replaced') return []
  const from = entry.at.time.slice(0, 10)
  return [{ what: 'person', name: entry.name, from, reason: entry.reason, seq }]
}
