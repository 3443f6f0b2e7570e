/** Tables of a format become segments: damage, gaps in time, units. */
import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import { titleOf } from './columns/names.ts'
import type { Layout, RowEvent, Table, TableEnd, TableReader } from './format.ts'
import { nonFiniteRows } from './inspect.kernel.ts'
import type { Mapping, Used } from './mapping.ts'
import { finalRate, type KnownRate } from './rates.ts'
import type { Scan, ScanReader } from './scan.ts'
import type { Segment } from './segment.ts'
import { Tally } from './tally.ts'
import type { StampRate } from './time/rate.ts'
import { type Backward, Stamps } from './time/stamps.ts'

/** All that is settled before the first sample. */
export interface Opened {
  readonly format: string
  readonly layout: Layout
  readonly file: string
  readonly mapping: Mapping
  readonly roles: readonly Used[]
  readonly table: TableReader
  readonly stamps: StampRate | undefined
  readonly rate: KnownRate
}

/** A place in a table where something happens before, or to, the row. */
type Happening =
  | { readonly row: number; readonly kind: 'gap'; readonly missing: number }
  | { readonly row: number; readonly kind: 'back'; readonly run: Backward }
  | { readonly row: number; readonly kind: 'event'; readonly event: RowEvent }

/** At one row: first what stands before it (also where a table ends there), then the clock, then the row itself. */
const rank = (happening: Happening): number =>
  happening.kind !== 'event' ? 1 : happening.event.dropped === true ? 0 : 2

export class SegmentStream implements ScanReader {
  readonly rate_Hz: number
  private readonly opened: Opened
  private readonly stamps: Stamps | undefined
  private readonly tally: Tally
  private refused: Refusal | undefined
  private next = 0

  constructor(opened: Opened) {
    this.opened = opened
    this.rate_Hz = opened.rate.value
    this.stamps = opened.stamps === undefined ? undefined : new Stamps(opened.stamps.plan)
    this.tally = new Tally(opened.file, opened.table.mostRows)
  }

  push(bytes: Uint8Array): Result<readonly Segment[]> {
    if (this.refused !== undefined) return this.refused
    const tables = this.opened.table.push(bytes)
    return isRefusal(tables) ? this.refuse(tables) : this.takeAll(tables)
  }

  end(): Result<{ readonly segments: readonly Segment[]; readonly scan: Scan }> {
    if (this.refused !== undefined) return this.refused
    const end = this.opened.table.end()
    if (isRefusal(end)) return this.refuse(end)
    const segments = this.takeAll(end.tables)
    if (isRefusal(segments)) return segments
    const run = this.stamps?.end()
    if (run !== undefined) this.tally.back(run)
    this.tally.tail(end.missing, this.next)
    const no = this.tally.verdict()
    return no === undefined ? { segments, scan: this.scan(end) } : this.refuse(no)
  }

  private refuse(refusal: Refusal): Refusal {
    this.refused = located(refusal, { file: this.opened.file })
    return this.refused
  }

  private takeAll(tables: readonly Table[]): Result<readonly Segment[]> {
    const segments: Segment[] = []
    for (const table of tables) {
      segments.push(...this.take(table))
      if (this.refused !== undefined) return this.refused
    }
    return segments
  }

  private take(table: Table): readonly Segment[] {
    this.scale(table)
    const starts = [{ row: 0, first: this.next }]
    let shift = this.next
    for (const happening of this.happenings(table)) {
      const sample = shift + happening.row
      if (happening.kind === 'gap') {
        this.tally.gap(sample, happening.missing)
        shift += happening.missing
        starts.push({ row: happening.row, first: shift + happening.row })
      } else if (happening.kind === 'back') this.tally.back(happening.run)
      else if (this.damage(table, happening.event, sample)) return []
    }
    this.next = shift + table.rows
    this.tally.signal(...(table.columns as [Float64Array, Float64Array]))
    return this.pieces(table, starts)
  }

