import { createCipheriv, createDecipheriv } from 'node:crypto'

/** A secret sealed under a key of 32 bytes, bound to a text that lies open beside it. source: nist-sp800-38d, 7 */
export interface Sealed {
  readonly nonce: Uint8Array
  readonly sealed: Uint8Array
  readonly tag: Uint8Array
}

export interface Locking {
  readonly key: Uint8Array
  /** 12 bytes, never used twice with one key */
  readonly nonce: Uint8Array
  /** what lies open beside the secret: changed by one bit, the secret does not come out */
  readonly beside: Uint8Array
}

const form = 'aes-256-gcm'
const options = { authTagLength: 16 }

export function seal(secret: Uint8Array, { key, nonce, beside }: Locking): Sealed {
  const cipher = createCipheriv(form, key, nonce, options).setAAD(beside)
  const sealed = Buffer.concat([cipher.update(secret), cipher.final()])
  return { nonce, sealed, tag: cipher.getAuthTag() }
}

/** The secret; undefined where key, nonce, sealed bytes, tag or what lies beside them is another: which, nobody can tell. */
export function unseal({ sealed, tag }: Sealed, { key, nonce, beside }: Locking): Uint8Array | undefined {
  try {
    const cipher = createDecipheriv(form, key, nonce, options).setAAD(beside).setAuthTag(tag)
    return Buffer.concat([cipher.update(sealed), cipher.final()])
  } catch {
    return undefined
  }
}
