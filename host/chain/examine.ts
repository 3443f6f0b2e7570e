import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import {
  type Asked,
  type Examination,
  HOLE_METHOD,
  type HoleExamination,
  LOOP_METHOD,
  openRun,
  type Recipe,
  WELD_METHOD,
  type ZoneResult,
  zonesOf
} from '@trueloop/job/examine'
import {
  type Equipment,
  type HoleSheet,
  type HoleTechnique,
  responsesOf,
  type Sheet,
  setUpAfter,
  sheetFor
} from '@trueloop/job/plan'
import { type After, type Entry, type EntryOf, entryId, findings, outcomeOf } from '@trueloop/job/record'
import type { Examined, Task } from '../crew/index.ts'
import { sha256 } from '../hash/index.ts'
import { type Parent, placesOf } from './blocks.ts'
import type { JobContext } from './context.ts'
import { nameOf } from './hash.ts'
import type { Kept } from './keep.ts'
import { keepPicture } from './pictures.ts'
import { holeAs, type PreparedHole } from './preparing.ts'
import { feed, type Listening } from './reading.ts'
import type { SetUp } from './standardize.ts'
import { meters } from './units.ts'

type Subject = EntryOf<'examined'>['subject']

/** One scan of a hole or track, or a loop, with all that its examination depends on. */
export interface Work {
  readonly sheet: Sheet
  readonly kept: Pick<Kept, 'sha256' | 'reading'> & { readonly facts?: Pick<Kept['facts'], 'position'> }
  readonly subject: Subject
  readonly equipment: Equipment
  /** what was done otherwise for a scan that confirms */
  readonly after?: After
  /** how its hole was prepared for this scan, as far as anybody has said */
  readonly prepared?: PreparedHole
  /** absent for a loop */
  readonly setUp?: SetUp
  /** of a track: flat parent metal beside it, where it was recorded */
  readonly parent?: Parent
}

export const examineMethod = (sheet: Sheet): number =>
  'holes' in sheet ? HOLE_METHOD : 'tracks' in sheet ? WELD_METHOD : LOOP_METHOD

/** The findings of one recording. */
export async function examineOne(work: Work, listening: Omit<Listening, 'take'>): Promise<Result<Examination>> {
  const closed = await leadOne(work, listening)
  return isRefusal(closed) ? closed : closed.examination
}

/** Leads one recording through the chain. What its recording lost counts in the notes. */
export async function leadOne(
  work: Work,
  listening: Omit<Listening, 'take'>,
  asked: Asked = {}
): Promise<Result<Examined>> {
  const run = openRun(recipeOf(work))
  if (isRefusal(run)) return run
  const scan = await feed(work.kept.reading, { ...listening, take: (segment) => run.take(segment) })
  if (isRefusal(scan)) return scan
  const closed = run.close(asked)
  if (isRefusal(closed)) return closed
  const { events: _, examination, ...beside } = closed
  return { examination: { ...examination, notes: [...examination.notes, ...scan.warnings] }, ...beside }
}

/** The same for a crew: the original lies under this path. */
export function taskOf(work: Work, path: string, asked: Asked = {}): Task {
  const { name, bytes, mapping } = work.kept.reading
  return { name, source: { path, bytes }, mapping, recipe: recipeOf(work), asked }
}

/** All that an examination is opened with: plain data. */
export function recipeOf(work: Work): Recipe {
  const { sheet, kept, subject, equipment, setUp } = work
  const { rate_Hz, indexed } = kept.reading
  const recording = kept.sha256
  if (!('holes' in sheet) && !('tracks' in sheet)) {
    return { application: 'loop', input: { technique: sheet.technique, place: subject.name, rate_Hz, recording } }
  }
  if (setUp === undefined) throw new Error('a hole or a track is examined with a standardization')
  const common = {
    standardization: setUp.standardization,
    standardizationName: setUp.name,
    equipment,
    rate_Hz,
    recording
  }
  if ('holes' in sheet) {
    const hole = holeAs(named(sheet.holes, subject.name), work.prepared)
    const { technique } = sheetFor(sheet, setUpAfter(work.after))
    return {
      application: 'fastener hole',
      input: { ...common, technique, hole, ...toleranceOf(sheet), indexed, ...documentsFor(sheet, technique) }
    }
  }
  const track = named(sheet.tracks, subject.name)
  const standard = sheet.reference_standard
  const parent = work.parent === undefined ? {} : { parent: work.parent.reading }
  const input = { ...common, technique: sheet.technique, standard, track, ...placesOf(kept.facts?.position), ...parent }
  return { application: 'weld', input }
}

/** Nothing where the certificate of the standard states none. */
function toleranceOf({ reference_standard: { hole_tolerance_mm } }: HoleSheet) {
  return hole_tolerance_mm === undefined ? {} : { standardTolerance_mm: hole_tolerance_mm }
}

