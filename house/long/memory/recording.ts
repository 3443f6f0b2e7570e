/**
 * A recording of any length as a stream of bytes: RF64 (EBU Tech 3306), three channels of 32-bit float: x, y, index.
 * It is a hole of the demonstration, made by the seeded generator: the probe turns in air, enters, a stretch of wall is
 * gone over again and again, it leaves. Where the stretch begins again, its last revolution passes over into the one
 * before its first, so that nothing jumps. For measuring memory and speed, not for finding flaws.
 */
import { once } from 'node:events'
import { demoRecordings, generate, type HoleScene, type Recording } from '../../../job/rehearse/index.ts'

const channels = 3
const bytesPerSample = 4 * channels
/** Nothing but the wall, and two joints. */
const file = 'hole-P01.wav'
/** Share of the marks of the scan between which the wall is repeated: clear of both faces and of the joints. */
const stretch = { from: 0.42, to: 0.55 }

/** The stream's three parts as interleaved samples. */
export interface Parts {
  readonly rate_Hz: number
  readonly entry: Buffer
  readonly wall: Buffer
  readonly exit: Buffer
}

export function sceneNamed(name: string): HoleScene {
  for (const one of demoRecordings(1)) if (one.file === name) return one.scene
  throw new Error(`no recording ${name} in the demonstration`)
}

export function makeParts(): Parts {
  const recording = generate(sceneNamed(file), 1)
  const marks = marksOf(recording.index)
  const a = Math.round(stretch.from * marks.length)
  const b = Math.round(stretch.to * marks.length)
  const [before, from, last, to] = [marks[a - 1]!, marks[a]!, marks[b - 1]!, marks[b]!]
  return {
    rate_Hz: recording.rate_Hz,
    entry: interleaved(recording, 0, from),
    wall: interleaved(passedOver(recording, { before, from, last, to }), from, to),
    exit: interleaved(recording, from, recording.x.length)
  }
}

/** Samples at which the index rises through the middle of its range. */
function marksOf(index: Float64Array): readonly number[] {
  const middle = 0.5 * index.reduce((most, value) => Math.max(most, value), 0)
  const marks: number[] = []
  for (let i = 1; i < index.length; i++) if (index[i - 1]! < middle && index[i]! >= middle) marks.push(i)
  return marks
}

interface Stretch {
  readonly before: number
  readonly from: number
  readonly last: number
  readonly to: number
}

function passedOver(recording: Recording, { before, from, last, to }: Stretch): Recording {
  const blended = (column: Float64Array) => {
    const out = column.slice()
    for (let i = last; i < to; i++) {
      const share = (i - last) / (to - last)
      const other = from - (to - i)
      if (other >= before) out[i] = (1 - share) * column[i]! + share * column[other]!
    }
    return out
  }
  return { ...recording, x: blended(recording.x), y: blended(recording.y) }
}

function interleaved({ x, y, index }: Recording, from: number, to: number): Buffer {
  const bytes = Buffer.alloc((to - from) * bytesPerSample)
  for (let i = from, at = 0; i < to; i++, at += bytesPerSample) {
    bytes.writeFloatLE(x[i]!, at)
    bytes.writeFloatLE(y[i]!, at + 4)
    bytes.writeFloatLE(index[i]!, at + 8)
  }
  return bytes
}

/** Header of an RF64 file: the sizes that don't fit 32 bits stand in the ds64 chunk. */
function header(dataBytes: number, rate_Hz: number): Buffer {
  const bytes = Buffer.alloc(80)
  bytes.write('RF64', 0)
  bytes.writeUInt32LE(0xffffffff, 4)
  bytes.write('WAVEds64', 8)
  bytes.writeUInt32LE(28, 16)
  bytes.writeBigUInt64LE(BigInt(dataBytes + bytes.length - 8), 20)
  bytes.writeBigUInt64LE(BigInt(dataBytes), 28)
  bytes.writeBigUInt64LE(BigInt(dataBytes / bytesPerSample), 36)
  bytes.write('fmt ', 48)
  bytes.writeUInt32LE(16, 52)
  bytes.writeUInt16LE(3, 56)
  bytes.writeUInt16LE(channels, 58)
  bytes.writeUInt32LE(rate_Hz, 60)
  bytes.writeUInt32LE(rate_Hz * bytesPerSample, 64)
  bytes.writeUInt16LE(bytesPerSample, 68)
  bytes.writeUInt16LE(32, 70)
  bytes.write('data', 72)
  bytes.writeUInt32LE(0xffffffff, 76)
  return bytes
}

/** Until the reader has taken what was written, or has gone away. */
async function roomAgain(stream: NodeJS.WritableStream): Promise<void> {
  const over = new AbortController()
  const { signal } = over
  await Promise.race([once(stream, 'drain', { signal }), once(stream, 'close', { signal })]).catch(() => undefined)
  over.abort()
}

/**
 * Writes a recording of at least `bytes` bytes to a stream and ends it. Resolves to the bytes written; 0 where the reader
 * went away. `look` is called before the end is told, while the reader is still there.
 */
export async function streamRecording(
  stream: NodeJS.WritableStream & { readonly destroyed?: boolean },
  { parts, bytes, look }: { readonly parts: Parts; readonly bytes: number; readonly look: () => void }
): Promise<number> {
  let broken = false
  stream.on('error', () => {
    broken = true
  })
  const { entry, wall, exit } = parts
  const times = Math.max(1, Math.ceil((bytes - entry.length - exit.length) / wall.length))
  const data = entry.length + times * wall.length + exit.length
  let sent = 0
  const write = async (part: Buffer) => {
    if (!stream.write(part)) await roomAgain(stream)
    sent += part.length
  }
  await write(header(data, parts.rate_Hz))
  await write(entry)
  for (let at = 0; at < times && !broken && stream.destroyed !== true; at++) await write(wall)
  await write(exit)
  look()
  stream.end()
  return broken ? 0 : sent
}
