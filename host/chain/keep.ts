import { stat } from 'node:fs/promises'
import { basename, resolve } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { pathText, type Sheet } from '@trueloop/job/plan'
import { canonical, type Entry, type EntryOf } from '@trueloop/job/record'
import { refuse } from './codes.ts'
import type { JobContext } from './context.ts'
import { overridesOf, prepare, type Reading } from './reading.ts'
import { abortable, bytesOf } from './source.ts'

export type SheetRecording = Sheet['recordings'][number]
type RecordingKept = EntryOf<'recording-kept'>

/** A recording of the sheet whose bytes are in the archive and whose columns are settled. */
export interface Kept {
  readonly index: number
  readonly recording: SheetRecording
  readonly sha256: string
  readonly reading: Reading
  /** what its entry says */
  readonly facts: Omit<RecordingKept, 'id' | 'at' | 'by' | 'version' | 'kind'>
}

/**
 * Copies every recording of the sheet into the archive and settles how it will be read. Nothing is recorded yet.
 * All complaints are listed: chain/no-recording, chain/same-content, chain/order-differs, and those of the scan room.
 */
export async function keepAll(
  context: JobContext
): Promise<readonly Kept[] | { readonly refusals: readonly Refusal[] }> {
  const { recordings } = context.input.sheet
  const absent = (await Promise.all(recordings.map((one, index) => absence(context, one, index)))).flat()
  if (absent.length > 0) return { refusals: absent }
  const kept: Kept[] = []
  const refusals: Refusal[] = []
  for (const [index, recording] of recordings.entries()) {
    const one = await keepOne(context, { recording, index, before: kept })
    if (isRefusal(one)) refusals.push(placed(context, one, index))
    else kept.push(one)
  }
  const all = [...refusals, ...sameContent(context, kept), ...orderDiffers(context, kept)]
  return all.length > 0 ? { refusals: all } : kept
}

export const fileOf = ({ input }: JobContext, { file }: SheetRecording): string => resolve(input.folder, file)

const placed = ({ input }: JobContext, refusal: Refusal, index: number, key = 'file'): Refusal => {
  const path = pathText(['recordings', index, key])
  const { found, needed, remedy, code, where } = refusal
  const sheetPlace = input.place?.({ refused: true, code, found, needed, remedy, where: { path } })
  if (where?.file === undefined) return sheetPlace ?? { ...refusal, where: { ...where, path } }
  return refusal
}

/** A sheet names standard input so. A named pipe needs no sign: every recording is read once, while it is kept. */
const standardInput = '-'

const sourceOf = (context: JobContext, recording: SheetRecording): AsyncIterable<Uint8Array> =>
  recording.file === standardInput && context.input.standardInput !== undefined
    ? abortable(context.input.standardInput, context.input.signal)
    : bytesOf(fileOf(context, recording), context.input.signal)

async function troubleWith(context: JobContext, recording: SheetRecording): Promise<string | undefined> {
  if (recording.file === standardInput) {
    return context.input.standardInput === undefined ? 'standard input that nothing is piped into' : undefined
  }
  return stat(fileOf(context, recording)).then(
    (file) => (file.isDirectory() ? 'a folder' : undefined),
    (error: NodeJS.ErrnoException) => (error.code === 'ENOENT' ? 'no such file' : error.message)
  )
}

async function absence(context: JobContext, recording: SheetRecording, index: number): Promise<readonly Refusal[]> {
  const found = await troubleWith(context, recording)
  if (found === undefined) return []
  const refusal = refuse('chain/no-recording', {
    found: `${found}: ${recording.file}`,
    needed: 'a file that can be read, named from the folder of the job sheet',
    remedy: 'correct the name, or remove the entry until the recording is there'
  })
  return [placed(context, refusal, index)]
}

interface Keeping {
  readonly recording: SheetRecording
  readonly index: number
  /** kept before it */
  readonly before: readonly Kept[]
}

async function keepOne(context: JobContext, { recording, index, before }: Keeping): Promise<Result<Kept>> {
  const { archive, sheet, signal, tell } = context.input
  signal?.throwIfAborted()
  tell?.({ step: 'keeping', file: recording.file, at: index + 1, of: sheet.recordings.length, bytes: 0, size: 0 })
  const original = await archive.keepOriginal(sourceOf(context, recording))
  signal?.throwIfAborted()
  if (isRefusal(original)) return original
  const { sha256, bytes } = original
  const columns = recording.columns ?? sheet.columns
  const pieces = () => archive.readOriginal(sha256)
  const reading = await prepare(
    { name: recording.file === standardInput ? 'standard input' : recording.file, bytes, pieces },
    overridesOf(columns)
  )
  if (isRefusal(reading)) return reading
  const facts = factsOf(recording, { sha256, bytes }, { reading, columns, before })
  return { index, recording, sha256, reading, facts }
}

interface Settled {
  readonly reading: Reading
  readonly columns: Sheet['columns']
  readonly before: readonly Kept[]
}

export function factsOf(
  recording: SheetRecording,
  original: { sha256: string; bytes: number },
  settled: Settled
): Kept['facts'] {
  const { reading, columns } = settled
  const { taken, equipment, examined_by, since, order } = recording
  return {
    ...original,
    file: basename(recording.file),
    of: subjectOf(recording),
    format: reading.format,
    columns: columnsOf(reading, columns),
    columnsKnown: columns === undefined ? 'certain from the file' : 'job sheet',
    rate_Hz: reading.rate_Hz,
    ...(taken === undefined ? {} : { taken: { time: taken, known: 'job sheet' as const } }),
    ...(equipment === undefined ? {} : { equipment }),
    ...(examined_by === undefined ? {} : { examinedBy: examined_by }),
    ...(since === undefined || since.length === 0 ? {} : { since }),
    ...(order === undefined ? {} : { order }),
    ...('shim_mm' in recording && recording.shim_mm !== undefined ? { shim_mm: recording.shim_mm } : {}),
    ...('position' in recording && recording.position !== undefined ? { position: recording.position } : {}),
    ...confirming(recording, settled.before)
  }
}