/** Documents of how cracks answer, with what they have to fit; nothing where the sheet has none. */
function documentsFor(sheet: HoleSheet, technique: HoleTechnique): Pick<HoleExamination, 'documents'> {
  const { ratios, studies } = responsesOf(sheet)
  if (ratios.length + studies.length === 0) return {}
  const { metal, frequency_kHz, arrangement: probe_type } = technique
  return { documents: { setup: { metal, frequency_kHz, probe_type }, ratios, studies } }
}

function named<T extends { readonly id: string }>(all: readonly T[], id: string): T {
  const found = all.find((one) => one.id === id)
  if (found === undefined) throw new Error(`${id} is not in the sheet`)
  return found
}

/** What is recorded of a scan that could not be examined at all: nothing of it counts as examined, and why. */
export function refusedExamination(work: Work, refusal: Refusal): Examination {
  const { sheet, subject, setUp } = work
  const isLoop = !('holes' in sheet) && !('tracks' in sheet)
  return {
    kind: 'examination',
    version: 1,
    method: examineMethod(sheet),
    application: sheet.technique.application,
    subject: subject.name,
    amplitudeUnit: isLoop ? 'recorded' : 'notch',
    recording: work.kept.sha256,
    standardization: setUp?.name ?? 'none',
    position: { axial: 'not known', axialUncertainty_m: 'unknown', angle: 'unknown' },
    zones: zonesRefused(work, refusal),
    coverage: { samples: 0, revolutions: 0, revolutionsInMetal: 0, contact: [] },
    dropped: [],
    indications: [],
    refusals: [refusal],
    notes: []
  }
}

function zonesRefused({ sheet, subject }: Work, { found }: Refusal): readonly ZoneResult[] {
  const not = { state: 'not examined' as const, covered: 0, why: [found] }
  if ('holes' in sheet) {
    const zones = zonesOf(named(sheet.holes, subject.name), meters(sheet.technique.lobe_spacing_mm))
    return zones.map(({ name, z0_m, z1_m }) => ({ zone: name, z0_m, z1_m, ...not }))
  }
  if (!('tracks' in sheet)) return []
  return [{ zone: 'track', z0_m: 0, z1_m: meters(named(sheet.tracks, subject.name).length_mm), ...not }]
}

/** What makes two examinations one and the same: then it is not done again. */
export const examinedId = (sheet: Sheet, kept: Kept, under: Under): string =>
  entryId(sha256, { kind: 'examined', ...basis(sheet, kept, under) })

type Under = Pick<Work, 'prepared' | 'parent'> & { readonly setUp?: SetUp | undefined }

const basis = (sheet: Sheet, { sha256: recording, facts }: Kept, { setUp, prepared, parent }: Under) => ({
  recording,
  facts,
  place: placeOf(sheet, facts, prepared),
  ...('holes' in sheet ? toleranceOf(sheet) : {}),
  technique: nameOf(sheet.technique),
  ...documentNames(sheet),
  equipment: sheet.equipment,
  standardization: setUp?.name ?? 'none',
  ...(parent === undefined ? {} : { parent: parent.recording }),
  ...trackOf(sheet, facts),
  method: examineMethod(sheet)
})

/** What the sheet says of a track counts with it. */
function trackOf(sheet: Sheet, { of }: Kept['facts']) {
  const track = 'tracks' in sheet ? sheet.tracks.find(({ id }) => 'name' in of && id === of.name) : undefined
  return track === undefined ? {} : { track }
}

function placeOf(sheet: Sheet, { of }: Kept['facts'], prepared: PreparedHole | undefined) {
  const hole = 'holes' in sheet ? sheet.holes.find(({ id }) => 'name' in of && id === of.name) : undefined
  return hole === undefined ? undefined : holeAs(hole, prepared)
}

/** A size depends on the documents too; sheets without any keep the ids they had. */
function documentNames(sheet: Sheet) {
  const { ratios, studies } = responsesOf(sheet)
  const all = [...ratios, ...studies]
  return all.length === 0 ? {} : { documents: all.map(nameOf) }
}

/** The entries of an examination, its document kept; the picture is a derived cache. */
export async function examinationEntries(
  context: JobContext,
  { work, kept, examination }: { readonly work: Work; readonly kept: Kept; readonly examination: Examination }
): Promise<Result<readonly Entry[]>> {
  const { archive, sheet } = context.input
  const outcome = outcomeOf(examination, sha256)
  const name = await archive.storeDocument('examination', findings(examination))
  if (isRefusal(name)) return name
  if (examination.picture !== undefined) await keepPicture(archive, name, examination.picture)
  const about = { kind: 'examined', ...basis(sheet, kept, work) }
  return [
    context.entry(
      { kind: 'document-stored', document: name, what: 'examination', name: work.subject.name },
      { ...about, kind: 'document-stored' }
    ),
    context.entry({ kind: 'examined', subject: work.subject, ...outcome }, about)
  ]
}
