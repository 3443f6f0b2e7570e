import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import { equipmentWith, pathText } from '@trueloop/job/plan'
import type { Entry, EntryOf, EntryRow } from '@trueloop/job/record'
import type { Examined } from '../crew/index.ts'
import { Ahead } from './ahead.ts'
import { SetUpSoFar } from './barred.ts'
import { type Parent, readBlock, readParent, setOf } from './blocks.ts'
import { refuse } from './codes.ts'
import type { JobContext } from './context.ts'
import { examinationEntries, examinedId, leadOne, refusedExamination, type Work } from './examine.ts'
import { type Kept, keepingEntries } from './keep.ts'
import { type PreparedHole, placesFor, preparedFor } from './preparing.ts'
import type { Listening } from './reading.ts'
import {
  judge,
  readReference,
  recheckEntry,
  recheckId,
  recordedSetUp,
  type SetUp,
  standardizationEntries,
  standardizedId
} from './standardize.ts'
import { keepWall, withWall } from './walls.ts'

type Subject = EntryOf<'examined'>['subject']

/** What became of one recording of the sheet. */
export type Outcome = {
  readonly file: string
  readonly of: EntryOf<'recording-kept'>['of']
  readonly recording: string
  /** recorded by an earlier run already */
  readonly before: boolean
} & (
  | { readonly did: 'standardized'; readonly standardization: string }
  | { readonly did: 'recheck'; readonly passed: boolean; readonly unread?: Refusal }
  /** read with its track; `unread`: why it tells nothing */
  | { readonly did: 'parent metal'; readonly unread?: Refusal }
  | {
      readonly did: 'examined'
      readonly examination: string
      /** codes */
      readonly refusals: readonly string[]
      /** the refusals behind the codes, in three parts */
      readonly reasons: readonly Refusal[]
    }
)

export interface ChainRun {
  readonly outcomes: readonly Outcome[]
  readonly refusals: readonly Refusal[]
  readonly interrupted: boolean
  /** what to know beside it: what of the equipment falls due */
  readonly notes?: readonly string[]
}

export interface Wanted {
  /** only reference scans and rechecks */
  readonly onlySetUp?: boolean
  /** only this hole, track or place, and the reference scans and rechecks */
  readonly subject?: string
}

/** One way through the recordings: what stands in force at this point of it. */
export class Walk {
  readonly outcomes: Outcome[] = []
  private readonly context: JobContext
  private readonly wanted: Wanted
  private setUp: SetUp | undefined
  /** scanned since the last good check */
  private since: string[] = []
  /** what opens the job, where it is not open yet: goes with the first entry */
  private opening: readonly Entry[]
  /** kept, but not yet recorded: goes with the next entry, so that the order of scans is the sheet's */
  private pending: Kept[] = []
  private all: readonly Kept[] = []
  /** of what was examined, those that are being kept */
  private walls: Promise<void> = Promise.resolve()
  private readonly ahead: Ahead
  private readonly soFar: SetUpSoFar
  private readonly prepared: (kept: Kept) => PreparedHole | undefined
  /** parent metal beside tracks, read under the set-up in force */
  private readonly parents = new Map<string, Parent>()

  constructor(context: JobContext, wanted: Wanted, opening: readonly Entry[] = []) {
    this.context = context
    this.ahead = new Ahead(context.input)
    this.soFar = new SetUpSoFar(context.input.sheet)
    this.prepared = preparedFor(context, placesFor(context.rows))
    this.opening = opening
    this.wanted = wanted
  }

  run(all: readonly Kept[]): Promise<ChainRun> {
    this.all = all
    return this.through(all).finally(() => this.walls)
  }

  private async through(all: readonly Kept[]): Promise<ChainRun> {
    for (const kept of all) {
      this.context.input.signal?.throwIfAborted()
      this.pending.push(kept)
      const no = await this.step(kept)
      if (no !== undefined) return { outcomes: this.outcomes, refusals: [no], interrupted: false }
    }
    const no = await this.append([])
    return { outcomes: this.outcomes, refusals: no === undefined ? [] : [no], interrupted: false }
  }

  private step(kept: Kept): Promise<Refusal | undefined> {
    const { of } = kept.facts
    this.soFar.meet(kept)
    if (of.of === 'reference') return this.reference(kept)
    if (of.of === 'recheck') return this.recheck(kept)
    if (of.of === 'parent') return this.parent(kept, of.track)
    this.since.push(kept.sha256)
    if (this.setUp !== undefined) this.soFar.was('scan', kept.sha256, this.setUp.recording)
    return this.isWanted(of) ? this.scan(kept, of) : Promise.resolve(undefined)
  }

