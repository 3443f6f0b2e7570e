import { stat } from 'node:fs/promises'
import { resolve } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Hole, measuredOf, type Preparation, pathText } from '@trueloop/job/plan'
import {
  type CutFor,
  canonical,
  cutsIn,
  type Entry,
  type EntryOf,
  type EntryRow,
  type PreparationFor,
  preparationsIn
} from '@trueloop/job/record'
import { refuse } from './codes.ts'
import type { ChainInput, JobContext } from './context.ts'
import type { Kept } from './keep.ts'
import { bytesOf } from './source.ts'

/** Preparations of holes: from the sheet into the record, and from there to the scans that they hold for. */

type Prepared = EntryOf<'place-prepared'>
type Facts = Omit<Prepared, 'id' | 'at' | 'by' | 'version' | 'kind'>

/** What an examination is told of a preparation: all but the photo. */
export type PreparedHole = Omit<Preparation, 'photo'> & {
  /** the size it was cut to last, where it was */
  readonly cut_mm?: number
}

/**
 * Entries that bring the record up to the preparations of the sheet. One that has changed is a new entry, which counts for
 * what is kept from then on; where a reason is given and its days are the same, the earlier one was wrong, and is corrected in
 * its place. One that is gone from the sheet stays: nothing undoes it. Photos are kept as originals. Refuses chain/no-photo.
 */
export async function preparing(context: JobContext, reason: string | undefined): Promise<Result<readonly Entry[]>> {
  const { sheet } = context.input
  const before = preparationsIn(context.rows)
  const entries: Entry[] = []
  for (const [index, hole] of ('holes' in sheet ? sheet.holes : []).entries()) {
    if (hole.preparation === undefined) continue
    const photo = await photoOf(context, hole.preparation, index)
    if (isRefusal(photo)) return photo
    const facts: Facts = { ...factsOf(hole, hole.preparation), ...(photo === undefined ? {} : { photo }) }
    const old = before(facts.subject, NOT_KEPT)
    if (old === undefined || !isSame(old, facts)) entries.push(entryOf(context, { facts, old, reason }))
  }
  return entries
}

/** No recording has this name: what holds is what was said last. */
const NOT_KEPT = ''

const factsOf = ({ id }: Hole, preparation: Preparation): Facts => ({
  subject: { of: 'hole', name: id },
  ...plain(preparation),
  signed: false
})

/** Without what is not there, so that sheet and record say the same of the same. */
function plain(preparation: Preparation | Prepared): PreparedHole {
  const { cleaned, deburred, visual } = preparation
  return { cleaned, deburred, visual, ...measuredOf(preparation) }
}

function isSame(
  { id: _id, at: _at, by: _by, kind: _kind, version: _version, ...old }: Prepared,
  facts: Facts
): boolean {
  return canonical(old) === canonical(facts)
}

interface Saying {
  readonly facts: Facts
  readonly old: Prepared | undefined
  readonly reason: string | undefined
}

function entryOf(context: JobContext, { facts, old, reason }: Saying): Entry {
  const about = { kind: 'place-prepared', facts, after: old === undefined ? 0 : context.rows.length }
  if (old === undefined || reason === undefined || isOfOtherDays(old, facts))
    return context.entry({ kind: 'place-prepared', ...facts }, about, 'person')
  const { id, at, by } = old
  const becomes = JSON.parse(canonical({ kind: 'place-prepared', version: 1, id, at, by, ...facts }))
  return context.entry({ kind: 'corrected', corrects: id, reason, becomes }, { ...about, becomes }, 'person')
}

/** What was done on another day is another preparation, not a better word for the same. */
const isOfOtherDays = (old: Prepared, facts: Facts): boolean =>
  old.cleaned.on !== facts.cleaned.on || (old.measured !== undefined && old.measured.on !== facts.measured?.on)

async function photoOf(
  { input }: JobContext,
  { photo }: Preparation,
  index: number
): Promise<Result<string | undefined>> {
  if (photo === undefined) return undefined
  const kept = await keptPhoto(input, photo)
  if (!isRefusal(kept)) return kept
  const place = input.place ?? ((one: Refusal) => one)
  return place({ ...kept, where: { path: pathText(['holes', index, 'preparation', 'photo']) } })
}

async function keptPhoto({ archive, folder, signal }: ChainInput, photo: string): Promise<Result<string>> {
  const path = resolve(folder, photo)
  const trouble = await stat(path).then(
    (file) => (file.isFile() ? undefined : 'no file'),
    (error: NodeJS.ErrnoException) => error.code ?? 'unreadable'
  )
  if (trouble !== undefined) return noPhoto(photo, trouble)
  const kept = await archive.keepOriginal(bytesOf(path, signal))
  return isRefusal(kept) ? kept : kept.sha256
}

const noPhoto = (photo: string, why: string): Refusal =>
  refuse('chain/no-photo', {
    found: `no photo that can be read: ${photo} (${why})`,
    needed: 'a file that can be read, named from the folder of the job sheet',
    remedy: 'correct the name, or leave the photo out'
  })

/** The hole as it was for a scan: of the size that it was cut to, where it was. */
export function holeAs({ preparation: _latest, ...hole }: Hole, prepared: PreparedHole | undefined): Hole {
  if (prepared === undefined) return hole
  const { cut_mm, ...preparation } = prepared
  return { ...hole, ...(cut_mm === undefined ? {} : { diameter_mm: cut_mm }), preparation }
}

/** How the record has places for a recording: prepared, and cut. */
export interface PlacesFor {
  readonly prepared: PreparationFor
  readonly cut: CutFor
}

export const placesFor = (rows: readonly EntryRow[]): PlacesFor => ({
  prepared: preparationsIn(rows),
  cut: cutsIn(rows)
})

/**
 * The preparation that holds for a recording: of one that the record has, the one in force when it was kept (for one kept
 * before any, the first); of a new one that of the sheet. What the sheet no longer says still holds as the record has it.
 */
export function preparedFor(
  { input, recorded }: JobContext,
  places: PlacesFor
): (kept: Kept) => PreparedHole | undefined {
  const { sheet } = input
  const named = new Map('holes' in sheet ? sheet.holes.map((hole) => [hole.id, hole.preparation]) : [])
  return ({ sha256, facts }) => {
    if (facts.of.of !== 'hole') return undefined
    const inRecord = places.prepared(facts.of, sha256)
    const inSheet = named.get(facts.of.name)
    const holds = recorded.has(sha256) ? (inRecord ?? inSheet) : (inSheet ?? inRecord)
    return holds === undefined ? undefined : withCut(plain(holds), places.cut(facts.of, sha256))
  }
}

/** The same from the record alone, for an examination that is done again. */
export function preparedIn(places: PlacesFor, { subject, recording }: EntryOf<'examined'>): PreparedHole | undefined {
  const holds = places.prepared(subject, recording)
  return holds === undefined ? undefined : withCut(plain(holds), places.cut(subject, recording))
}

const withCut = (prepared: PreparedHole, cut: EntryOf<'reamed'> | undefined): PreparedHole =>
  cut === undefined ? prepared : { ...prepared, cut_mm: cut.aimed_mm }
