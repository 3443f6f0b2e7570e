/** Character encodings of text recordings. Rows are parsed as bytes in which ASCII is ASCII. */

export type Encoding = 'utf-8' | 'windows-1252' | 'utf-16le' | 'utf-16be' | 'utf-32'

/** How many bytes of the head are looked at for NUL patterns and control characters. */
const LOOK = 4096

/** Judges by byte order mark, else by where NUL bytes stand, else by whether the bytes are sound UTF-8. */
export function encodingOf(bytes: Uint8Array): Encoding {
  const [a = -1, b = -1, c = -1, d = -1] = bytes
  if ((a === 0xff && b === 0xfe && c === 0 && d === 0) || (a === 0 && b === 0 && c === 0xfe && d === 0xff))
    return 'utf-32'
  if (a === 0xff && b === 0xfe) return 'utf-16le'
  if (a === 0xfe && b === 0xff) return 'utf-16be'
  return wideWithoutMark(bytes.subarray(0, LOOK)) ?? (isUtf8(bytes) ? 'utf-8' : 'windows-1252')
}

/** Plain text in two bytes a character has a NUL in nearly every other place. */
function wideWithoutMark(bytes: Uint8Array): Encoding | undefined {
  const half = Math.floor(bytes.length / 2)
  let even = 0
  let odd = 0
  for (let at = 0; at + 1 < bytes.length; at += 2) {
    if (bytes[at] === 0) even++
    if (bytes[at + 1] === 0) odd++
  }
  if (odd > 0.7 * half && even < 0.1 * half) return 'utf-16le'
  return even > 0.7 * half && odd < 0.1 * half ? 'utf-16be' : undefined
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true })
    return true
  } catch {
    return false
  }
}

/** True where the bytes look like text: hardly any control characters; NUL bytes at the end, a damage, don't count. */
export function looksLikeText(bytes: Uint8Array): boolean {
  const encoding = encodingOf(bytes)
  if (encoding === 'utf-32') return true
  const look = withoutNulTail(bytes.subarray(0, LOOK))
  const control = look.filter((byte) => byte !== 0 && byte < 32 && (byte < 9 || byte > 13)).length
  const high = look.filter((byte) => byte > 126).length
  const nul = look.filter((byte) => byte === 0).length
  return (
    control * 100 < look.length && high * 3 < look.length && (encoding.startsWith('utf-16') || nul * 2 < look.length)
  )
}

function withoutNulTail(bytes: Uint8Array): Uint8Array {
  let end = bytes.length
  while (end > 0 && bytes[end - 1] === 0) end--
  return bytes.subarray(0, end)
}

/** Makes one byte an ASCII character out of UTF-16, cut anywhere; 8-bit encodings pass unchanged. */
export class Narrower {
  private held = -1
  private readonly wide: boolean
  private readonly little: boolean

  constructor(encoding: Encoding) {
    this.wide = encoding === 'utf-16le' || encoding === 'utf-16be'
    this.little = encoding === 'utf-16le'
  }

  push(bytes: Uint8Array): Uint8Array {
    if (!this.wide) return bytes
    const out = new Uint8Array(3 * (Math.floor(bytes.length / 2) + 1))
    let length = 0
    for (const byte of bytes) {
      if (this.held < 0) this.held = byte
      else {
        length = writeUtf8(out, length, this.little ? this.held | (byte << 8) : (this.held << 8) | byte)
        this.held = -1
      }
    }
    return out.subarray(0, length)
  }
}

/** Appends one UTF-16 unit; surrogates, of no use in a recording, become question marks. */
function writeUtf8(out: Uint8Array, at: number, unit: number): number {
  if (unit < 0x80) out[at] = unit
  else if (unit < 0x800) {
    out[at] = 0xc0 | (unit >> 6)
    out[at + 1] = 0x80 | (unit & 63)
    return at + 2
  } else if (unit >= 0xd800 && unit < 0xe000) out[at] = 63
  else {
    out[at] = 0xe0 | (unit >> 12)
    out[at + 1] = 0x80 | ((unit >> 6) & 63)
    out[at + 2] = 0x80 | (unit & 63)
    return at + 3
  }
  return at + 1
}

/** The decoder for what a Narrower gives. */
export const textDecoderFor = (encoding: Encoding): TextDecoder =>
  new TextDecoder(encoding === 'windows-1252' ? 'windows-1252' : 'utf-8')