  private isWanted({ name }: Subject): boolean {
    const { onlySetUp, subject } = this.wanted
    return onlySetUp !== true && (subject === undefined || subject === name)
  }

  private listening(kept: Kept): Omit<Listening, 'take'> {
    const { signal, tell } = this.context.input
    const { file } = kept.recording
    const progress = {
      step: 'reading' as const,
      file,
      at: kept.index + 1,
      of: this.all.length,
      size: kept.reading.bytes
    }
    return { signal, tell: (bytes) => tell?.({ ...progress, bytes }) }
  }

  /** Records it with all that was kept before it; what is wrong with a recording is placed at its line of the sheet. */
  private async record(entries: readonly Entry[]): Promise<Refusal | undefined> {
    const keeping = this.pending.flatMap((kept) => keepingEntries(this.context, kept))
    const no = await this.append([...keeping, ...entries])
    if (no === undefined) this.pending = []
    return no
  }

  private async append(entries: readonly Entry[]): Promise<Refusal | undefined> {
    const done = await this.context.append([...this.opening, ...entries])
    if (isRefusal(done)) return done
    this.opening = []
    return undefined
  }

  private placed(refusal: Refusal, { index }: Kept): Refusal {
    if (refusal.where?.file !== undefined) return refusal
    const { place = (one) => one } = this.context.input
    return place({ ...refusal, where: { ...refusal.where, path: pathText(['recordings', index]) } })
  }

  private get sheet() {
    const { sheet } = this.context.input
    if (!('reference_standard' in sheet)) throw new Error('a sheet without a reference standard has no reference scans')
    return sheet
  }

  private async reference(kept: Kept): Promise<Refusal | undefined> {
    const set = setOf(this.all, kept)
    if (set === undefined) return undefined
    const before = await recordedSetUp(this.context, standardizedId(this.sheet, kept, set))
    const made = before ?? (await this.standardize(kept, set))
    if (isRefusal(made)) return this.placed(made, kept)
    this.setUp = made
    this.since = []
    this.parents.clear()
    this.soFar.was('reference', kept.sha256, kept.sha256)
    for (const one of set) this.tell(one, before !== undefined, { did: 'standardized', standardization: made.name })
    return undefined
  }

  private async standardize(kept: Kept, set: readonly Kept[]): Promise<Result<SetUp>> {
    const { sheet } = this
    const isSet = 'tracks' in sheet && kept.facts.shim_mm !== undefined
    const read = isSet
      ? await readBlock(sheet, set, (one) => this.listening(one))
      : await readReference(sheet, kept, this.listening(kept))
    if (isRefusal(read)) return read
    const made = await standardizationEntries(this.context, kept, read, set)
    if (isRefusal(made)) return made
    return (await this.record(made.entries)) ?? made.setUp
  }

  /** Read at once: what it tells, or why it tells nothing, goes into every track that relies on it. */
  private async parent(kept: Kept, track: string): Promise<Refusal | undefined> {
    const { sheet, setUp } = this
    if (setUp === undefined || !('tracks' in sheet)) return this.placed(noStandardization(), kept)
    const read = await readParent(sheet, setUp.standardization, kept, this.listening(kept))
    this.parents.set(track, read)
    const before = this.context.recorded.has(kept.sha256)
    // nothing else is recorded of it: it is not to wait for its track
    const no = before ? undefined : await this.record([])
    if (no !== undefined) return no
    const unread = isRefusal(read.reading) ? { unread: located(read.reading, { file: kept.recording.file }) } : {}
    this.tell(kept, before, { did: 'parent metal', ...unread })
    return undefined
  }

  private tell(kept: Kept, before: boolean, rest: Record<string, unknown>): void {
    const { recording, facts, sha256 } = kept
    this.outcomes.push({ file: recording.file, of: facts.of, recording: sha256, before, ...rest } as Outcome)
  }

  private async recheck(kept: Kept): Promise<Refusal | undefined> {
    const { setUp } = this
    if (setUp === undefined) return this.placed(noStandardization(), kept)
    const row = this.context.row(recheckId(this.sheet, kept, setUp))
    if (row !== undefined) {
      const { passed } = JSON.parse(row.body) as EntryOf<'recheck'>
      this.checked(kept, passed)
      this.tell(kept, true, { did: 'recheck', passed })
      return undefined
    }
    const judged = judge(this.sheet, setUp, await readReference(this.sheet, kept, this.listening(kept)))
    if (isRefusal(judged)) return this.placed(judged, kept)
    const no = await this.record([recheckEntry(this.context, kept, { judged, setUp, since: this.since })])
    if (no !== undefined) return no
    this.checked(kept, judged.passed)
    const unread = judged.unread === undefined ? {} : { unread: judged.unread }
    this.tell(kept, false, { did: 'recheck', passed: judged.passed, ...unread })
    return undefined
  }

