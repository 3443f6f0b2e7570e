/** Walks through the chunks of a RIFF, RIFX, RF64 or BW64 file that comes in pieces. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from '../../codes.ts'
import { type WaveFormat, waveFormat } from './fmt.ts'

/** What the walk has come to: bytes still to collect, to skip or to hand on as sample data. */
type Stage = 'file' | 'chunk' | 'format' | 'lengths' | 'skip' | 'peek' | 'data' | 'ignore'

const UNSTATED = 0xffffffff
/** No sound format chunk is longer. */
const LONGEST_FORMAT = 4096
const FAMILY = ['RIFF', 'RIFX', 'RF64', 'BW64']

export interface DataSpan {
  readonly bytes: Uint8Array
  readonly from: number
  readonly to: number
}

/**
 * Give it the file's bytes in order; it hands on the bytes of the first `data` chunk. The lengths in the file are not
 * trusted where they contradict the bytes: the RIFF length is ignored, a data length of 0 or 2^32 − 1 means the rest.
 */
export class RiffWalk {
  format: WaveFormat | undefined
  /** bytes of sample data that the file announces; undefined where it does not say */
  announced: number | undefined
  /** bytes of sample data met */
  met = 0
  /** bytes behind the data that belong to no chunk */
  stray = 0
  readonly warnings: string[] = []
  private stage: Stage = 'file'
  private held: Uint8Array = new Uint8Array(12)
  private used = 0
  private left = 0
  private little = true
  private longData: number | undefined
  private seenData = false

  /** True once sample data have begun. */
  get inData(): boolean {
    return this.seenData
  }

  push(bytes: Uint8Array, give: (span: DataSpan) => void): Refusal | undefined {
    let at = 0
    while (at < bytes.length) {
      const moved = this.move(bytes, at, give)
      if (typeof moved !== 'number') return moved
      at = moved
    }
    return undefined
  }

  /** The end of the file: what was held back as a possible chunk head is data. */
  finish(give: (span: DataSpan) => void): Refusal | undefined {
    if (this.stage === 'peek' && this.used > 0) this.giveHeld(give)
    if (this.seenData) return undefined
    const found = this.format === undefined ? `no format chunk in ${this.stage} at the end` : 'no data chunk'
    return truncated(`a file that ends before its samples (${found})`)
  }

  private move(bytes: Uint8Array, at: number, give: (span: DataSpan) => void): Result<number> {
    const rest = bytes.length - at
    if (this.stage === 'ignore') {
      this.stray += rest
      return bytes.length
    }
    if (this.stage === 'data' || this.stage === 'skip') {
      const taken = Math.min(rest, this.left)
      if (this.stage === 'data') this.giveSpan({ bytes, from: at, to: at + taken }, give)
      this.left -= taken
      if (this.left === 0) this.afterBody()
      return at + taken
    }
    const taken = Math.min(rest, this.held.length - this.used)
    this.held.set(bytes.subarray(at, at + taken), this.used)
    this.used += taken
    return (this.used === this.held.length ? this.collected(give) : undefined) ?? at + taken
  }

  private giveSpan(span: DataSpan, give: (span: DataSpan) => void): void {
    this.met += span.to - span.from
    give(span)
  }

  private giveHeld(give: (span: DataSpan) => void): void {
    this.stage = 'data'
    this.left = Number.POSITIVE_INFINITY
    this.announced = undefined
    this.warnings.push('the data length in the header is 0: the rest of the file is read')
    this.giveSpan({ bytes: this.held.slice(0, this.used), from: 0, to: this.used }, give)
    this.used = 0
  }

  private afterBody(): void {
    if (this.stage === 'data' && this.met % 2 === 1) {
      this.stage = 'skip'
      this.left = 1
    } else this.collect('chunk', 8)
  }

  private collect(stage: Stage, length: number): void {
    this.stage = stage
    this.held = new Uint8Array(length)
    this.used = 0
  }

