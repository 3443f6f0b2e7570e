/** Writes RIFF WAVE files. */

/** Whole numbers are shares of full scale, 2^(bits − 1): what lies beyond is cut off. */
export type SampleFormat = keyof typeof formats

const formats = {
  float32: { width: 4, tag: 3 },
  float64: { width: 8, tag: 3 },
  pcm16: { width: 2, tag: 1 },
  pcm24: { width: 3, tag: 1 },
  pcm32: { width: 4, tag: 1 }
} as const

export interface WaveForm {
  readonly rate_Hz: number
  readonly channels: number
  readonly frames: number
  readonly format: SampleFormat
}

const FRAMES_PER_CHUNK = 16_384
const LARGEST = 0xffffffff

/**
 * A whole file as chunks of bytes: header first, then frames, channels in their order. float32 and whole numbers round to nearest. Throws
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
  if ((frames * channels.length * formats[format].width) % 2 === 1) yield new Uint8Array(1)
}

/** Header of a file whose number of frames is known: to be followed by all of its frames, and by a byte where theirs are odd. */
export function waveHeader({ rate_Hz, channels, frames, format }: WaveForm): Uint8Array {
  const { width, tag } = formats[format]
  const data = frames * channels * width
  if (!(channels >= 1 && channels <= 65535)) throw new RangeError(`a wave file has channels, not ${channels}`)
  if (Math.floor(rate_Hz) !== rate_Hz || rate_Hz < 1) throw new RangeError(`a whole rate in Hz, not ${rate_Hz}`)
  if (data + 50 > LARGEST) throw new RangeError(`a wave file ends before 4 GiB, not after ${data} bytes`)
  const bytes = new Uint8Array(58)
  const view = new DataView(bytes.buffer)
  text(bytes, 0, 'RIFF')
  view.setUint32(4, 50 + data + (data % 2), true)
  text(bytes, 8, 'WAVEfmt ')
  view.setUint32(16, 18, true)
  view.setUint16(20, tag, true) // 1 whole numbers, 3 floating point
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
  const { width } = formats[format]
  const write = writers[format]
  const bytes = new Uint8Array(frames * channels.length * width)
  const view = new DataView(bytes.buffer)
  let at = 0
  for (let i = 0; i < frames; i++) {
    for (const channel of channels) {
      write(view, at, channel[i]!)
      at += width
    }
  }
  return bytes
}

const writers: Readonly<Record<SampleFormat, (view: DataView, at: number, value: number) => void>> = {
  float32: (view, at, value) => view.setFloat32(at, value, true),
  float64: (view, at, value) => view.setFloat64(at, value, true),
  pcm16: (view, at, value) => view.setInt16(at, wholeOf(value, 0x8000), true),
  pcm24: (view, at, value) => {
    const whole = wholeOf(value, 0x800000)
    view.setUint16(at, whole & 0xffff, true)
    view.setInt8(at + 2, whole >> 16)
  },
  pcm32: (view, at, value) => view.setInt32(at, wholeOf(value, 0x80000000), true)
}

const wholeOf = (value: number, full: number): number => Math.max(-full, Math.min(full - 1, Math.round(value * full)))

function text(bytes: Uint8Array, at: number, letters: string): void {
  for (let i = 0; i < letters.length; i++) bytes[at + i] = letters.charCodeAt(i)
}