  private checked({ sha256 }: Kept, passed: boolean): void {
    if (passed) this.since = []
    if (this.setUp !== undefined) this.soFar.was(passed ? 'passed' : 'failed', sha256, this.setUp.recording)
  }

  private async scan(kept: Kept, subject: Subject): Promise<Refusal | undefined> {
    const { sheet } = this.context.input
    if ('reference_standard' in sheet && this.setUp === undefined) return this.placed(noStandardization(), kept)
    const row = this.recordedScan(kept)
    if (row !== undefined) {
      const { examination, refusals } = JSON.parse(row.body) as EntryOf<'examined'>
      return this.tellExamined(kept, true, { examination, refusals })
    }
    const work = this.workOn(kept, subject)
    this.ahead.begin(this.scansFrom(kept))
    const listening = this.listening(kept)
    const found = (await this.ahead.found(work, listening)) ?? (await leadOne(work, listening, withWall))
    return this.recordScan(kept, work, isRefusal(found) ? { examination: refusedExamination(work, found) } : found)
  }

  private recordedScan(kept: Kept): EntryRow | undefined {
    return this.context.row(examinedId(this.context.input.sheet, kept, this.under(kept)))
  }

  private under(kept: Kept): Pick<Work, 'prepared' | 'setUp' | 'parent'> {
    const prepared = this.prepared(kept)
    const parent = kept.facts.of.of === 'track' ? this.parents.get(kept.facts.of.name) : undefined
    return {
      ...(prepared === undefined ? {} : { prepared }),
      ...(parent === undefined ? {} : { parent }),
      ...(this.setUp === undefined ? {} : { setUp: this.setUp })
    }
  }

  private workOn(kept: Kept, subject: Subject): Work {
    const { sheet } = this.context.input
    const equipment = equipmentWith(sheet.equipment, kept.recording.equipment)
    const { after } = kept.facts
    return {
      ...{ sheet, kept, subject, equipment },
      ...(after === undefined ? {} : { after }),
      ...this.under(kept)
    }
  }

  /** This scan and those after it that are still to be examined under the same standardization, in their order. */
  private *scansFrom({ index }: Kept): Generator<Work> {
    for (const kept of this.all.slice(index)) {
      const { of } = kept.facts
      // parent metal that comes later is not read yet
      if (of.of === 'reference' || of.of === 'parent') return
      if (of.of === 'recheck' || !this.isWanted(of) || this.recordedScan(kept) !== undefined) continue
      yield this.workOn(kept, of)
    }
  }

  private async recordScan(kept: Kept, work: Work, { examination, wall }: Examined): Promise<Refusal | undefined> {
    const entries = await examinationEntries(this.context, { work, kept, examination })
    if (isRefusal(entries)) return entries
    const no = await this.record(entries)
    if (no !== undefined) return no
    const examined = entries.at(-1) as EntryOf<'examined'>
    // after the record: what may be deleted takes no room from what may not, and nothing waits for it
    const { archive } = this.context.input
    this.walls = this.walls.then(() => keepWall(archive, examined.examination, wall))
    return this.tellExamined(kept, false, examined)
  }

  /** The entry has the codes alone; its document says what was found and what was needed. */
  private async tellExamined(
    kept: Kept,
    before: boolean,
    { examination, refusals }: Pick<EntryOf<'examined'>, 'examination' | 'refusals'>
  ): Promise<Refusal | undefined> {
    const document = await this.context.input.archive.document(examination)
    if (isRefusal(document)) return document
    const { file } = kept.recording
    const barred = this.soFar.barred()
    const all = [...(JSON.parse(document.text) as Examination).refusals, ...(barred === undefined ? [] : [barred])]
    const reasons = all.map((one) => located(one, { file }))
    const codes = barred === undefined ? refusals : [...refusals, barred.code]
    this.tell(kept, before, { did: 'examined', examination, refusals: codes, reasons })
    return undefined
  }
}

const noStandardization = (): Refusal =>
  refuse('chain/no-standardization', {
    found: 'no standardization before this recording',
    needed: 'a reference scan before it that was not refused',
    remedy: 'name the reference scan before it in the job sheet'
  })