  private collected(give: (span: DataSpan) => void): Refusal | undefined {
    if (this.stage === 'file') return this.file()
    if (this.stage === 'format') return this.formatChunk()
    if (this.stage === 'lengths') return this.lengths()
    if (this.stage === 'peek' && !isKnown(this.id())) {
      this.giveHeld(give)
      return undefined
    }
    return this.chunk()
  }

  private id(): string {
    return String.fromCharCode(...this.held.subarray(0, 4))
  }

  private u32(at: number): number {
    return new DataView(this.held.buffer).getUint32(at, this.little)
  }

  private file(): Refusal | undefined {
    const kind = String.fromCharCode(...this.held.subarray(8, 12))
    if (!FAMILY.includes(this.id()) || kind !== 'WAVE') return notWave(`a ${this.id()} file of the kind "${kind}"`)
    this.little = this.id() !== 'RIFX'
    this.collect('chunk', 8)
    return undefined
  }

  private chunk(): Refusal | undefined {
    const id = this.id()
    const length = this.u32(4)
    if (this.seenData && !/^[\x20-\x7e]{4}$/.test(id)) return this.behindData()
    if (id === 'data' && !this.seenData) return this.data(length)
    if (id === 'fmt ' && this.format === undefined) return this.sized('format', length)
    if (id === 'ds64' && this.longData === undefined) return this.sized('lengths', length)
    if (id === 'data') this.warnings.push('a second data chunk was passed over')
    this.skip(length + (length % 2))
    return undefined
  }

  private skip(length: number): void {
    this.stage = 'skip'
    this.left = length
    if (length === 0) this.afterBody()
  }

  private behindData(): undefined {
    this.stage = 'ignore'
    this.stray += 8
  }

  private sized(stage: 'format' | 'lengths', length: number): Refusal | undefined {
    if (length < 16 || length > LONGEST_FORMAT) return contradictory(`a ${stage} chunk of ${length} bytes`)
    this.collect(stage, length + (length % 2))
    return undefined
  }

  private formatChunk(): Refusal | undefined {
    const format = waveFormat(this.held, this.little)
    if (isRefusal(format)) return format
    this.format = format
    this.warnings.push(...format.warnings)
    this.collect('chunk', 8)
    return undefined
  }

  private lengths(): undefined {
    this.longData = this.u32(8) + this.u32(12) * 4294967296
    this.collect('chunk', 8)
  }

  private data(length: number): Refusal | undefined {
    if (this.format === undefined) return contradictory('sample data before the format chunk')
    this.seenData = true
    const stated = length === UNSTATED && this.longData !== undefined ? this.longData : length
    if (stated === 0) {
      this.announced = 0
      this.collect('peek', 8)
      return undefined
    }
    this.stage = 'data'
    this.announced = stated === UNSTATED ? undefined : stated
    this.left = this.announced ?? Number.POSITIVE_INFINITY
    if (this.announced === undefined)
      this.warnings.push('the header states no data length: the rest of the file is read')
    return undefined
  }
}

/** Chunks that may follow an empty data chunk; anything else there is sample data. */
const KNOWN = [
  'LIST',
  'fact',
  'cue ',
  'bext',
  'iXML',
  'JUNK',
  'junk',
  'PEAK',
  'smpl',
  'id3 ',
  'ID3 ',
  'axml',
  'chna',
  '_PMX'
]
const isKnown = (id: string): boolean => KNOWN.includes(id)

const truncated = (found: string): Refusal =>
  refuse('scan/truncated-header', {
    found,
    needed: 'a format chunk and a data chunk',
    remedy: 'check that the recording was copied whole'
  })

const contradictory = (found: string): Refusal =>
  refuse('scan/inconsistent-header', {
    found,
    needed: 'a sound format chunk before the samples',
    remedy: 'the header contradicts itself: export the recording again'
  })

const notWave = (found: string): Refusal =>
  refuse('scan/unknown-format', {
    found,
    needed: 'a WAV file',
    remedy: 'export the recording as WAV or CSV'
  })
