import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import { equipmentWith, type Sheet } from '@trueloop/job/plan'
import { type EntryOf, type EntryRow, type JobState, pastOf } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { replayed } from '../memory/index.ts'
import { type Parent, readParent } from './blocks.ts'
import { examineOne, refusedExamination, type Work } from './examine.ts'
import { columnsFromEntry } from './keep.ts'
import { placesFor, preparedIn } from './preparing.ts'
import { prepare, type Reading } from './reading.ts'
import { type SetUp, setUpOf } from './standardize.ts'

/** What an examination is repeated from: an archive, or a job that was handed over. */
export type Evidence = Pick<Archive, 'document' | 'readOriginal'>

/**
 * Examines the recording of an entry once more, from what the record alone holds: original, columns, equipment, and the
 * documents in force when the entry was made. For `verify`.
 */
export async function reexamine(
  archive: Evidence,
  rows: readonly EntryRow[],
  examined: EntryOf<'examined'>
): Promise<Result<Examination>> {
  const work = await workOf(archive, rows, examined)
  if (isRefusal(work)) return work
  const found = await examineOne(work, {})
  return isRefusal(found) ? refusedExamination(work, found) : found
}

/** What an entry's examination was made from, out of the record as it was then. */
export async function workOf(
  archive: Evidence,
  rows: readonly EntryRow[],
  examined: EntryOf<'examined'>
): Promise<Result<Work>> {
  const at = rows.findIndex(({ id }) => id === examined.id)
  const before = at < 0 ? rows : pastOf(rows, at)
  const known = await workFrom(archive, replayed(before), examined)
  if (isRefusal(known)) return known
  const prepared = preparedIn(placesFor(before), examined)
  return prepared === undefined ? known : { ...known, prepared }
}

async function workFrom(archive: Evidence, state: JobState, examined: EntryOf<'examined'>): Promise<Result<Work>> {
  const kept = state.recordings.find(({ sha256 }) => sha256 === examined.recording)
  const { equipment } = state.opened
  if (kept === undefined || equipment === undefined) throw new Error('an examination of what was never kept')
  const { sha256, bytes, file } = kept
  const pieces = () => archive.readOriginal(sha256)
  const reading = await prepare({ name: file, bytes, pieces }, columnsFromEntry(kept))
  if (isRefusal(reading)) return reading
  const sheet = await sheetInForce(archive, state)
  if (isRefusal(sheet)) return sheet
  const setUp = await setUpFor(archive, state, examined)
  if (isRefusal(setUp)) return setUp
  const parent =
    setUp === undefined
      ? undefined
      : await parentFor(archive, { state, sheet: sheet as Sheet, setUp: setUp as SetUp }, kept)
  if (isRefusal(parent)) return parent
  return {
    ...{ sheet, kept: { sha256, reading, facts: kept }, subject: examined.subject },
    equipment: equipmentWith(equipment, kept.equipment),
    ...(kept.after === undefined ? {} : { after: kept.after }),
    ...(setUp === undefined ? {} : { setUp }),
    ...(parent === undefined ? {} : { parent: parent as Parent })
  }
}

interface Then {
  readonly state: JobState
  readonly sheet: Sheet
  readonly setUp: SetUp
}

/** The last run on parent metal beside the track, between the standardization in force and the scan. */
async function parentFor(
  archive: Evidence,
  { state: { recordings }, sheet, setUp }: Then,
  { sha256: scan, of }: EntryOf<'recording-kept'>
): Promise<Result<Parent> | undefined> {
  if (!('tracks' in sheet) || of.of !== 'track') return undefined
  const at = recordings.findIndex(({ sha256 }) => sha256 === scan)
  const from = recordings.findIndex(({ sha256 }) => sha256 === setUp.recording)
  const kept = recordings.slice(from + 1, at).findLast((one) => one.of.of === 'parent' && one.of.track === of.name)
  if (kept === undefined) return undefined
  const { sha256, bytes, file } = kept
  const pieces = () => archive.readOriginal(sha256)
  const reading = await prepare({ name: file, bytes, pieces }, columnsFromEntry(kept))
  return isRefusal(reading)
    ? reading
    : readParent(sheet, setUp.standardization, { sha256, reading: reading as Reading, facts: kept })
}

async function setUpFor(archive: Evidence, state: JobState, { standardization }: EntryOf<'examined'>) {
  const made = state.standardizations.find((one) => one.standardization === standardization)
  return made === undefined ? undefined : setUpOf(archive, made)
}

/** The job sheet as it was stored last before the entry: a document of the record like all others. */
async function sheetInForce(archive: Evidence, state: JobState): Promise<Sheet | Refusal> {
  const stored = state.documents.findLast(({ what }) => what === 'job sheet')
  if (stored === undefined) throw new Error('a job without its sheet')
  const document = await archive.document(stored.document)
  return isRefusal(document) ? document : (JSON.parse(document.text) as Sheet)
}
