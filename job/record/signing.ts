import { canonical } from './canonical.ts'
import type { Signature } from './kinds/parts.ts'

/** Signatures of people on entries: what is signed, and which entries carry one. */

/** How signatures are looked at: where a person's document lies, and whether a signature is of a key. */
export interface Witness {
  /** text of a stored document; undefined where there is none */
  readonly document: (hash: string) => string | undefined
  /** whether `value` is the signature of `text` (UTF-8) under a public key; all in base64 */
  readonly holds: (publicKey: string, text: string, value: string) => boolean
}

/** The signature of an entry; undefined where its kind carries none, or where it is not signed. */
export const signatureOf = (entry: object): Signature | undefined =>
  'signed' in entry && entry.signed !== false ? (entry.signed as Signature) : undefined

/** The text that is signed: canonical JSON of the number of the job (of the shop's own record, its name) and the entry, its signature without the value. */
export function signedText(job: string, entry: object): string {
  const signature = signatureOf(entry)
  if (signature === undefined) throw new Error('an entry without a place for a signature')
  const { value: _, ...rest } = signature
  return canonical({ job, entry: { ...entry, signed: rest } })
}
