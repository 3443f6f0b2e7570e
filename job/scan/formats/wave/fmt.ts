/** How the samples of a WAV file are coded (`fmt ` chunk). */
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { refuse } from '../../codes.ts'

export interface WaveFormat {
  readonly channels: number
  readonly rate_Hz: number
  readonly float: boolean
  /** bytes a sample of one channel */
  readonly container: number
  readonly bits: number
  readonly little: boolean
  /** what is odd but does not matter */
  readonly warnings: readonly string[]
}

const PCM = 1
const FLOAT = 3
const EXTENSIBLE = 0xfffe

const OTHER: Readonly<Record<number, string>> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'mu-law',
  17: 'IMA ADPCM',
  49: 'GSM 6.10',
  80: 'MPEG audio',
  85: 'MPEG layer 3'
}

/**
 * Reads the body of a `fmt ` chunk. Samples of n bits lie left-justified in ceil(n/8) bytes; the extensible form may
 * state a wider container. The extension's length is not trusted: the sub-format is always in its bytes 6 to 21.
 * Refuses scan/unsupported-encoding, scan/inconsistent-header.
 */
export function waveFormat(body: Uint8Array, little: boolean): Result<WaveFormat> {
  if (body.length < 16) return inconsistent(`a format chunk of ${body.length} bytes`, 'at least 16 bytes')
  const view = new DataView(body.buffer, body.byteOffset, body.byteLength)
  const u16 = (at: number): number => view.getUint16(at, little)
  const [stated = 0, channels = 0, align = 0, bits = 0] = [0, 2, 12, 14].map(u16)
  const rate_Hz = view.getUint32(4, little)
  const tag = stated === EXTENSIBLE ? subFormat(view, little) : stated
  if (tag !== PCM && tag !== FLOAT) return unsupported(OTHER[tag] ?? `format tag ${tag}`)
  const container = align / channels
  const no = badSizes({
    channels,
    rate_Hz,
    align,
    bits,
    container,
    float: tag === FLOAT,
    extensible: stated === EXTENSIBLE
  })
  if (no !== undefined) return no
  const bytesPerSecond = view.getUint32(8, little)
  const warnings =
    bytesPerSecond === rate_Hz * align
      ? []
      : [`the header states ${bytesPerSecond} bytes a second, not ${rate_Hz * align}`]
  return { channels, rate_Hz, float: tag === FLOAT, container, bits, little, warnings }
}

/** The tag within the sub-format, or a number that is no tag where its fixed rest differs. */
function subFormat(view: DataView, little: boolean): number {
  if (view.byteLength < 40) return EXTENSIBLE
  const fixed =
    view.getUint16(28, little) === 0 && view.getUint16(30, little) === 16 && view.getUint32(32) === 0x800000aa
  return fixed ? view.getUint32(24, little) : EXTENSIBLE
}

interface Sizes {
  readonly channels: number
  readonly rate_Hz: number
  readonly align: number
  readonly bits: number
  readonly container: number
  readonly float: boolean
  readonly extensible: boolean
}

function badSizes({ channels, rate_Hz, align, bits, container, float, extensible }: Sizes): Refusal | undefined {
  if (channels === 0 || rate_Hz === 0 || bits === 0)
    return inconsistent(`${channels} channels, ${rate_Hz} Hz, ${bits} bits`, 'a number above zero for each')
  if (float && bits !== 32 && bits !== 64) return unsupported(`${bits}-bit floating point`)
  if (bits > 64) return unsupported(`${bits}-bit samples`)
  const least = Math.ceil(bits / 8)
  const fits = extensible ? container >= least && container <= 8 && !float : container === least
  if (Number.isInteger(container) && (fits || container === least)) return undefined
  return inconsistent(
    `frames of ${align} bytes for ${channels} channels of ${bits} bits`,
    `frames of ${channels * least} bytes`
  )
}

const inconsistent = (found: string, needed: string): Refusal =>
  refuse('scan/inconsistent-header', {
    found,
    needed,
    remedy: 'the header contradicts itself: export the recording again'
  })

const unsupported = (found: string): Refusal =>
  refuse('scan/unsupported-encoding', {
    found,
    needed: 'PCM of 1 to 64 bits, or floating point of 32 or 64 bits',
    remedy: 'export the recording as uncompressed PCM or floating point'
  })
