/** Writes RIFF WAVE files of floating-point samples. */

export type SampleFormat = 'float32' | 'float64'

export interface WaveForm {
  readonly rate_Hz: number
  readonly channels: number
  readonly frames: number
  readonly format: SampleFormat
}

const FRAMES_PER_CHUNK = 16_384
const LARGEST = 0xffffffff

/**
 * A whole file as chunks of bytes: header first, then frames, channels in their order. float32 rounds to nearest. Throws
 * RangeError for no channel, channels of unequal length, a rate that is no whole number of Hz, or 4 GiB and more.
 */
export function* writeWave(
  rate_Hz: number,
  channels: readonly Float64Array[],
  format: SampleFormat
): Generator<Uint8Array> {
  const frames = channels[0]?.length ?? 0
  yield waveHeader({ rate_Hz, channels: channels.length, frames, format })
  for (let first = 0; first < frames; first += FRAMES_PER_CHUNK) {
    const part = channels.map((channel) => channel.subarray(first, first + FRAMES_PER_CHUNK))
    yield waveFrames(part, format)
  }
}

/** Header of a file whose number of frames is known: to be followed by all of its frames. */
export function waveHeader({ rate_Hz, channels, frames, format }: WaveForm): Uint8Array {
  const width = format === 'float32' ? 4 : 8
  const data = frames * channels * width
  if (!(channels >= 1 && channels <= 65535)) throw new RangeError(`a wave file has channels, not ${channels}`)
  if (Math.floor(rate_Hz) !== rate_Hz || rate_Hz < 1) throw new RangeError(`a whole rate in Hz, not ${rate_Hz}`)
  if (data + 50 > LARGEST) throw new RangeError(`a wave file ends before 4 GiB, not after ${data} bytes`)
  const bytes = new Uint8Array(58)
  const view = new DataView(bytes.buffer)
  text(bytes, 0, 'RIFF')
  view.setUint32(4, 50 + data, true)
  text(bytes, 8, 'WAVEfmt ')
  view.setUint32(16, 18, true)
  view.setUint16(20, 3, true) // floating point
  view.setUint16(22, channels, true)
  view.setUint32(24, rate_Hz, true)
  view.setUint32(28, rate_Hz * channels * width, true)
  view.setUint16(32, channels * width, true)
  view.setUint16(34, 8 * width, true)
  view.setUint16(36, 0, true)
  text(bytes, 38, 'fact')
  view.setUint32(42, 4, true)
  view.setUint32(46, frames, true)
  text(bytes, 50, 'data')
  view.setUint32(54, data, true)
  return bytes
}

/** Frames as bytes: channels interleaved, little-endian. */
export function waveFrames(channels: readonly Float64Array[], format: SampleFormat): Uint8Array {
  const frames = channels[0]?.length ?? 0
  if (channels.some((channel) => channel.length !== frames)) throw new RangeError('channels of one length are needed')
  const width = format === 'float32' ? 4 : 8
  const bytes = new Uint8Array(frames * channels.length * width)
  const view = new DataView(bytes.buffer)
  let at = 0
  for (let i = 0; i < frames; i++) {
    for (const channel of channels) {
      if (width === 4) view.setFloat32(at, channel[i]!, true)
      else view.setFloat64(at, channel[i]!, true)
      at += width
    }
  }
  return bytes
}

function text(bytes: Uint8Array, at: number, letters: string): void {
  for (let i = 0; i < letters.length; i++) bytes[at + i] = letters.charCodeAt(i)
}