  /** True where that was one too many. */
  private damage(table: Table, event: RowEvent, sample: number): boolean {
    if (event.dropped !== true) for (const column of table.columns.slice(0, 2)) column[event.row] = Number.NaN
    const no = this.tally.damage(event, sample)
    if (no !== undefined) this.refuse(no)
    return no !== undefined
  }

  private scale(table: Table): void {
    for (const role of ['time', 'position'] as const) {
      const column = table.columns[this.opened.roles.indexOf(role)]
      const factor = this.opened.mapping.units?.[role] ?? 1
      if (column !== undefined && factor !== 1) for (let row = 0; row < column.length; row++) column[row]! *= factor
    }
  }

  private happenings(table: Table): readonly Happening[] {
    const time = table.columns[this.opened.roles.indexOf('time')]
    const clock = time === undefined ? [] : this.follow(time)
    const events = eventsOf(table).map((event) => ({ row: event.row, kind: 'event' as const, event }))
    return clock.length === 0 ? events : [...clock, ...events].sort((a, b) => a.row - b.row || rank(a) - rank(b))
  }

  /** Runs the clock over a table's stamps. */
  private follow(time: Float64Array): readonly Happening[] {
    const found: Happening[] = []
    const stamps = this.stamps
    let sample = this.next
    for (let row = 0; stamps !== undefined && row < time.length; row++) {
      const missing = stamps.next(sample, time[row]!)
      if (stamps.backward !== undefined) found.push({ row, kind: 'back', run: stamps.backward })
      if (missing > 0) found.push({ row, kind: 'gap', missing })
      sample += missing + 1
    }
    return found
  }

  private pieces(table: Table, starts: readonly { row: number; first: number }[]): readonly Segment[] {
    return starts.flatMap(({ row, first }, at) => {
      const to = starts[at + 1]?.row ?? table.rows
      if (to === row) return []
      const whole = to - row === table.rows
      return [this.segment(first, whole ? table.columns : table.columns.map((column) => column.slice(row, to)))]
    })
  }

  private segment(first: number, columns: readonly Float64Array[]): Segment {
    const [x, y] = columns as [Float64Array, Float64Array]
    const aux = this.opened.roles.slice(2).map((role, at) => [role, columns[at + 2]])
    return { first, channels: [{ x, y }], aux: Object.fromEntries(aux) }
  }

  private scan(end: TableEnd): Scan {
    const { format, layout, rate, stamps } = this.opened
    const { samples, missing, damaged, losses, warnings } = this.tally
    const unit = this.channelUnit()
    const final = finalRate(rate, stamps, this.stamps?.trend.line())
    return {
      format,
      rate_Hz: final.value,
      rateReason: rate.reason,
      samples,
      missing,
      damaged,
      losses: losses.all,
      warnings: [...rate.warnings, ...warnings, ...final.warnings, ...end.warnings],
      notes: layout.notes,
      ...(unit === undefined ? {} : { channelUnit: unit })
    }
  }

  private channelUnit(): string | undefined {
    const { layout, mapping } = this.opened
    const [x, y] = [mapping.x, mapping.y].map(
      (column) => titleOf(layout.columns[column]?.names ?? []).unit ?? layout.unit
    )
    return x === y ? x : undefined
  }
}

/** Events of the format and rows with a number that is none, in row order; what happens before a row comes first. */
function eventsOf(table: Table): readonly RowEvent[] {
  const told = new Set(table.events.filter((event) => event.dropped !== true).map((event) => event.row))
  const rows = new Set(table.columns.flatMap(nonFiniteRows))
  const silent = [...rows].filter((row) => !told.has(row))
  if (silent.length === 0) return table.events
  const found = silent.map((row) => ({ row, reason: 'not a number (NaN or infinite)' }))
  return [...table.events, ...found].sort((a, b) => a.row - b.row)
}
