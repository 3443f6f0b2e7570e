/** Samples of a WAV file as numbers. */
import { borrowColumn } from '@trueloop/ground/numerics'

export interface FrameLayout {
  readonly channels: number
  readonly container: number
  readonly float: boolean
  readonly little: boolean
}

export interface FrameSpan {
  readonly bytes: Uint8Array
  readonly from: number
  readonly frames: number
}

/**
 * One channel of consecutive frames. Floating point as it is; integers divided by full scale, 2^(8·container − 1), so
 * that they lie in [−1, 1); containers of one byte are unsigned with 128 as zero (Multimedia Programming Interface and
 * Data Specifications 1.0). Exact up to 53 bits; 56 and 64 bits are rounded once to binary64.
 */
export function decodeChannel(span: FrameSpan, layout: FrameLayout, channel: number): Float64Array {
  const { bytes, frames } = span
  const { container, float, little } = layout
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const out = borrowColumn(frames)
  const step = layout.channels * container
  let p = span.from + channel * container
  if (float && container === 4 && little) for (let i = 0; i < frames; i++, p += step) out[i] = view.getFloat32(p, true)
  else if (float && container === 4) for (let i = 0; i < frames; i++, p += step) out[i] = view.getFloat32(p, false)
  else if (float) for (let i = 0; i < frames; i++, p += step) out[i] = view.getFloat64(p, little)
  else if (container === 1) for (let i = 0; i < frames; i++, p += step) out[i] = (bytes[p]! - 128) / 128
  else if (container === 2 && little)
    for (let i = 0; i < frames; i++, p += step) out[i] = view.getInt16(p, true) / 32768
  else if (container === 2) for (let i = 0; i < frames; i++, p += step) out[i] = view.getInt16(p, false) / 32768
  else if (container === 4) for (let i = 0; i < frames; i++, p += step) out[i] = view.getInt32(p, little) / 2147483648
  else decodeOdd({ bytes, from: p, frames }, { ...layout, channels: step }, out)
  return out
}

/** Containers of 3, 5, 6, 7 and 8 bytes, byte by byte; here `channels` is the step in bytes. */
function decodeOdd(span: FrameSpan, layout: FrameLayout, out: Float64Array): void {
  const { bytes, frames } = span
  const { container, little } = layout
  const scale = fullScale(container)
  const top = little ? container - 1 : 0
  const down = little ? -1 : 1
  const high = Math.min(4, container)
  for (let i = 0, p = span.from; i < frames; i++, p += layout.channels) {
    let at = p + top
    let head = (bytes[at]! << 24) >> 24
    for (let k = 1; k < high; k++) {
      at += down
      head = k < 3 ? (head << 8) | bytes[at]! : head * 256 + bytes[at]!
    }
    let tail = 0
    let weight = 1
    for (let k = high; k < container; k++) {
      at += down
      tail = tail * 256 + bytes[at]!
      weight *= 256
    }
    out[i] = (head * weight + tail) / scale
  }
}

/** 2^(8·container − 1), exact. */
function fullScale(container: number): number {
  let scale = 128
  for (let k = 1; k < container; k++) scale *= 256
  return scale
}
