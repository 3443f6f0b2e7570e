/** A picture of cells, each an index into a table of colors. Index 255 is seen through. */
export interface Indexed {
  readonly width: number
  readonly height: number
  /** `[row, column]`, `width · height` indices */
  readonly indices: Uint8Array
  /** red, green, blue of each index, up to 256 × 3 */
  readonly palette: Uint8Array
}

const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]

/**
 * PNG bytes of an indexed picture, not compressed: small pictures don't need it, and the bytes are the same everywhere.
 * source: rfc2083, 3 and 4
 */
export function png({ width, height, indices, palette }: Indexed): Uint8Array {
  if (indices.length !== width * height || indices.length === 0) {
    throw new RangeError(`${indices.length} cells are not ${width} by ${height}`)
  }
  const header = [...bigEndian(width), ...bigEndian(height), 8, 3, 0, 0, 0]
  const alpha = new Uint8Array(palette.length / 3).fill(255)
  if (alpha.length === 256) alpha[255] = 0
  return join([
    Uint8Array.from(signature),
    chunk('IHDR', Uint8Array.from(header)),
    chunk('PLTE', palette),
    chunk('tRNS', alpha),
    chunk('IDAT', zlibStored(scanLines(width, height, indices))),
    chunk('IEND', new Uint8Array(0))
  ])
}

/** Rows, each with filter type 0 before it. */
function scanLines(width: number, height: number, indices: Uint8Array): Uint8Array {
  const lines = new Uint8Array((width + 1) * height)
  for (let row = 0; row < height; row++) {
    lines.set(indices.subarray(row * width, (row + 1) * width), row * (width + 1) + 1)
  }
  return lines
}

/** Length of a stored block is 16 bits. source: rfc1951, 3.2.4 */
const longestBlock = 0xffff

function zlibStored(data: Uint8Array): Uint8Array {
  const blocks: Uint8Array[] = [Uint8Array.of(0x78, 0x01)]
  for (let at = 0; at < data.length; at += longestBlock) {
    const block = data.subarray(at, at + longestBlock)
    const isLast = at + longestBlock >= data.length ? 1 : 0
    const length = block.length
    blocks.push(Uint8Array.of(isLast, length & 255, length >> 8, ~length & 255, (~length >> 8) & 255), block)
  }
  return join([...blocks, Uint8Array.from(bigEndian(adler32(data)))])
}

function chunk(type: string, data: Uint8Array): Uint8Array {
  const named = join([Uint8Array.from(type, (letter) => letter.charCodeAt(0)), data])
  return join([Uint8Array.from(bigEndian(data.length)), named, Uint8Array.from(bigEndian(crc32(named)))])
}

const bigEndian = (value: number): readonly number[] => [
  value >>> 24,
  (value >>> 16) & 255,
  (value >>> 8) & 255,
  value & 255
]

function join(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}

/** source: rfc2083, appendix 15 */
const crcTable = Uint32Array.from({ length: 256 }, (_, index) => {
  let value = index
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1
  return value
})

export function crc32(data: Uint8Array): number {
  let value = 0xffffffff
  for (const byte of data) value = (crcTable[(value ^ byte) & 255] as number) ^ (value >>> 8)
  return (value ^ 0xffffffff) >>> 0
}

/** source: rfc1950, 8.2 */
export function adler32(data: Uint8Array): number {
  let low = 1
  let high = 0
  for (const byte of data) {
    low = (low + byte) % 65521
    high = (high + low) % 65521
  }
  return high * 65536 + low
}
