import { type RegisterRow, shopChain } from '../../plan/index.ts'
import { canonical } from '../canonical.ts'
import { beginning, type EntryRow } from '../row.ts'
import type { ShopEntry } from '../shop/index.ts'
import type { Witness } from '../signing.ts'
import { head, sha256 } from './entries.ts'
import { type Invented, signedBy, witnessOf } from './people.ts'

/** Invented entries of a shop's record, signed by invented people. */

type Draft<E> = E extends ShopEntry ? Omit<E, 'version' | 'id' | 'at' | 'by' | 'signed'> : never
export type ShopDraft = Draft<ShopEntry>

export const documentOf = (row: RegisterRow): string => sha256(canonical(row))

/** Looks at signatures of these people, and has these rows. */
export const shopWitness = (people: readonly Invented[], rows: readonly RegisterRow[] = []): Witness => {
  const texts = new Map([...people.map(({ row }) => row), ...rows].map((row) => [documentOf(row), canonical(row)]))
  return { document: (hash) => texts.get(hash), holds: witnessOf([]).holds }
}

let count = 0

/** One second after the other, so that a record made of them runs on. */
const nextTime = (): string => new Date(Date.UTC(2026, 2, 14, 8, 0, ++count)).toISOString()

/** An entry over the head of these rows; on another day where one is named. */
export function shopEntry(person: Invented, draft: ShopDraft, rows: readonly EntryRow[], time = nextTime()): ShopEntry {
  const place = { ...head(), at: { time, known: 'clock of this computer' as const } }
  const seen = { job: shopChain, head: rows.at(-1)?.hash ?? beginning }
  return signedBy(person, { version: 1, ...place, ...draft } as never, seen) as unknown as ShopEntry
}
