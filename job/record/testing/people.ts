import { createPublicKey, generateKeyPairSync, type KeyObject, sign, verify } from 'node:crypto'
import type { PersonRow } from '../../plan/index.ts'
import { canonical } from '../canonical.ts'
import type { Signature } from '../kinds/parts.ts'
import type { Entry, EntryOf } from '../kinds.ts'
import { signedText, type Witness } from '../signing.ts'
import { head, sha256 } from './entries.ts'

/** Invented people who sign with keys made for one run. Node's own Ed25519 is the oracle. */

export interface Invented {
  readonly row: PersonRow
  readonly document: string
  readonly key: KeyObject
}

const prefix = Buffer.from('302a300506032b6570032100', 'hex')

export function invent(name: string, level: PersonRow['level'] = 'II', over: Partial<PersonRow> = {}): Invented {
  const { publicKey, privateKey } = generateKeyPairSync('ed25519')
  const bytes = publicKey.export({ format: 'der', type: 'spki' }).subarray(prefix.length)
  const row: PersonRow = {
    ...{ register: 'person', version: 1, name, method: 'eddy current', level },
    certificate: { number: `C-${name}`, issued: '2025-01-01', expires: '2027-12-31' },
    near_vision: { examined: '2026-01-01', expires: '2026-12-31' },
    key: { kind: 'Ed25519', public: bytes.toString('base64') },
    ...over
  }
  return { row, document: sha256(canonical(row)), key: privateKey }
}

export const witnessOf = (people: readonly Invented[]): Witness => ({
  document: (hash) => {
    const found = people.find(({ document }) => document === hash)
    return found === undefined ? undefined : canonical(found.row)
  },
  holds: (publicKey, text, value) => {
    const key = createPublicKey({
      key: Buffer.concat([prefix, Buffer.from(publicKey, 'base64')]),
      ...{ format: 'der' as const, type: 'spki' as const }
    })
    return verify(null, Buffer.from(text, 'utf8'), key, Buffer.from(value, 'base64'))
  }
})

/** The entry by which a job holds a person's document. */
export const personStored = ({ row, document }: Invented): EntryOf<'document-stored'> => ({
  ...{ kind: 'document-stored', version: 1, ...head(), document, what: 'person', name: row.name }
})

type Unsigned<E> = E extends { readonly signed?: unknown } ? Omit<E, 'signed' | 'by'> : never

/** Signs an entry over the head that the signer sees. */
export function signedBy(
  { row, document, key }: Invented,
  draft: Unsigned<Entry>,
  seen: { job: string; head: string }
): Entry {
  const open: Signature = { person: document, over: seen.head, value: `${'A'.repeat(86)}==` }
  const entry = { ...draft, by: { kind: 'person', name: row.name }, signed: open } as Entry
  const value = sign(null, Buffer.from(signedText(seen.job, entry), 'utf8'), key).toString('base64')
  return { ...entry, signed: { ...open, value } } as Entry
}
