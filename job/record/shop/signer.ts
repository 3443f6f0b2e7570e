import type { Refusal } from '@trueloop/ground/refusal'
import { heldOn, type PersonRow, type Registers, shopChain, standingOf, standingsOn } from '../../plan/index.ts'
import { type Code as RecordCode, refuse as refuseEntry } from '../codes.ts'
import { signedText, type Witness } from '../signing.ts'
import { type Code, refuse } from './codes.ts'
import type { ShopEntry, ShopEntryOf } from './kinds.ts'
import { rowIn } from './replay.ts'

/** Who signs an entry of the shop's record, and whether they may on that day. */

export interface Looking {
  readonly registers: Registers
  readonly witness: Witness
  /** whether this is a head that the person can have had before their eyes */
  readonly isHead: (hash: string) => boolean
}

type Complaint = Refusal<Code | RecordCode> | undefined

const dayOf = ({ at }: ShopEntry): string => at.time.slice(0, 10)

/** The row under which an entry is signed, if its signature holds. */
export function signerOf(entry: ShopEntry, looking: Looking): PersonRow | Refusal<Code | RecordCode> {
  const { person, over, value } = entry.signed
  const row = rowIn(looking.witness.document(person))
  if (row?.register !== 'person') return bad(entry, 'a signature of somebody whose document is not there')
  if (!looking.witness.holds(row.key.public, signedText(shopChain, entry), value)) {
    return bad(entry, `a signature that ${row.name} did not make on this entry`)
  }
  if (!looking.isHead(over)) return bad(entry, 'a signature on another state of the record')
  if (entry.by.kind !== 'person' || entry.by.name !== row.name) {
    return bad(entry, `an entry by ${entry.by.name}, signed by ${row.name}`)
  }
  return notTheirs(entry, row, looking) ?? row
}

const bad = (entry: ShopEntry, found: string): Refusal<RecordCode> =>
  refuseEntry('record/bad-signature', {
    found: `${found} (entry "${entry.id}" of kind "${entry.kind}")`,
    needed: 'the signature of the person whose entry it is, over the entry and the head of the record as it is now',
    remedy: 'read the record again and sign again'
  })

/** The row has to be the one that rules for that person on that day; the first person brings their own. */
function notTheirs(entry: ShopEntry, row: PersonRow, { registers }: Looking): Complaint {
  if (entry.kind === 'shop-opened') {
    return entry.document === entry.signed.person
      ? undefined
      : unknownSigner(row, 'another row than the one registered')
  }
  const held = heldOn(registers, { what: 'person', name: row.name }, dayOf(entry))
  if ('registered' in held && held.registered.document === entry.signed.person) return undefined
  return unknownSigner(row, 'registered' in held ? 'a row that no longer rules for them' : held.state)
}

const unknownSigner = ({ name }: PersonRow, found: string): Refusal<Code> =>
  refuse('shop/unknown-signer', {
    found: `${name}: ${found}`,
    needed: 'a signature under the row of the register that rules for the person on that day',
    remedy: 'read the registers again; a person who is not in them is registered by a Level III'
  })

/**
 * Whether the signer's certificate and near vision hold on the day of the entry. Who renews their own row is judged by
 * the new one: a lone Level III would else be locked out for good on the day after it lapsed.
 */
export function expired(entry: ShopEntry, signer: PersonRow, { witness }: Looking): Complaint {
  const day = dayOf(entry)
  const row = isOwn(entry, signer) ? (ownRow(entry, witness) ?? signer) : signer
  const standing = standingOf(row, day)
  if (standing === 'in force' || standing === 'falls due') return undefined
  const out = standingsOn(row, day).find((one) => one.standing === standing)
  return refuseEntry('record/person-expired', {
    found: `${out?.of} of ${signer.name}, from ${out?.from} to ${out?.until}, on ${day}`,
    needed: 'a certificate and near vision that hold on the day',
    remedy: 'let another person sign; a Level III may register the renewal of their own row themself'
  })
}

const isOwn = (entry: ShopEntry, signer: PersonRow): entry is ShopEntryOf<'registered'> =>
  entry.kind === 'registered' && entry.what === 'person' && entry.name === signer.name && signer.level === 'III'

function ownRow(entry: ShopEntryOf<'registered'>, witness: Witness): PersonRow | undefined {
  const row = rowIn(witness.document(entry.document))
  return row?.register === 'person' && row.level === 'III' ? row : undefined
}
