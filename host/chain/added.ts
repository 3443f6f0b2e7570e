import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Sheet } from '@trueloop/job/plan'
import type { EntryOf, JobState } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { type Moment, wallClock } from '../clock/index.ts'
import { replayed } from '../memory/index.ts'
import { refuse } from './codes.ts'
import { type ChainInput, JobContext } from './context.ts'
import { columnsFromEntry, factsOf, type Kept, type SheetRecording } from './keep.ts'
import { notApproved } from './open.ts'
import { overridesOf, prepare, type Reading } from './reading.ts'
import { heldFor } from './registered.ts'
import { type Outcome, Walk } from './walk.ts'

/** One more recording of a job that is open, without its sheet: for a folder that is watched, and for what a page sends. */

type Of = EntryOf<'recording-kept'>['of']

export interface Adding extends Pick<ChainInput, 'archive' | 'clock' | 'signal' | 'tell' | 'crew'> {
  readonly job: string
  /** kept as an original before */
  readonly original: { readonly sha256: string; readonly bytes: number }
  /** name of the file, for messages and for the record */
  readonly file: string
  readonly of: Of
  /** when it was taken, as far as this computer knows */
  readonly taken?: Moment
  /** who took it */
  readonly examinedBy?: string
}

export interface Added {
  readonly outcome: Outcome
  readonly notes: readonly string[]
}

/**
 * Examines it under the sheet as recorded, after everything that the record holds. What is recorded already is found by its
 * content, and not done again. Undefined where there is no such job. Refuses what `runChain` refuses, chain/same-content.
 */
export async function examineAdded(adding: Adding): Promise<Result<Added | undefined>> {
  const { archive, job, of } = adding
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return undefined
  const state = replayed(rows)
  const sheet = await sheetWith(archive, state, adding)
  if (isRefusal(sheet)) return sheet
  const context = await JobContext.open({ ...adding, sheet: sheet as Sheet, folder: '' })
  if (isRefusal(context)) return context
  const no = notApproved(context) ?? elsewhere(state, adding)
  if (no !== undefined) return no
  const all = await keptIn(context, state, adding)
  if (isRefusal(all)) return all
  const held = await heldFor(context, all as readonly Kept[])
  if ('refusals' in held) return held.refusals[0] as Refusal
  const wanted = 'name' in of ? { subject: of.name } : { onlySetUp: true }
  const run = await new Walk(context, wanted, held.entries).run(all as readonly Kept[])
  if (run.refusals[0] !== undefined) return run.refusals[0]
  const outcome = run.outcomes.find(({ recording }) => recording === adding.original.sha256)
  if (outcome === undefined) throw new Error('a recording that was led through the chain, and of which nothing became')
  return { outcome, notes: held.notes }
}

/** The sheet that was recorded last, its list of recordings that of the record, the new one at the end. */
async function sheetWith(archive: Archive, state: JobState, adding: Adding): Promise<Result<Sheet>> {
  const { documents, recordings } = state
  const stored = documents.findLast(({ what }) => what === 'job sheet')
  if (stored === undefined) throw new Error('a job without its sheet')
  const document = await archive.document(stored.document)
  if (isRefusal(document)) return document
  const all = [...recordings, ...(isRecorded(state, adding) ? [] : [adding])].map(recordingFrom)
  return { ...(JSON.parse(document.text) as Sheet), recordings: all } as Sheet
}

/** A line of the sheet, as far as the chain asks for it. */
function recordingFrom({
  of,
  file,
  ...rest
}: Pick<EntryOf<'recording-kept'>, 'of' | 'file' | 'equipment' | 'setUp' | 'after' | 'shim_mm' | 'position'>) {
  const place =
    of.of === 'hole'
      ? { hole: of.name }
      : of.of === 'track'
        ? { track: of.name }
        : of.of === 'loop'
          ? { place: of.name }
          : of.of === 'parent'
            ? { track: of.track }
            : {}
  const { equipment, setUp, after, shim_mm, position } = rest
  return {
    ...{ of: of.of, ...place, file },
    ...(equipment === undefined ? {} : { equipment }),
    ...(setUp === undefined ? {} : { set_up: setUp }),
    ...(after === undefined ? {} : { after }),
    ...(shim_mm === undefined ? {} : { shim_mm }),
    ...(position === undefined ? {} : { position })
  } as SheetRecording
}

