import { beginning, type EntryRow, entryId, type Signature, signedText } from '@trueloop/job/record'
import { type Moment, wallClock } from '../clock/index.ts'
import { sha256 } from '../hash/index.ts'
import type { Signer } from './keys.ts'

/** Where an entry is going to stand, and who signs it. */
export interface SigningOver {
  /** number of the job, or the name of the shop's record */
  readonly chain: string
  /** the record as the signer has it before their eyes */
  readonly rows: readonly EntryRow[]
  readonly signer: Signer
  readonly clock?: (() => Moment) | undefined
  /** id of the entry, where a client has made one; else it follows from what the entry says and stands on */
  readonly id?: string | undefined
}

/** A place for the 64 bytes to come: they are no part of what is signed. */
const nothingYet = `${'A'.repeat(86)}==`

/**
 * An entry of any record, made now and signed (Ed25519, RFC 8032) over the head of these rows. Made again over the same
 * head it has the same id, and so is the same entry.
 */
export function signedEntry<E>(draft: object, { chain, rows, signer, clock = wallClock, id: given }: SigningOver): E {
  const { person, row, sign } = signer
  const open: Signature = { person, over: rows.at(-1)?.hash ?? beginning, value: nothingYet }
  const id = given ?? entryId(sha256, { ...draft, over: open.over, by: row.name })
  const entry = { ...draft, version: 1, id, at: clock(), by: { kind: 'person', name: row.name }, signed: open }
  return { ...entry, signed: { ...open, value: sign(signedText(chain, entry)) } } as E
}
