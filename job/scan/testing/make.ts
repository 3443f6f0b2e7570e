/** Test help: small recordings with known content. */

/** A text recording: a header and `rows` rows made by `row`. */
export function table(header: string, rows: number, row: (k: number) => string): string {
  return `${[header, ...Array.from({ length: rows }, (_, k) => row(k))].join('\n')}\n`
}

/** A plain signal for row k: a circle, in fixed decimals. */
export const circle = (k: number): string => `${Math.cos(0.1 * k).toFixed(4)},${Math.sin(0.1 * k).toFixed(4)}`

export interface WavParts {
  readonly tag?: number
  readonly channels?: number
  readonly bits?: number
  readonly align?: number
  readonly rate?: number
  readonly bytesPerSecond?: number
  /** chunks before `fmt ` and behind `data` */
  readonly before?: Uint8Array
  readonly behind?: Uint8Array
  readonly kind?: string
  readonly length?: number
}

/** A little-endian RIFF file around these sample bytes; nothing is made right that is given wrong. */
export function wav(data: Uint8Array, parts: WavParts = {}): Uint8Array {
  const { tag = 1, channels = 2, bits = 16, rate = 1000, kind = 'WAVE', length = data.length } = parts
  const { align = (channels * bits) / 8, before = new Uint8Array(0), behind = new Uint8Array(0) } = parts
  const fmt = new Uint8Array(16)
  const view = new DataView(fmt.buffer)
  for (const [at, value] of [
    [0, tag],
    [2, channels],
    [12, align],
    [14, bits]
  ] as const)
    view.setUint16(at, value, true)
  view.setUint32(4, rate, true)
  view.setUint32(8, parts.bytesPerSecond ?? rate * align, true)
  const pad = new Uint8Array(data.length % 2)
  return concat([ascii(`RIFF????${kind}`), before, chunk('fmt ', fmt), chunk('data', data, length), pad, behind])
}

export function chunk(id: string, body: Uint8Array, length = body.length): Uint8Array {
  const size = new Uint8Array(4)
  new DataView(size.buffer).setUint32(0, length, true)
  return concat([ascii(id), size, body])
}

export const ascii = (text: string): Uint8Array => Uint8Array.from(text, (char) => char.charCodeAt(0))

export function concat(parts: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}

export const int16 = (values: readonly number[]): Uint8Array => new Uint8Array(Int16Array.from(values).buffer)
export const float32 = (values: readonly number[]): Uint8Array => new Uint8Array(Float32Array.from(values).buffer)
