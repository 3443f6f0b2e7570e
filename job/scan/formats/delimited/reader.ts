/** The streaming reader of text recordings: lines out of chunks, rows out of lines, tables out of rows. */
import type { Result } from '@trueloop/ground/refusal'
import { type RowEvent, TABLE_ROWS, type Table, type TableEnd, type TableReader } from '../../format.ts'
import { Narrower, textDecoderFor } from './encoding.ts'
import { type Region, type RowPlan, type RowSink, readRows, SKIP, SLOW } from './rows.kernel.ts'
import { overlong, type Row, rowOf } from './rows.ts'
import { lengthBehindMark, type Sheet, type SourceColumn } from './sheet.ts'

/** A line longer than this is a damaged row and is not kept. */
const LONGEST_LINE = 1 << 20
const LF = 10
const CR = 13

export interface RowSource {
  readonly sheet: Sheet
  readonly columns: readonly SourceColumn[]
  /** bytes of the whole recording where known */
  readonly size?: number
}

/** Reads the rows of a sheet. Memory: one table and at most one line, whatever the recording's length. */
export class RowReader implements TableReader {
  readonly mostRows: number | undefined
  private readonly source: RowSource
  private readonly plan: RowPlan
  private readonly sink: RowSink
  private readonly narrower: Narrower
  private readonly decoder: TextDecoder
  private readonly held = new HeldLine()
  private skip: number
  private events: RowEvent[] = []
  private tables: Table[] = []
  private comments = 0
  private readonly warnings: string[] = []

  constructor(source: RowSource) {
    const { sheet, columns, size } = source
    const wide = sheet.encoding.startsWith('utf-16')
    this.source = source
    this.mostRows = size === undefined ? undefined : Math.floor(size / (2 * sheet.cells * (wide ? 2 : 1))) + 1
    this.plan = planFor(source)
    this.sink = sinkFor(columns.length, this.mostRows ?? TABLE_ROWS, sheet.linesAbove)
    this.narrower = new Narrower(sheet.encoding)
    this.decoder = textDecoderFor(sheet.encoding)
    this.skip = sheet.dataStart
  }

  push(chunk: Uint8Array): Result<readonly Table[]> {
    const bytes = this.narrower.push(chunk)
    const from = Math.min(this.skip, bytes.length)
    this.skip -= from
    this.take(bytes, from)
    this.flush()
    return this.handOver()
  }

  end(): Result<TableEnd> {
    const line = this.held.take()
    if (line !== undefined) this.lastLine(line)
    this.flush()
    const { comments, warnings } = this
    if (comments > 0) warnings.push(`${comments} comment line(s) between the rows were passed over`)
    return { tables: this.handOver(), warnings }
  }

  private handOver(): readonly Table[] {
    const { tables } = this
    this.tables = []
    return tables
  }

  /** Finishes the held line, reads the whole lines in the chunk in place, holds the rest. */
  private take(bytes: Uint8Array, start: number): void {
    let from = start
    if (this.held.length > 0) {
      const end = firstEnd(bytes, from)
      this.held.add(bytes.subarray(from, end))
      if (end === bytes.length && !isEnd(bytes[end - 1])) return
      from = end
      this.heldLine()
    }
    const to = behindLastEnd(bytes, from)
    this.region({ bytes, from, to })
    if (to < bytes.length) this.held.add(bytes.subarray(to))
  }

  private heldLine(): void {
    const line = this.held.take()
    if (line === undefined) return
    if (line.whole) this.region({ bytes: line.bytes, from: 0, to: line.bytes.length })
    else this.place(line.nul ? { kind: 'blank' } : overlong(this.source.columns), line.bytes.at(-1))
  }

  private region(region: Region): void {
    const { sink } = this
    let from = region.from
    while (from < region.to) {
      from = readRows({ bytes: region.bytes, from, to: region.to }, this.plan, sink)
      if (sink.rows === sink.capacity) this.flush()
      else if (from < region.to) from = this.slowRow(region, from)
    }
  }

  /** The row that the kernel left; returns where the next line begins. */
  private slowRow({ bytes }: Region, from: number): number {
    const end = firstEnd(bytes, from)
    const row =
      end - from > LONGEST_LINE ? this.longRow(bytes.subarray(from, end)) : this.parse(bytes.subarray(from, end - 1))
    this.place(row, bytes[end - 1])
    return end
  }

  private longRow(bytes: Uint8Array): Row {
    return bytes.subarray(0, -1).every((byte) => byte === 0) ? { kind: 'blank' } : overlong(this.source.columns)
  }

  private parse(bytes: Uint8Array): Row {
    return rowOf(this.decoder.decode(bytes), this.source.sheet, this.source.columns)
  }

