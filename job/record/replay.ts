import type { Standing } from './brackets.ts'
import { closingKinds } from './closing.ts'
import { changesIn, entriesIn, type Holding, holding, ofKind } from './corrections.ts'
import { drawingsOf } from './drawings.ts'
import { bracketRulesOf, happeningsOf } from './happenings.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { contradictionsOf, keptOtherwise } from './merging/contradictions.ts'
import { type Order, orderOf, pastOf } from './merging/order.ts'
import { standingsApart } from './merging/standings.ts'
import { keyOf, type PlaceMade, placesOf } from './places.ts'
import { withPractice } from './practice.ts'
import { nonconformancesOf, redoOf } from './redo.ts'
import { beginning, type EntryRow } from './row.ts'
import type { DecisionEntry, ExaminationState, JobState, RecheckState } from './state.ts'

/**
 * What a job's entries say now. The order of scans is the order in which their recordings were kept.
 * The rows are those of one sound chain (see `verify`); anything else is a wrong program and throws.
 */
export const replay = (rows: readonly EntryRow[]): JobState => replayFrom(rows).state

/** A record replayed, and what the next replay can go on from once it has grown. */
export interface Replayed {
  readonly rows: readonly EntryRow[]
  readonly state: JobState
  readonly entries: readonly Entry[]
  readonly scans: Scans
  readonly places: readonly PlaceMade[]
}

/** How scans stand, and what they found, by the places that were scanned. */
interface Scans {
  readonly standings: Standings
  readonly examinations: ReadonlyMap<string, readonly ExaminationState[]>
}

/** All that `Scans` follow from: other entries leave them as they are. */
const ofScans: readonly Entry['kind'][] = [
  ...(['job-opened', 'recording-kept', 'standardized', 'recheck', 'examined', 'corrected', 'merged'] as const)
]

/**
 * The same, where some of it was replayed before: entries that both have are not read again, and the state of a place
 * for which nothing has changed is not made again. What it was replayed from before changes nothing in what it says.
 */
export function replayFrom(rows: readonly EntryRow[], before?: Replayed): Replayed {
  const known = before === undefined ? [] : before.entries.slice(0, sharedWith(before.rows, rows))
  if (before !== undefined && known.length === rows.length && known.length === before.rows.length) return before
  const entries = [...known, ...entriesIn(rows.slice(known.length))]
  const order = orderOf(rows)
  const all = holding(entries, order)
  const [opened] = ofKind(all, 'job-opened')
  if (opened === undefined) throw new Error('a record that does not begin with the opening of its job')
  const fresh = entries.slice(known.length)
  const isOfScans = known.length !== before?.entries.length || fresh.some(({ kind }) => ofScans.includes(kind))
  const scans = before === undefined || isOfScans ? scansOf(all, order) : before.scans
  const { standings, examinations } = scans
  const practice = ofKind(all, 'practice-marked').at(-1)
  const made = placesOf({ opened, examinations, all, order }, before?.places)
  const places = withPractice(
    made.map(({ state }) => state),
    practice
  )
  const state: JobState = {
    opened,
    ...techniqueOf(all),
    documents: ofKind(all, 'document-stored'),
    held: ofKind(all, 'held-in-register'),
    recordings: ofKind(all, 'recording-kept'),
    probeChecks: ofKind(all, 'probe-checked'),
    standardizations: ofKind(all, 'standardized'),
    rechecks: rechecksOf(all, standings),
    unjudged: unjudgedOf(all),
    places,
    drawings: drawingsOf(all),
    redo: redoOf(places),
    nonconformances: nonconformancesOf(places, all, (seq) => standingsIn(pastOf(rows, seq))),
    entries: rows.map((row, at) => entryLine(row, entries[at] as Entry)),
    corrections: ofKind(all, 'corrected'),
    changes: changesIn(entries, ofKind(all, 'corrected')),
    decisions: decisionsOf(all),
    deliveries: ofKind(all, 'delivered'),
    handovers: handoversOf(all),
    merges: ofKind(all, 'merged'),
    contradictions: contradictionsOf(all, order),
    ...capabilityOf(all),
    ...(practice === undefined ? {} : { practice }),
    ...closedOf(all),
    count: rows.length,
    head: rows.at(-1)?.hash ?? beginning
  }
  return { rows, state, entries, scans, places: made }
}

function scansOf(all: readonly Holding[], order: Order): Scans {
  const standings = standingsByRecording(all, order)
  return { standings, examinations: examinationsOf(all, standings) }
}

