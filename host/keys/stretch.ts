import { scrypt } from 'node:crypto'
import { promisify } from 'node:util'

/** What a guess at a passphrase costs. Kept in the key file, so that it can rise for new ones. */
export interface Cost {
  /** rounds, a power of two */
  readonly N: number
  /** size of a block, 128 bytes each */
  readonly r: number
  readonly p: number
}

/**
 * The least that is advised for stored passwords: 128 MiB and a few tenths of a second for each guess.
 * source: owasp-password-storage, scrypt
 */
export const cost: Cost = { N: 2 ** 17, r: 8, p: 1 }

/** A cost that is read from a file is worked only where it is none that a slip or an attack made. */
export const isCost = ({ N, r, p }: Cost): boolean =>
  [N, r, p].every(Number.isSafeInteger) &&
  (N & (N - 1)) === 0 &&
  N >= 2 ** 14 &&
  N <= 2 ** 22 &&
  r >= 1 &&
  p >= 1 &&
  p <= 16 &&
  bytesFor({ N, r, p }) <= 2 ** 30

/** Memory of the work, bytes. source: rfc7914, 2 */
const bytesFor = ({ N, r }: Cost): number => 128 * N * r

const run = promisify<string, Uint8Array, number, object, Buffer>(scrypt)

/** A key of 32 bytes from a passphrase. source: rfc7914, 6 */
export const stretch = (passphrase: string, salt: Uint8Array, work: Cost): Promise<Uint8Array> =>
  run(passphrase, salt, 32, { ...work, maxmem: 2 * bytesFor(work) + 2 ** 20 * work.p })
