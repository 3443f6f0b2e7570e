/** What is counted while a recording is read, and what the counts come to at its end. */
import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import type { RowEvent, TableEnd } from './format.ts'
import { allEqual, allZero } from './inspect.kernel.ts'
import { LossList } from './losses.ts'
import type { Backward } from './time/stamps.ts'

/** Largest share of bad rows, issue "The spine", bad input. */
const BAD_SHARE = 0.001

export class Tally {
  readonly losses = new LossList()
  samples = 0
  damaged = 0
  missing = 0
  private dropped = 0
  private bad = 0
  private firstBad: RowEvent | undefined
  private gaps = 0
  private inGaps = 0
  private backs = 0
  private equal = true
  private zero = true
  private readonly file: string
  private readonly mostRows: number | undefined

  /** `mostRows`: no more rows than this can come, where that is known. */
  constructor(file: string, mostRows: number | undefined) {
    this.file = file
    this.mostRows = mostRows
  }

  gap(sample: number, missing: number): void {
    this.gaps++
    this.missing += missing
    this.inGaps += missing
    this.losses.add({ kind: 'missing', first: sample, last: sample + missing - 1, reason: 'gap in the time stamps' })
  }

  back(run: Backward): void {
    this.backs++
    const how = run.stays ? 'and the clock stays set back' : 'and return'
    const reason = `time stamps run back by up to ${Number(run.by_s.toPrecision(6))} s ${how}`
    this.losses.add({ kind: 'suspect', first: run.first, last: run.last, reason })
  }

  /** Refuses as soon as even sound rows to the end could not make the bad ones few enough. */
  damage(event: RowEvent, sample: number): Refusal | undefined {
    if (event.dropped === true) this.dropped++
    else this.damaged++
    const kind = event.dropped === true ? 'suspect' : 'unreadable'
    this.losses.add({ kind, first: sample, last: sample, reason: event.reason })
    if (event.last === true) return undefined
    this.bad++
    this.firstBad ??= event
    const hopeless = this.mostRows !== undefined && this.bad > BAD_SHARE * (this.mostRows + this.bad)
    return hopeless ? this.tooMany(`at most ${this.mostRows}`) : undefined
  }

  signal(x: Float64Array, y: Float64Array): void {
    this.samples += x.length
    this.equal = this.equal && allEqual(x, y)
    this.zero = this.zero && allZero(x) && allZero(y)
  }

  tail(missing: TableEnd['missing'], next: number): void {
    if (missing === undefined || missing.rows < 1) return
    this.missing += missing.rows
    this.losses.add({ kind: 'missing', first: next, last: next + missing.rows - 1, reason: missing.reason })
  }

  verdict(): Refusal | undefined {
    const where = { file: this.file }
    const rows = this.samples + this.dropped
    if (this.bad > BAD_SHARE * rows) return this.tooMany(String(rows))
    if (this.samples === this.damaged) return refuse('scan/no-samples', { ...NO_SAMPLES, where })
    if (this.zero) return refuse('scan/all-zero', { ...ALL_ZERO, where })
    return this.equal ? refuse('scan/equal-channels', { ...EQUAL, where }) : undefined
  }

  get warnings(): readonly string[] {
    const texts: [number, string][] = [
      [this.damaged, `${this.damaged} of ${this.samples} samples could not be read`],
      [this.gaps, `${this.gaps} gap(s) in the time stamps, ${this.inGaps} samples missing`],
      [this.dropped, `${this.dropped} repeated header line(s) were passed over`],
      [this.backs, `time stamps run back at ${this.backs} place(s); nothing was sorted`]
    ]
    return texts.filter(([count]) => count > 0).map(([, text]) => text)
  }

  private tooMany(rows: string): Refusal {
    const line = this.firstBad?.line
    return refuse('scan/too-many-bad-rows', {
      found: `${this.bad} bad rows of ${rows}; the first: ${this.firstBad?.reason}`,
      needed: 'at most one bad row in a thousand',
      remedy: 'export the recording again, or correct the columns, decimal mark and separator it is read with',
      where: { file: this.file, ...(line === undefined ? {} : { line }) }
    })
  }
}

const NO_SAMPLES = {
  found: 'not one sample that could be read',
  needed: 'samples of x and y',
  remedy: 'check that the recording was saved and copied whole'
}
const ALL_ZERO = {
  found: 'x and y are zero throughout',
  needed: 'a signal',
  remedy: 'check cable, channel selection and export'
}
const EQUAL = {
  found: 'x and y are equal throughout',
  needed: 'two different parts of the signal',
  remedy: 'check the columns, and whether the export wrote one channel twice'
}