/** How many entries two records begin with alike. In a sound chain the hash of one entry stands for all before it. */
function sharedWith(before: readonly EntryRow[], rows: readonly EntryRow[]): number {
  const count = Math.min(before.length, rows.length)
  return count > 0 && before[count - 1]?.hash === rows[count - 1]?.hash ? count : 0
}

const decided: readonly Entry['kind'][] = [
  ...(['interpreted', 'disposed', 'second-look', 'reamed', 'left-out'] as const),
  ...(['place-closed', 'job-closed', 'job-reopened'] as const)
]

const decisionsOf = (all: readonly Holding[]): JobState['decisions'] =>
  all.map(({ entry }) => entry).filter((entry): entry is DecisionEntry => decided.includes(entry.kind))

const handoversOf = (all: readonly Holding[]): JobState['handovers'] => {
  const taken = ofKind(all, 'taken-over')
  return ofKind(all, 'handed-over').map((handed) => {
    const by = taken.find(({ of }) => of === handed.id)
    return { handed, ...(by === undefined ? {} : { taken: by }) }
  })
}

/** The last statement whose technique is the one in force, and whose method made every examination that there is. */
function capabilityOf(all: readonly Holding[]): Pick<JobState, 'capability'> {
  const { technique } = techniqueOf(all)
  const methods = new Set(ofKind(all, 'examined').map(({ method }) => method))
  const fits = ({ conditions }: EntryOf<'capability-attached'>) =>
    conditions.technique === technique && [...methods].every((method) => method === conditions.method)
  const capability = ofKind(all, 'capability-attached').findLast(fits)
  return capability === undefined ? {} : { capability }
}

function closedOf(all: readonly Holding[]): Pick<JobState, 'closed'> {
  const ends = all.filter(({ entry }) => closingKinds.includes(entry.kind)).sort((a, b) => a.seq - b.seq)
  const last = ends.at(-1)?.entry
  return last?.kind === 'job-closed' ? { closed: last } : {}
}

/** As it was written: a correction is a line of its own. */
const entryLine = ({ seq, kind, hash }: EntryRow, { at, by }: Entry): JobState['entries'][number] => ({
  ...{ seq, kind, at, by: by.name, hash }
})

/** The technique stored last is in force; only a confirmation of that very document counts. */
function techniqueOf(all: readonly Holding[]): Pick<JobState, 'technique' | 'confirmed'> {
  const technique = ofKind(all, 'document-stored').findLast(({ what }) => what === 'technique')?.document
  const confirmed = ofKind(all, 'technique-confirmed').findLast((one) => one.technique === technique)
  return { ...(technique === undefined ? {} : { technique }), ...(confirmed === undefined ? {} : { confirmed }) }
}

const isCheck = ({ of }: EntryOf<'recording-kept'>): boolean => of.of === 'reference' || of.of === 'recheck'

function unjudgedOf(all: readonly Holding[]): JobState['unjudged'] {
  const made = ofKind(all, 'standardized')
  const judged = new Set([...made, ...ofKind(all, 'recheck')].map(({ recording }) => recording))
  for (const { recording } of made.flatMap(({ shims = [] }) => shims)) judged.add(recording)
  return ofKind(all, 'recording-kept').filter((kept) => isCheck(kept) && !judged.has(kept.sha256))
}

/** The latest examination of every recording, unless the recording's own entry has been corrected since. */
function examinationsOf(
  all: readonly Holding[],
  standings: Standings
): ReadonlyMap<string, readonly ExaminationState[]> {
  const last = new Map<string, { readonly seq: number; readonly entry: EntryOf<'examined'> }>()
  const setUps = setUpsOf(all)
  const diameters = diametersOf(all)
  for (const { seq, entry } of all) if (entry.kind === 'examined') last.set(entry.recording, { seq, entry })
  const byPlace = new Map<string, ExaminationState[]>()
  for (const { seq: keptAt, entry, correctedAt = -1 } of all) {
    const found = entry.kind === 'recording-kept' ? last.get(entry.sha256) : undefined
    if (entry.kind !== 'recording-kept' || found === undefined || found.seq < correctedAt) continue
    const standing = standings.get(entry.sha256) ?? noSetUp
    const setUp = setUps.get(found.entry.standardization)
    const diameter = diameters.get(found.entry.standardization)
    const rest = {
      ...{ seq: found.seq, keptAt, file: entry.file, standing, ...given({ after: entry.after, setUp }) },
      ...(diameter === undefined ? {} : { standardDiameter_mm: diameter })
    }
    const key = keyOf(found.entry.subject)
    byPlace.set(key, [...(byPlace.get(key) ?? []), outcome(found.entry, rest)])
  }
  return byPlace
}

