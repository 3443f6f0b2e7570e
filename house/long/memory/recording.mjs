/**
 * A recording of any length as a stream of bytes: RF64 (EBU Tech 3306), three channels of 32-bit float: x, y, index.
 * What it shows: a probe that turns in air, enters a bore, stays in its wall and leaves it: noise, a slow wobble, lift-off,
 * one notch that comes by every revolution. Invented, and repeated: for measuring memory and speed, not for finding flaws.
 */
import { once } from 'node:events'

export const rate_Hz = 25_600
export const samplesPerRevolution = 1024
const channels = 3
const bytesPerSample = 4 * channels
/** Different revolutions before they repeat: enough for noise, few enough to be made once. */
const revolutions = 64
const airShare = 0.02

/** Header of an RF64 file: the sizes that don't fit 32 bits stand in the ds64 chunk. */
function header(dataBytes) {
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

/** Numerical Recipes' quick generator: good enough for noise that only has to be there, and the same every time. */
function noiseFrom(seed) {
  let state = seed >>> 0
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
  return () => (next() + next() + next() + next() - 2) * 1.7
}

/** Volts at one sample: [x, y, index]. `metal` is 0 in air, 1 in the bore. */
function sampleAt(index, metal, noise) {
  const turn = (index % samplesPerRevolution) / samplesPerRevolution
  const wobble = 0.05 * Math.sin(2 * Math.PI * turn) * metal
  const from = (turn - 0.25) * 60
  const notch = metal * from * Math.exp(0.5 - from * from) * 0.8
  const x = -2 * (1 - metal) + wobble + 0.01 * noise() + 0.3 * notch
  return [x, 0.6 * (1 - metal) + 0.1 * wobble + 0.01 * noise() + notch, turn < 0.02 ? 1 : 0]
}

function block(metal) {
  const noise = noiseFrom(metal + 1)
  const bytes = Buffer.alloc(revolutions * samplesPerRevolution * bytesPerSample)
  for (let index = 0; index < revolutions * samplesPerRevolution; index++)
    for (const [channel, volts] of sampleAt(index, metal, noise).entries())
      bytes.writeFloatLE(volts, index * bytesPerSample + 4 * channel)
  return bytes
}

/** Until the reader has taken what was written, or has gone away. */
async function roomAgain(stream) {
  const over = new AbortController()
  const { signal } = over
  await Promise.race([once(stream, 'drain', { signal }), once(stream, 'close', { signal })]).catch(() => undefined)
  over.abort()
}

/**
 * Writes a recording of at least `bytes` bytes to a stream and ends it. Resolves to the bytes written; fewer where the
 * reader went away. `look` is called before the end is told, while the reader is still there.
 */
export async function streamRecording(stream, bytes, look = () => undefined) {
  let broken = false
  stream.on('error', () => {
    broken = true
  })
  const blocks = [block(0), block(1)]
  const count = Math.ceil(bytes / blocks[0].length)
  const edge = Math.max(1, Math.floor(count * airShare))
  let sent = 0
  const write = async (part) => {
    if (!stream.write(part)) await roomAgain(stream)
    sent += part.length
  }
  await write(header(count * blocks[0].length))
  for (let at = 0; at < count && !broken && !stream.destroyed; at++)
    await write(at < edge || at >= count - edge ? blocks[0] : blocks[1])
  look()
  stream.end()
  return broken ? 0 : sent
}