/** What it confirms by content, not by the name of a file; and the set-up that a reference scan or recheck is for. */
function confirming(
  recording: SheetRecording,
  before: readonly Kept[]
): Pick<RecordingKept, 'confirms' | 'after' | 'setUp'> {
  if ('set_up' in recording && recording.set_up !== undefined) return { setUp: recording.set_up }
  if (recording.of !== 'hole' || recording.confirms === undefined || recording.after === undefined) return {}
  const { confirms, after } = recording
  const earlier = before.find((one) => one.recording.file === confirms)
  return { after, confirms: earlier === undefined ? { indication: confirms } : { recording: earlier.sha256 } }
}

export function subjectOf(recording: SheetRecording): RecordingKept['of'] {
  if (recording.of === 'hole') return { of: 'hole', name: recording.hole }
  if (recording.of === 'track') return { of: 'track', name: recording.track }
  if (recording.of === 'parent') return { of: 'parent', track: recording.track }
  return recording.of === 'loop' ? { of: 'loop', name: recording.place } : { of: recording.of }
}

/** Column numbers as read; beside them what the sheet says about their numbers, under keys that are no column. */
function columnsOf({ mapping }: Reading, stated: Sheet['columns']): Record<string, number | string> {
  const { units: _, decimal: __, rate_Hz: ___, ...columns } = mapping
  const { units, decimal, rate_Hz } = stated ?? {}
  return {
    ...columns,
    ...(rate_Hz === undefined ? {} : { 'stated rate_Hz': String(rate_Hz) }),
    ...(units?.time === undefined ? {} : { 'unit of time': units.time }),
    ...(units?.position === undefined ? {} : { 'unit of position': units.position }),
    ...(decimal === undefined ? {} : { decimal })
  }
}

/** The other way round: how the original of an entry is to be read. Roles that are not named are not there. */
export function columnsFromEntry({ columns = {} }: RecordingKept) {
  const role = (name: string) => columns[name] ?? null
  const rate = columns['stated rate_Hz']
  const time = columns['unit of time']
  const position = columns['unit of position']
  return {
    ...{ x: columns.x, y: columns.y, index: role('index'), time: role('time') },
    ...{ position: role('position'), absolute: role('absolute') },
    ...(rate === undefined ? {} : { rate_Hz: Number(rate) }),
    units: { ...(time === undefined ? {} : { time }), ...(position === undefined ? {} : { position }) },
    ...(columns.decimal === undefined ? {} : { decimal: columns.decimal })
  } as Parameters<typeof prepare>[1]
}

function nameOfSubject(of: RecordingKept['of']): string {
  if ('track' in of) return `parent metal beside ${of.track}`
  return 'name' in of ? `${of.of} ${of.name}` : `a ${of.of}`
}

function sameContent(context: JobContext, kept: readonly Kept[]): readonly Refusal[] {
  const first = new Map<string, Kept>()
  return kept.flatMap((one) => {
    const before = first.get(one.sha256)
    if (before === undefined) first.set(one.sha256, one)
    const of = context.recorded.get(one.sha256)?.entry.of
    if (before !== undefined) return [twice(context, one, `recordings[${before.index}], ${before.recording.file}`)]
    const isOther = of !== undefined && canonical(of) !== canonical(one.facts.of)
    return isOther ? [twice(context, one, `what the record already holds as ${nameOfSubject(of)}`)] : []
  })
}

const twice = (context: JobContext, { recording, index }: Kept, before: string): Refusal =>
  placed(
    context,
    refuse('chain/same-content', {
      found: `${recording.file} with the very content of ${before}`,
      needed: 'a recording of its own for every place',
      remedy: 'name the file that belongs here; if the record is wrong, the recording has to be taken again'
    }),
    index
  )

function orderDiffers(context: JobContext, kept: readonly Kept[]): readonly Refusal[] {
  let highest = -1
  const one = kept.find(({ sha256 }) => {
    const at = context.recorded.get(sha256)?.at ?? Number.POSITIVE_INFINITY
    const isWrong = Number.isFinite(at) && at < highest
    highest = Math.max(highest, at)
    return isWrong
  })
  if (one === undefined) return []
  const refusal = refuse('chain/order-differs', {
    found: `${one.recording.file}, recorded already, after recordings that come later in the record or are new`,
    needed: 'recordings in the order of the record, new ones at the end: rechecks void what came before them',
    remedy: 'put the entries of the job sheet into the order in which they were taken and recorded'
  })
  return [placed(context, refusal, one.index)]
}

/** Entries that bring the record up to this recording: kept, or corrected where the sheet now says otherwise. */
export function keepingEntries(context: JobContext, { facts, sha256 }: Kept): readonly Entry[] {
  const before = context.recorded.get(sha256)?.entry
  const about = { kind: 'recording-kept', sha256 }
  if (before === undefined) return [context.entry({ kind: 'recording-kept', ...facts }, about)]
  const { id, at, by, kind: _, version: __, ...recorded } = before
  if (canonical(recorded) === canonical(facts)) return []
  const becomes = JSON.parse(canonical({ kind: 'recording-kept', version: 1, id, at, by, ...facts }))
  const reason = 'the job sheet now says otherwise'
  return [
    context.entry(
      { kind: 'corrected', corrects: id, reason, becomes },
      { ...about, becomes, after: context.rows.length },
      'person'
    )
  ]
}