type SetUpName = EntryOf<'recording-kept'>['setUp']

/** Diameters of the holes of reference standards, by the standardizations made on them. */
const diametersOf = (all: readonly Holding[]): ReadonlyMap<string, number | undefined> =>
  new Map(ofKind(all, 'standardized').map((one) => [one.standardization, one.diameter_mm]))

/** Standardizations by their names, each with the set-up that its reference scan was for. */
function setUpsOf(all: readonly Holding[]): ReadonlyMap<string, SetUpName> {
  const references = new Map(ofKind(all, 'recording-kept').map(({ sha256, setUp }) => [sha256, setUp]))
  return new Map(
    ofKind(all, 'standardized').map(({ standardization, recording }) => [standardization, references.get(recording)])
  )
}

const given = ({ after, setUp }: Pick<EntryOf<'recording-kept'>, 'after' | 'setUp'>) => ({
  ...(after === undefined ? {} : { after }),
  ...(setUp === undefined ? {} : { setUp })
})

const noSetUp = { standing: 'no set-up to check' } as const

type Standings = ReadonlyMap<string, Standing>

const standingsIn = (rows: readonly EntryRow[]): Standings => {
  const order = orderOf(rows)
  return standingsByRecording(holding(entriesIn(rows), order), order)
}

function standingsByRecording(all: readonly Holding[], order: Order): Standings {
  const places = new Map(
    all.flatMap(({ seq, entry }) => (entry.kind === 'recording-kept' ? [[entry.sha256, seq]] : []))
  )
  const placeOf = (recording: string) => places.get(recording) ?? -1
  const [opened] = ofKind(all, 'job-opened')
  const happenings = happeningsOf(all, order)
  const rules = opened === undefined ? {} : bracketRulesOf(opened)
  const standings = standingsApart(happenings, { placeOf, order, doubtful: keptOtherwise(all, order), rules })
  return new Map(
    happenings.flatMap(({ recording }, at) => {
      const standing = standings[at]
      return standing === undefined ? [] : [[recording, standing] as const]
    })
  )
}

const outcome = (
  { examination, recording, standardization, method, zones, indications, refusals }: EntryOf<'examined'>,
  rest: Pick<ExaminationState, 'seq' | 'keptAt' | 'file' | 'standing' | 'after' | 'setUp' | 'standardDiameter_mm'>
): ExaminationState => ({
  ...{ examination, recording, standardization, method, zones, indications, refusals },
  ...rest
})

function rechecksOf(all: readonly Holding[], standings: Standings): readonly RecheckState[] {
  const files = new Map(ofKind(all, 'recording-kept').map(({ sha256, file }) => [sha256, file]))
  const subjects = new Map(ofKind(all, 'examined').map(({ recording, subject }) => [recording, subject.name]))
  const voided = voidedByCheck(standings)
  return all.flatMap(({ entry, seq }) => {
    if (entry.kind !== 'recheck') return []
    const voids = (voided.get(entry.recording) ?? []).map((recording) => subjects.get(recording) ?? recording)
    return [{ seq, entry, file: files.get(entry.recording) ?? 'unknown', voids: [...new Set(voids)] }]
  })
}

/** Recordings whose scans are void by the recheck that was failed in a recording. */
function voidedByCheck(standings: Standings): ReadonlyMap<string, readonly string[]> {
  const voided = new Map<string, string[]>()
  for (const [recording, one] of standings) {
    if (one.standing !== 'voided' || one.by === undefined) continue
    const known = voided.get(one.by)
    if (known === undefined) voided.set(one.by, [recording])
    else known.push(recording)
  }
  return voided
}

/** Recordings whose scans a failed recheck in `recording` would void, for its entry to say. */
export function voidsOf(
  rows: readonly EntryRow[],
  failed: { readonly recording: string; readonly standardization: string }
) {
  const order = orderOf(rows)
  const all = holding(entriesIn(rows), order)
  const check = { kind: 'recheck', passed: false, ...failed } as EntryOf<'recheck'>
  const standings = standingsByRecording([...all, { seq: rows.length, entry: check }], order)
  return voidedByCheck(standings).get(failed.recording) ?? []
}
