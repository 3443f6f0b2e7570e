import { createHash, createPublicKey, type Hash, verify } from 'node:crypto'

/** Hex SHA-256 of a text in UTF-8: what `sha256sum` prints for a file with these bytes. */
export const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex')

/** Hex SHA-256 of bytes as they come, never all in memory. */
export async function sha256Of(chunks: AsyncIterable<Uint8Array>): Promise<string> {
  const hash: Hash = createHash('sha256')
  for await (const chunk of chunks) hash.update(chunk)
  return hash.digest('hex')
}

export interface Hashing {
  update(chunk: Uint8Array): void
  digest(): string
}

/** A hash that grows while bytes pass by. */
export function startSha256(): Hashing {
  const hash = createHash('sha256')
  return { update: (chunk) => void hash.update(chunk), digest: () => hash.digest('hex') }
}

/** What stands before the 32 bytes of an Ed25519 key in its SubjectPublicKeyInfo (RFC 8410). */
const publicKeyPrefix = Buffer.from('302a300506032b6570032100', 'hex')

/** Whether `value` is the Ed25519 signature (RFC 8032) of a text in UTF-8 under a public key; both in base64. */
export function signatureHolds(publicKey: string, text: string, value: string): boolean {
  const der = Buffer.concat([publicKeyPrefix, Buffer.from(publicKey, 'base64')])
  try {
    const key = createPublicKey({ key: der, format: 'der', type: 'spki' })
    return verify(null, Buffer.from(text, 'utf8'), key, Buffer.from(value, 'base64'))
  } catch {
    return false
  }
}
