import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { clockComplaint } from '../clock.ts'
import type { Code as RecordCode } from '../codes.ts'
import { type Adding, type Appended, type Grown, grow } from '../growing.ts'
import { beginning, type EntryRow, type Hash } from '../row.ts'
import type { Witness } from '../signing.ts'
import { type Code, refuse } from './codes.ts'
import { demonstrationsIn, isDemonstration } from './demonstrations.ts'
import { parseShopEntry, type ShopEntry } from './kinds.ts'
import { lastComplaint, type Matter, matterComplaint } from './matter.ts'
import { registersOf, withEntry } from './replay.ts'
import { rightComplaint } from './rights.ts'
import { expired, signerOf } from './signer.ts'
import { validationsIn } from './validated.ts'

/** The shop's record so far. It is short, so that the rule may have all of it. */
export interface ShopChain extends Grown {
  readonly rows: readonly EntryRow[]
  /** looks at signatures, and has the documents that these and the new entries name */
  readonly witness: Witness
}

export const shopChainOf = (rows: readonly EntryRow[], witness: Witness): ShopChain => {
  const ids = new Map(rows.map((row) => [row.id, row]))
  return { rows, witness, count: rows.length, last: rows.at(-1), byId: (id) => ids.get(id) }
}

/**
 * The rule by which the shop's record grows: rows of registers by people who may, each entry signed. Writes nothing.
 * Refuses what `grow` and `parseShopEntry` refuse, `shop/not-opened`, `shop/opened-twice`, `record/clock-set-back`,
 * `record/bad-signature`, `shop/unknown-signer`, `record/person-expired`, and what rights and matter refuse.
 */
export function appendShop(
  chain: ShopChain,
  adding: Adding<ShopEntry>,
  hash: Hash
): Result<Appended, Code | RecordCode> {
  const { witness, last } = chain
  let registers = registersOf(chain.rows, witness.document)
  const validations = [...validationsIn(chain.rows)]
  const demonstrations = [...demonstrationsIn(chain.rows)]
  const isHead = (head: string) => head === (last?.hash ?? beginning)
  return grow({ grown: chain, hash }, adding, (entry, fresh) => {
    const seq = chain.count + fresh.length
    const read = admitted(entry, { registers, validations, demonstrations, witness, isHead, seq, last })
    if (!isRefusal(read)) registers = withEntry(registers, { seq, entry: read }, witness.document)
    if (!isRefusal(read) && read.kind === 'installation-validated') validations.push(read)
    if (!isRefusal(read) && isDemonstration(read)) demonstrations.push(read)
    return read
  })
}

export interface Admitting extends Matter {
  readonly seq: number
  /** the last entry before those that are appended together */
  readonly last: EntryRow | undefined
}

type Complaint = Refusal<Code | RecordCode> | undefined

/** An entry that may follow, read. */
export function admitted(entry: unknown, admitting: Admitting): Result<ShopEntry, Code | RecordCode> {
  const read = parseShopEntry(entry)
  if (isRefusal(read)) return read as Refusal<RecordCode>
  return placeComplaint(read, admitting) ?? contentComplaint(read, admitting) ?? read
}

function placeComplaint(entry: ShopEntry, { seq, last }: Admitting): Complaint {
  if (entry.kind === 'shop-opened' && seq > 0) return openedTwice()
  if (entry.kind !== 'shop-opened' && seq === 0) return notOpened(entry)
  return clockComplaint(last === undefined ? undefined : (JSON.parse(last.body) as ShopEntry).at, entry.at)
}

function contentComplaint(entry: ShopEntry, admitting: Admitting): Complaint {
  const signer = signerOf(entry, admitting)
  if (isRefusal(signer)) return signer as Refusal<Code | RecordCode>
  const { registers, witness, seq } = admitting
  return (
    rightComplaint(entry, signer) ??
    expired(entry, signer, admitting) ??
    matterComplaint(entry, admitting) ??
    lastComplaint(withEntry(registers, { seq, entry }, witness.document))
  )
}

const notOpened = ({ kind }: ShopEntry): Refusal<Code> =>
  refuse('shop/not-opened', {
    found: `an entry of kind "${kind}" as the first of the record of the shop`,
    needed: 'a person of Level III who registers themself, first',
    remedy: 'register a file in which the person who signs stands as a Level III'
  })

const openedTwice = (): Refusal<Code> =>
  refuse('shop/opened-twice', {
    found: 'a second opening of the record of the shop',
    needed: 'one opening, the first entry',
    remedy: 'register further people as the others are registered'
  })
