import type { Standing } from './brackets.ts'
import { closingKinds, openReasons } from './closing.ts'
import { changesIn, type Holding, holding, ofKind } from './corrections.ts'
import { type Decisions, decisionsBySubject } from './decided.ts'
import { drawingsOf } from './drawings.ts'
import { bracketRulesOf, happeningsOf } from './happenings.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { contradictionsOf, keptOtherwise } from './merging/contradictions.ts'
import { type Order, orderOf, pastOf } from './merging/order.ts'
import { standingsApart } from './merging/standings.ts'
import { placeState } from './place.ts'
import { withPractice } from './practice.ts'
import { preparationsBySubject } from './preparing.ts'
import { reamLoop } from './reaming/index.ts'
import { nonconformancesOf, redoOf } from './redo.ts'
import { beginning, type EntryRow } from './row.ts'
import type { DecisionEntry, ExaminationState, JobState, PlaceState, RecheckState } from './state.ts'

/**
 * What a job's entries say now. The order of scans is the order in which their recordings were kept.
 * The rows are those of one sound chain (see `verify`); anything else is a wrong program and throws.
 */
export function replay(rows: readonly EntryRow[]): JobState {
  const order = orderOf(rows)
  const all = holding(rows, order)
  const [opened] = ofKind(all, 'job-opened')
  if (opened === undefined) throw new Error('a record that does not begin with the opening of its job')
  const standings = standingsByRecording(all, order)
  const examinations = examinationsOf(all, standings)
  const practice = ofKind(all, 'practice-marked').at(-1)
  const places = withPractice(placesOf({ opened, examinations, all, order }), practice)
  return {
    opened,
    ...techniqueOf(all),
    documents: ofKind(all, 'document-stored'),
    held: ofKind(all, 'held-in-register'),
    recordings: ofKind(all, 'recording-kept'),
    standardizations: ofKind(all, 'standardized'),
    rechecks: rechecksOf(all, standings),
    unjudged: ofKind(all, 'recording-kept').filter((kept) => isCheck(kept) && !isJudged(all, kept.sha256)),
    places,
    drawings: drawingsOf(all),
    redo: redoOf(places),
    nonconformances: nonconformancesOf(places, all, (seq) => standingsIn(pastOf(rows, seq))),
    entries: rows.map(entryLine),
    corrections: ofKind(all, 'corrected'),
    changes: changesIn(rows, ofKind(all, 'corrected')),
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
}

const keyOf = ({ of, name }: { readonly of: string; readonly name: string }): string => `${of} ${name}`

interface Placing {
  readonly opened: EntryOf<'job-opened'>
  readonly examinations: ReadonlyMap<string, readonly ExaminationState[]>
  readonly all: readonly Holding[]
  readonly order: Order
}

function placesOf({ opened, examinations, all, order }: Placing): readonly PlaceState[] {
  const decisions = decisionsBySubject(all, order)
  const prepared = preparationsBySubject(all)
  const closings = new Map<string, Closing>()
  for (const { seq, entry } of all)
    if (entry.kind === 'place-closed') closings.set(keyOf(entry.subject), { seq, entry })
  return opened.places.map((place) => {
    const own = decisions(place)
    const examined = examinations.get(keyOf(place)) ?? []
    const state = placeState(place, examined, own)
    const preparations = prepared.get(keyOf(place)) ?? []
    const preparation = preparations.at(-1)?.entry
    const whole = {
      ...state,
      ...(preparation === undefined ? {} : { preparation }),
      ...(place.of === 'hole'
        ? { loop: reamLoop(state, { decisions: own, prepared: preparations, examinations: examined }) }
        : {})
    }
    return withClosing(whole, closingIn(closings.get(keyOf(place)), own), opened)
  })
}

interface Closing {
  readonly seq: number
  readonly entry: EntryOf<'place-closed'>
}

interface Closed extends Closing {
  readonly isAfter: (seq: number) => boolean
}

/** A closing by somebody who did not know of a decision on another device closes nothing. */
function closingIn(closing: Closing | undefined, decisions: Decisions): Closed | undefined {
  if (closing === undefined) return undefined
  const { interpreted, disposed, cuts, isBefore } = decisions
  const isAfter = (seq: number) => isBefore(seq, closing.seq)
  const isKnown = ({ seq }: { readonly seq: number }) => isAfter(seq) || isBefore(closing.seq, seq)
  return [...interpreted, ...disposed, ...cuts].every(isKnown) ? { ...closing, isAfter } : undefined
}

/** Closed, unless something of the place was examined or cut after it, or something of it waits again. */
function withClosing(state: PlaceState, closing: Closed | undefined, opened: EntryOf<'job-opened'>): PlaceState {
  const isLast = state.examinations.every(({ seq }) => closing?.isAfter(seq) === true)
  if (closing === undefined || !isLast || openReasons(state, opened).length > 0) return state
  return { ...state, closed: closing.entry }
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
function entryLine({ seq, kind, body, hash }: EntryRow): JobState['entries'][number] {
  const { at, by } = JSON.parse(body) as Entry
  return { seq, kind, at, by: by.name, hash }
}

/** The technique stored last is in force; only a confirmation of that very document counts. */
function techniqueOf(all: readonly Holding[]): Pick<JobState, 'technique' | 'confirmed'> {
  const technique = ofKind(all, 'document-stored').findLast(({ what }) => what === 'technique')?.document
  const confirmed = ofKind(all, 'technique-confirmed').findLast((one) => one.technique === technique)
  return { ...(technique === undefined ? {} : { technique }), ...(confirmed === undefined ? {} : { confirmed }) }
}

const isCheck = ({ of }: EntryOf<'recording-kept'>): boolean => of.of === 'reference' || of.of === 'recheck'

const isJudged = (all: readonly Holding[], recording: string): boolean =>
  [...ofKind(all, 'standardized'), ...ofKind(all, 'recheck')].some((one) => one.recording === recording)

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
  return standingsByRecording(holding(rows, order), order)
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
  return all.flatMap(({ entry, seq }) => {
    if (entry.kind !== 'recheck') return []
    const voids = voidedBy(standings, entry.recording).map((recording) => subjects.get(recording) ?? recording)
    return [{ seq, entry, file: files.get(entry.recording) ?? 'unknown', voids: [...new Set(voids)] }]
  })
}

const voidedBy = (standings: Standings, check: string): readonly string[] =>
  [...standings].flatMap(([recording, one]) => (one.standing === 'voided' && one.by === check ? [recording] : []))

/** Recordings whose scans a failed recheck in `recording` would void, for its entry to say. */
export function voidsOf(
  rows: readonly EntryRow[],
  failed: { readonly recording: string; readonly standardization: string }
) {
  const order = orderOf(rows)
  const all = holding(rows, order)
  const check = { kind: 'recheck', passed: false, ...failed } as EntryOf<'recheck'>
  return voidedBy(standingsByRecording([...all, { seq: rows.length, entry: check }], order), failed.recording)
}