  private place(row: Row, end: number | undefined): void {
    const { sink } = this
    sink.lines++
    sink.afterCr = end === CR
    if (row.kind === 'comment') this.comments++
    if (row.kind === 'header') this.events.push({ row: sink.rows, line: sink.lines, reason: REPEATED, dropped: true })
    if (row.kind !== 'row') return
    if (row.reason !== undefined) this.events.push({ row: sink.rows, line: sink.lines, reason: row.reason })
    this.store(row.values)
  }

  private store(values: readonly number[]): void {
    const { sink } = this
    for (const [slot, value] of values.entries()) sink.values[slot * sink.capacity + sink.rows] = value
    sink.rows++
    if (sink.rows === sink.capacity) this.flush()
  }

  /** The line that has no end: sound only where its last cell is as long as in every row looked at. */
  private lastLine(line: { bytes: Uint8Array; whole: boolean; nul: boolean }): void {
    if (line.nul) this.warnings.push('the recording ends in NUL bytes')
    const row = line.nul ? BLANK_ROW : line.whole ? this.parse(line.bytes) : overlong(this.source.columns)
    if (row.kind === 'row') this.lastRow(row)
    else this.place(row, undefined)
  }

  private lastRow(row: Row & { kind: 'row' }): void {
    const reason = row.reason ?? (this.isWhole(row.last) ? undefined : UNSURE)
    const { rows, lines } = this.sink
    if (reason !== undefined) {
      this.events.push({
        row: rows,
        line: lines + 1,
        reason: `the recording ends inside this row: ${reason}`,
        last: true
      })
      this.warnings.push(`the recording ends inside a row: ${reason}`)
    }
    this.store(row.values)
  }

  private isWhole(last: string): boolean {
    const { sheet } = this.source
    return /[)ij]$/.test(last) || (sheet.tail !== undefined && lengthBehindMark(last, sheet.style) === sheet.tail)
  }

  private flush(): void {
    const { sink, events } = this
    if (sink.rows === 0 && events.length === 0) return
    const columns = this.source.columns.map((_, slot) =>
      sink.values.slice(slot * sink.capacity, slot * sink.capacity + sink.rows)
    )
    this.tables.push({ rows: sink.rows, columns, events })
    this.events = []
    sink.rows = 0
  }
}

const BLANK_ROW: Row = { kind: 'blank' }
const REPEATED = 'the header is repeated before this sample: two recordings joined'
const UNSURE = 'its last number may be cut off'

function planFor({ sheet, columns }: RowSource): RowPlan {
  const slots = new Int32Array(sheet.cells).fill(SKIP)
  for (const [slot, column] of columns.entries()) slots[column.cell] = column.kind === 'number' ? slot : SLOW
  const { separator, decimal } = sheet.style
  return { separator: separator.charCodeAt(0), decimal: decimal.charCodeAt(0), slots, longest: LONGEST_LINE }
}

function sinkFor(columns: number, mostRows: number, linesAbove: number): RowSink {
  const capacity = Math.max(1, Math.min(TABLE_ROWS, mostRows))
  return { capacity, values: new Float64Array(capacity * columns), rows: 0, lines: linesAbove, afterCr: false }
}

const isEnd = (byte: number | undefined): boolean => byte === LF || byte === CR

/** Behind the first line end at or after `from`; the buffer's length where there is none. */
function firstEnd(bytes: Uint8Array, from: number): number {
  let at = from
  while (at < bytes.length && bytes[at] !== LF && bytes[at] !== CR) at++
  return Math.min(at + 1, bytes.length)
}

function behindLastEnd(bytes: Uint8Array, from: number): number {
  let at = bytes.length
  while (at > from && !isEnd(bytes[at - 1])) at--
  return at
}

/** The beginning of a line whose end has not come yet; past the longest line only its kind is kept. */
class HeldLine {
  private buffer = new Uint8Array(1024)
  private used = 0
  private total = 0
  private nul = true
  private end = 0

  get length(): number {
    return this.total
  }

  add(bytes: Uint8Array): void {
    if (bytes.length === 0) return
    this.total += bytes.length
    this.end = bytes.at(-1) as number
    this.nul = this.nul && bytes.every((byte) => byte === 0 || byte === LF || byte === CR)
    if (this.total > LONGEST_LINE) return
    this.grow(this.used + bytes.length)
    this.buffer.set(bytes, this.used)
    this.used += bytes.length
  }

  private grow(length: number): void {
    if (length <= this.buffer.length) return
    const wider = new Uint8Array(Math.max(length, 2 * this.buffer.length))
    wider.set(this.buffer.subarray(0, this.used))
    this.buffer = wider
  }

  /** The line, or (not whole) its last byte; undefined where there is none. */
  take(): { bytes: Uint8Array; whole: boolean; nul: boolean } | undefined {
    if (this.total === 0) return undefined
    const whole = this.total <= LONGEST_LINE
    const bytes = whole ? this.buffer.slice(0, this.used) : Uint8Array.of(this.end)
    const line = { bytes, whole, nul: this.nul }
    this.used = 0
    this.total = 0
    this.nul = true
    return line
  }
}