const ownName = (of: Of): string => ('name' in of ? of.name : 'track' in of ? of.track : '')
const isSame = (a: Of, b: Of): boolean => a.of === b.of && ownName(a) === ownName(b)
const nameOf = (of: Of): string => [...('name' in of ? [] : ['a']), of.of, ownName(of)].filter(Boolean).join(' ')

function elsewhere({ recordings }: JobState, { original, of, file }: Adding): Refusal | undefined {
  const before = recordings.find(({ sha256 }) => sha256 === original.sha256)
  if (before === undefined || isSame(before.of, of)) return undefined
  return refuse('chain/same-content', {
    found: `${file} with the very content of what the record already holds as ${nameOf(before.of)}`,
    needed: 'a recording of its own for every place',
    remedy: 'scan the place; if the record is wrong, the recording has to be taken again'
  })
}

/** Everything in the order of the record. Only what may still be read is opened. */
async function keptIn(context: JobContext, state: JobState, adding: Adding): Promise<Result<readonly Kept[]>> {
  const all: Kept[] = []
  for (const entry of state.recordings) {
    const kept = await keptFrom(context, { entry, adding, index: all.length })
    if (isRefusal(kept)) return kept
    all.push(kept)
  }
  if (isRecorded(state, adding)) return all
  const added = await keptNew(context, adding, all.length)
  return isRefusal(added) ? added : [...all, added]
}

const isRecorded = ({ recordings }: JobState, { original }: Adding): boolean =>
  recordings.some(({ sha256 }) => sha256 === original.sha256)

interface Recorded {
  readonly entry: EntryOf<'recording-kept'>
  readonly adding: Adding
  readonly index: number
}

async function keptFrom({ input }: JobContext, { entry, adding, index }: Recorded): Promise<Result<Kept>> {
  const { id: _, at: __, by: ___, kind: ____, version: _____, ...facts } = entry
  const { sha256, bytes, file, of } = entry
  const mayBeRead = !('name' in of) || isSame(of, adding.of)
  const pieces = () => input.archive.readOriginal(sha256)
  const reading = mayBeRead ? await prepare({ name: file, bytes, pieces }, columnsFromEntry(entry)) : unread(entry)
  return isRefusal(reading) ? reading : { index, recording: recordingFrom(entry), sha256, reading, facts }
}

/** A scan of another place: nobody reads it here. */
const unread = ({ file, bytes, format = '', rate_Hz = 0 }: EntryOf<'recording-kept'>): Reading => {
  const never = (): never => {
    throw new Error(`${file}: a scan of another place was to be read`)
  }
  const mapping = {} as Reading['mapping']
  return { name: file, bytes, format, rate_Hz, mapping, indexed: false, pieces: never, reader: never }
}

async function keptNew({ input }: JobContext, adding: Adding, index: number): Promise<Result<Kept>> {
  const { sha256, bytes } = adding.original
  const { columns } = input.sheet
  const pieces = () => input.archive.readOriginal(sha256)
  const reading = await prepare({ name: adding.file, bytes, pieces }, overridesOf(columns))
  if (isRefusal(reading)) return reading
  const recording = recordingFrom(adding)
  const { taken = (input.clock ?? wallClock)(), examinedBy } = adding
  const by = examinedBy === undefined || examinedBy === input.sheet.examined_by ? {} : { examinedBy }
  const facts = { ...factsOf(recording, { sha256, bytes }, { reading, columns, before: [] }), taken, ...by }
  return { index, recording, sha256, reading, facts }
}
