import type { Readable } from 'node:stream'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Sheet } from '@trueloop/job/plan'
import { type Entry, type EntryOf, type EntryRow, entryId, type JobState } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { type Moment, now } from '../clock/index.ts'
import type { Crew } from '../crew/index.ts'
import { sha256 } from '../hash/index.ts'
import { type Signer, signedEntry } from '../keys/index.ts'
import { replayed } from '../memory/index.ts'
import type { Placer } from '../sheet/index.ts'
import { readShop, type Shop } from '../shop/index.ts'

/** What happens while recordings are read, for whoever wants to show it. */
export interface Progress {
  readonly step: 'keeping' | 'reading'
  readonly file: string
  /** 1 … of */
  readonly at: number
  readonly of: number
  readonly bytes: number
  readonly size: number
}

export interface ChainInput {
  readonly sheet: Sheet
  /** folder that the files of the sheet are named from */
  readonly folder: string
  readonly archive: Archive
  /** puts line and column to refusals that name a place of the sheet */
  readonly place?: Placer
  /** what the recording named "-" is read from; absent where nothing is piped in */
  readonly standardInput?: Readable
  readonly clock?: () => Moment
  readonly signal?: AbortSignal
  readonly tell?: (progress: Progress) => void
  /** the archive has registers: what people state is signed, and nothing is examined by an unsigned technique */
  readonly registers?: boolean
  /** signs what the sheet corrects */
  readonly signer?: Signer
  /** examines scans side by side; absent: one after the other, in this thread. What is recorded is the same. */
  readonly crew?: Crew
}

type Draft<E> = E extends Entry ? Omit<E, 'id' | 'at' | 'by' | 'version'> : never
export type EntryDraft = Draft<Entry>

/** The chain at work on one job: what its record holds, and how it grows. */
export class JobContext {
  readonly input: ChainInput
  /** the registers of the archive; undefined where it has none */
  readonly shop: Shop | undefined
  /** recordings by their content, as the record had them when the chain began; a run records each of its own once */
  readonly recorded: ReadonlyMap<string, { readonly at: number; readonly entry: EntryOf<'recording-kept'> }>
  private all: readonly EntryRow[]
  private readonly byId: Map<string, EntryRow>
  private current: JobState | undefined

  private constructor(input: ChainInput, rows: readonly EntryRow[], shop: Shop | undefined) {
    this.input = input
    this.shop = shop
    this.all = rows
    this.byId = new Map(rows.map((row) => [row.id, row]))
    this.recorded = new Map(this.state?.recordings.map((entry, at) => [entry.sha256, { at, entry }]))
  }

  static async open(input: ChainInput): Promise<Result<JobContext>> {
    const rows = await input.archive.entries(input.sheet.job.id)
    if (isRefusal(rows)) return rows
    const read = await readShop(input.archive)
    if (isRefusal(read)) return read
    const shop = read.rows.length === 0 ? undefined : read
    return new JobContext({ ...input, registers: input.registers ?? shop !== undefined }, rows, shop)
  }

  get rows(): readonly EntryRow[] {
    return this.all
  }

  /** undefined while the job is not open */
  get state(): JobState | undefined {
    if (this.current === undefined && this.all.length > 0) this.current = replayed(this.all)
    return this.current
  }

  /** What people state is signed, and what is used stands in the registers: a job keeps what it was opened with. */
  get isSigned(): boolean {
    const { state, input } = this
    return state === undefined ? input.registers === true : state.opened.signing === 'required'
  }

  row(id: string): EntryRow | undefined {
    return this.byId.get(id)
  }

  /** An entry by the program or by the person who examines, made now. `about` decides what counts as the same entry. */
  entry(draft: EntryDraft, about: unknown, by: 'person' | 'program' = 'program'): Entry {
    const { signer, sheet } = this.input
    if (draft.kind === 'corrected' && signer !== undefined) {
      return signedEntry<Entry>(draft, { chain: sheet.job.id, rows: this.all, signer, clock: this.input.clock })
    }
    const name = by === 'person' ? sheet.examined_by : 'Trueloop'
    const at = (this.input.clock ?? now)()
    return { ...draft, version: 1, id: entryId(sha256, about), at, by: { kind: by, name } } as Entry
  }

  /** Appends in one go, or not at all. */
  async append(entries: readonly Entry[]): Promise<Result<undefined>> {
    if (entries.length === 0) return undefined
    const { archive, sheet } = this.input
    const rows = await archive.append(sheet.job.id, this.all.length, entries)
    if (isRefusal(rows)) return rows
    const fresh = rows.filter(({ id }) => !this.byId.has(id))
    for (const row of fresh) this.byId.set(row.id, row)
    this.all = [...this.all, ...fresh]
    this.current = undefined
    return undefined
  }
}
