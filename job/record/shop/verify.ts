import { isRefusal } from '@trueloop/ground/refusal'
import { type Fault, intactChain } from '../intact.ts'
import { beginning, type EntryRow, type Hash } from '../row.ts'
import type { Witness } from '../signing.ts'
import type { ChainEnd } from '../verify.ts'
import { admitted } from './append.ts'
import { demonstrationsIn } from './demonstrations.ts'
import { parseShopEntry, type ShopEntry } from './kinds.ts'
import { registersOf, withEntry } from './replay.ts'
import { validationsIn } from './validated.ts'

export interface ShopPorts {
  readonly rows: readonly EntryRow[]
  readonly hash: Hash
  readonly witness: Witness
  /** what the archive itself keeps as the end of the chain */
  readonly kept?: ChainEnd
}

/**
 * Verifies the shop's record: every row in its place and as it was written, every document under its name, and every
 * entry once more by the rule that let it in: its signature, its signer's right and dates on that day.
 */
export function verifyShop({ rows, hash, witness, kept }: ShopPorts): readonly Fault[] {
  const chain = intactChain({ rows, hash, parse: parseShopEntry, ...(kept === undefined ? {} : { kept }) })
  const documents = chain.sound.flatMap(({ seq, entry }) =>
    namedBy(entry).flatMap((name) => documentFaults(name, seq, { hash, witness }))
  )
  return [...chain.faults, ...documents, ...(chain.faults.length > 0 ? [] : ruleFaults(rows, witness))]
}

const namedBy = (entry: ShopEntry): readonly string[] => [
  ...('document' in entry ? [entry.document] : []),
  ...('old' in entry ? [entry.old] : []),
  entry.signed.person
]

function documentFaults(name: string, seq: number, { hash, witness }: Pick<ShopPorts, 'hash' | 'witness'>) {
  const text = witness.document(name)
  const found = text === undefined ? 'no document' : hash(text)
  return found === name ? [] : [{ place: `document ${name}, of entry ${seq}`, found, needed: name }]
}

/** Entries that were appended together are signed over one head: any head before an entry may be the one. */
function ruleFaults(rows: readonly EntryRow[], witness: Witness): readonly Fault[] {
  let registers = registersOf([], witness.document)
  const heads = new Set([beginning])
  return rows.flatMap(({ seq, body, hash }, at) => {
    const entry = JSON.parse(body) as ShopEntry
    const isHead = (head: string) => heads.has(head)
    const before = rows.slice(0, at)
    const [validations, demonstrations] = [validationsIn(before), demonstrationsIn(before)]
    const admitting = { registers, validations, demonstrations, witness, isHead, seq, last: rows[at - 1] }
    const read = admitted(entry, admitting)
    registers = withEntry(registers, { seq, entry }, witness.document)
    heads.add(hash)
    return isRefusal(read) ? [{ place: `entry ${seq}, ${entry.kind}`, found: read.found, needed: read.needed }] : []
  })
}
