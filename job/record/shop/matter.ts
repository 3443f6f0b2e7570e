import type { Refusal } from '@trueloop/ground/refusal'
import { checkRow, heldOn, nameOfRow, type PersonRow, type RegisterRow, type Registers } from '../../plan/index.ts'
import { canonical } from '../canonical.ts'
import { type Code, refuse } from './codes.ts'
import { type DemonstrationEntry, demonstrationComplaint, isDemonstration } from './demonstrations.ts'
import type { ShopEntry, ShopEntryOf } from './kinds.ts'
import { rowIn } from './replay.ts'
import type { Looking } from './signer.ts'
import { acceptanceComplaint, validationComplaint } from './validated.ts'

/** What an entry of the shop's record says, against the registers as they are. */

type Complaint = Refusal<Code> | undefined

/** What an entry is looked at with: registers, documents, and what was validated before it. */
export interface Matter extends Looking {
  readonly validations: readonly ShopEntryOf<'installation-validated'>[]
  readonly demonstrations: readonly DemonstrationEntry[]
}

/**
 * Refuses `shop/bad-document` (no such row, or of something else), `shop/key-differs`, `shop/not-registered`,
 * `shop/not-validated`, and what demonstrations refuse.
 */
export function matterComplaint(entry: ShopEntry, looking: Matter): Complaint {
  if (entry.kind === 'installation-validated') return validationComplaint(entry, looking)
  if (entry.kind === 'method-accepted') return acceptanceComplaint(entry, looking)
  if (isDemonstration(entry)) return demonstrationComplaint(entry, looking)
  if (entry.kind === 'struck-off') return strikingComplaint(entry, looking.registers)
  const what = 'what' in entry ? entry.what : 'person'
  const row = rowIn(looking.witness.document(entry.document))
  if (row === undefined) return badDocument(entry.document, 'no row of a register')
  if (row.register !== what || nameOfRow(row) !== entry.name) {
    return badDocument(
      entry.document,
      `${row.register} "${nameOfRow(row)}" where the entry names ${what} "${entry.name}"`
    )
  }
  const [wrong] = checkRow(row)
  if (wrong !== undefined) return badDocument(entry.document, wrong.found)
  return entry.kind === 'key-replaced' ? replacingComplaint(entry, row, looking) : keyComplaint(row, looking.registers)
}

const badDocument = (document: string, found: string): Refusal<Code> =>
  refuse('shop/bad-document', {
    found: `under ${document}: ${found}`,
    needed: 'a stored row of the register and the name that the entry names',
    remedy: 'store the row and name it as it is'
  })

function strikingComplaint({ what, name, from }: ShopEntryOf<'struck-off'>, registers: Registers): Complaint {
  const held = heldOn(registers, { what, name }, from)
  return 'registered' in held ? undefined : notRegistered(`${what} "${name}"`, held.state)
}

const notRegistered = (matter: string, found: string): Refusal<Code> =>
  refuse('shop/not-registered', {
    found: `${matter}: ${found}`,
    needed: 'something that stands in the register',
    remedy: 'correct the name; `trueloop register` lists what stands there'
  })

/** A person keeps their key through every renewal, and nobody bears another's. */
function keyComplaint(row: RegisterRow, registers: Registers): Complaint {
  if (row.register !== 'person') return undefined
  const own = lastOf(registers, row.name)
  if (own !== undefined && own.key.public !== row.key.public) {
    return keyDiffers(`a row of ${row.name} with another key than the registered one`)
  }
  return keyOfAnother(row, registers)
}

function keyOfAnother({ name, key }: PersonRow, { registered }: Registers): Complaint {
  const other = registered.find(
    ({ row }) => row.register === 'person' && row.name !== name && row.key.public === key.public
  )
  return other === undefined ? undefined : keyDiffers(`a row of ${name} with the key of ${nameOfRow(other.row)}`)
}

const keyDiffers = (found: string): Refusal<Code> =>
  refuse('shop/key-differs', {
    found,
    needed: 'the key under which the person is registered, theirs alone',
    remedy: 'leave the key out of the row; a lost key is replaced by a second person: key replace'
  })

/** The row of a person that was registered last, if they were not struck off after it. */
function lastOf({ registered, struckOff }: Registers, name: string): PersonRow | undefined {
  const last = registered.findLast(({ row }) => row.register === 'person' && row.name === name)
  const isOut = struckOff.some((one) => one.what === 'person' && one.name === name && one.seq > (last?.seq ?? -1))
  return last?.row.register === 'person' && !isOut ? last.row : undefined
}

function replacingComplaint(
  { name, old, at }: ShopEntryOf<'key-replaced'>,
  row: RegisterRow,
  { registers, witness }: Looking
): Complaint {
  const held = heldOn(registers, { what: 'person', name }, at.time.slice(0, 10))
  if (!('registered' in held)) return notRegistered(`person "${name}"`, held.state)
  if (held.registered.document !== old) return badDocument(old, `not the row that rules for ${name}`)
  const before = rowIn(witness.document(old))
  if (before?.register !== 'person' || row.register !== 'person') return badDocument(old, 'no person')
  const { key, ...rest } = row
  const { key: was, ...same } = before
  if (canonical(rest) !== canonical(same)) return badDocument(old, 'more than the key changed')
  if (was.public === key.public) return keyDiffers(`the old key of ${name} as the new one`)
  return keyOfAnother(row, registers)
}

/** A register without a Level III can never be written to again. */
export function lastComplaint({ registered, struckOff }: Registers): Complaint {
  const names = new Set(registered.flatMap(({ row }) => (row.register === 'person' ? [row.name] : [])))
  const has = [...names].some((name) => lastOf({ registered, struckOff }, name)?.level === 'III')
  if (has) return undefined
  return refuse('shop/last-level-three', {
    found: 'registers in which nobody of Level III would be left',
    needed: 'at least one person of Level III: nobody else may register people',
    remedy: 'register another Level III first'
  })
}
