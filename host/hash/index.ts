import { createHash, type Hash } from 'node:crypto'

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
