import { createPrivateKey, createPublicKey, type KeyObject, randomBytes, sign } from 'node:crypto'

/** Signatures of people: Ed25519 by the platform. Keys and signatures go in and out as the standard has them. */

/** What a raw key stands behind in the forms that the platform reads (PKCS #8 and SPKI of this curve, RFC 8410). */
const privateHead = Buffer.from('302e020100300506032b657004220420', 'hex')
const publicHead = Buffer.from('302a300506032b6570032100', 'hex')

/** A new private key: 32 random bytes. */
export const newSeed = (): Uint8Array => randomBytes(32)

/** A private key for use, from its 32 bytes. source: rfc8032, 5.1.5 */
export const keyFrom = (seed: Uint8Array): KeyObject =>
  createPrivateKey({ key: Buffer.concat([privateHead, seed]), format: 'der', type: 'pkcs8' })

/** The public half, 32 bytes. */
export const publicOf = (key: KeyObject): Uint8Array =>
  createPublicKey(key).export({ format: 'der', type: 'spki' }).subarray(publicHead.length)

/** Signature of bytes, 64 bytes. source: rfc8032, 5.1.6 */
export const signatureOf = (key: KeyObject, bytes: Uint8Array): Uint8Array => sign(null, bytes, key)
