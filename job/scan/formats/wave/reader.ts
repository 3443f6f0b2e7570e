/** The streaming reader of WAV files: frames out of chunks, tables out of frames. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { TABLE_ROWS, type Table, type TableEnd, type TableReader } from '../../format.ts'
import type { WaveFormat } from './fmt.ts'
import { decodeChannel, type FrameSpan } from './pcm.kernel.ts'
import { type DataSpan, RiffWalk } from './riff.ts'

/** Reads channels of a WAV file in this order. Memory: one chunk's worth of tables. */
export class FrameReader implements TableReader {
  readonly mostRows: number | undefined
  private readonly channels: readonly number[]
  private readonly walk = new RiffWalk()
  private tables: Table[] = []
  private frames = 0
  private partial = new Uint8Array(0)
  private held = 0

  constructor(channels: readonly number[], mostRows: number | undefined) {
    this.channels = channels
    this.mostRows = mostRows
  }

  get format(): WaveFormat | undefined {
    return this.walk.format
  }

  push(bytes: Uint8Array): Result<readonly Table[]> {
    const no = this.walk.push(bytes, this.take)
    return no ?? this.handOver()
  }

  end(): Result<TableEnd> {
    const no = this.walk.finish(this.take)
    if (no !== undefined) return no
    const { warnings } = this.walk
    if (this.held > 0) warnings.push(`${this.held} bytes at the end are less than one frame and were left out`)
    const missing = this.missing()
    if (missing !== undefined) warnings.push(missing.reason)
    return { tables: this.handOver(), warnings, ...(missing === undefined ? {} : { missing }) }
  }

  private handOver(): readonly Table[] {
    const { tables } = this
    this.tables = []
    return tables
  }

  private readonly take = (span: DataSpan): void => {
    const size = this.frameBytes()
    const from = this.held === 0 ? span.from : this.fillPartial(span, size)
    const frames = Math.floor((span.to - from) / size)
    for (let done = 0; done < frames; done += TABLE_ROWS) {
      this.decode({ bytes: span.bytes, from: from + done * size, frames: Math.min(TABLE_ROWS, frames - done) })
    }
    this.holdPartial(span.bytes.subarray(from + frames * size, span.to), size)
  }

  private frameBytes(): number {
    const { channels, container } = this.walk.format as WaveFormat
    return channels * container
  }

  /** Completes the frame that the last chunk cut; returns where the next one begins. */
  private fillPartial(span: DataSpan, size: number): number {
    const taken = Math.min(size - this.held, span.to - span.from)
    this.partial.set(span.bytes.subarray(span.from, span.from + taken), this.held)
    this.held += taken
    if (this.held === size) {
      this.decode({ bytes: this.partial, from: 0, frames: 1 })
      this.held = 0
    }
    return span.from + taken
  }

  private holdPartial(bytes: Uint8Array, size: number): void {
    if (bytes.length === 0) return
    if (this.partial.length !== size) this.partial = new Uint8Array(size)
    this.partial.set(bytes)
    this.held = bytes.length
  }

  private decode(span: FrameSpan): void {
    const format = this.walk.format as WaveFormat
    const columns = this.channels.map((channel) => decodeChannel(span, format, channel))
    this.tables.push({ rows: span.frames, columns, events: [] })
    this.frames += span.frames
  }

  private missing(): TableEnd['missing'] {
    const size = this.frameBytes()
    const { announced, stray } = this.walk
    if (stray > 0) return { rows: Math.floor(stray / size), reason: `${stray} bytes behind the stated end of the data` }
    const rows = announced === undefined ? 0 : Math.floor(announced / size) - this.frames
    return rows > 0 ? { rows, reason: 'the file ends before the stated end of the data' } : undefined
  }
}

/** The format chunk in the first bytes of a file (`whole`: in all of it); refuses what the walk refuses. */
export function headFormat(bytes: Uint8Array, whole: boolean): Result<WaveFormat | undefined> {
  const look = new RiffWalk()
  const no = look.push(bytes, () => undefined) ?? (whole ? look.finish(() => undefined) : undefined)
  return no ?? look.format
}

/** The format chunk and, when asked for, the samples in the first bytes of a file; refuses what the walk refuses. */
export function headFrames(bytes: Uint8Array, whole: boolean): Result<HeadFrames | undefined> {
  const format = headFormat(bytes, whole)
  if (format === undefined || isRefusal(format)) return format
  return { format, tables: () => decoded(bytes, format) }
}

/** What the walk has already passed without refusing. */
function decoded(bytes: Uint8Array, { channels }: WaveFormat): readonly Table[] {
  const all = Array.from({ length: channels }, (_, channel) => channel)
  const tables = new FrameReader(all, undefined).push(bytes)
  if (isRefusal(tables)) throw new Error(tables.code)
  return tables
}

export interface HeadFrames {
  readonly format: WaveFormat
  readonly tables: () => readonly Table[]
}
