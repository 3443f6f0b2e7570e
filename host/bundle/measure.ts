import { crc32 } from 'node:zlib'
import { startSha256 } from '../hash/index.ts'

/** What is known of a run of bytes once it has passed by. */
export interface Measured {
  readonly bytes: number
  readonly crc: number
  readonly sha256: string
}

export interface Measuring {
  take(piece: Uint8Array): void
  end(): Measured
}

export function startMeasuring(): Measuring {
  const hash = startSha256()
  let bytes = 0
  let crc = 0
  return {
    take(piece) {
      hash.update(piece)
      crc = crc32(piece, crc)
      bytes += piece.length
    },
    end: () => ({ bytes, crc, sha256: hash.digest() })
  }
}

/** Reads all of it, never all in memory. An aborted signal is thrown. */
export async function measure(pieces: AsyncIterable<Uint8Array>, signal?: AbortSignal): Promise<Measured> {
  const measuring = startMeasuring()
  for await (const piece of pieces) {
    signal?.throwIfAborted()
    measuring.take(piece)
  }
  signal?.throwIfAborted()
  return measuring.end()
}

export function measureBytes(bytes: Uint8Array): Measured {
  const measuring = startMeasuring()
  measuring.take(bytes)
  return measuring.end()
}
