import { coversAll, type Decisions, seenAsOf } from './decided.ts'
import { type JoinedIndication, joinScans, type ScanOfPlace } from './joined.ts'
import type { IndicationOutcome, ZoneOutcome } from './kinds/examining.ts'
import type { EntryOf } from './kinds.ts'
import { contradictionsIn } from './merging/contradictions.ts'
import type { ExaminationState, Place, PlaceState, PlaceStateName } from './state.ts'
import { isUndecided, waits } from './waiting.ts'

/**
 * The state of one place from its examinations in the order of the scans, and what people decided. An indication is never made to vanish by
 * another scan: the worst counts, those of voided scans too. A zone counts as examined where one standing scan covers it.
 */
export function placeState(place: Place, own: readonly ExaminationState[], decisions: Decisions): PlaceState {
  const { isBefore, cuts } = decisions
  const examinations = own
    .filter(({ keptAt }) => !cuts.some(({ seq }) => isBefore(keptAt, seq)))
    .map((one) => (cuts.every(({ seq }) => isBefore(seq, one.keptAt)) ? one : { ...one, standing: besideCut }))
  const standing = examinations.filter((one) => one.standing.standing !== 'voided')
  const voided = examinations.filter((one) => one.standing.standing === 'voided')
  const latest = standing.at(-1)
  const missing = missingZones(place, standing)
  const joined = withClasses(joinScans(examinations.map((one, at) => scanOf(one, at, place))), examinations, decisions)
  const openFromVoided = voided.flatMap((one) => stillOpen(one, joined))
  const found = { standing, voided, isWhole: isWhole(place, standing), joined, openFromVoided }
  const disposition = standingDisposition({ ...found, examinations, decisions })
  const leftOut = decisions.leftOut.findLast(({ seq }) => examinations.every(({ keptAt }) => isBefore(keptAt, seq)))
  return {
    place,
    state: disposition === undefined ? nameOf(found, cuts.length) : decidedName[disposition.disposition],
    provisional: standing.some((one) => one.standing.standing === 'provisional'),
    examinations,
    ...(latest === undefined ? {} : { latest }),
    missing,
    openFromVoided,
    joined,
    beforeCut: own.filter(({ keptAt }) => cuts.some(({ seq }) => isBefore(keptAt, seq))),
    cuts: cuts.map(({ entry }) => entry),
    looks: decisions.looks.map(({ entry }) => entry),
    notes: decisions.notes.map(({ entry }) => entry),
    contradictions: contradictionsIn(decisions),
    ...(disposition === undefined ? {} : { disposition }),
    ...(leftOut === undefined ? {} : { leftOut: leftOut.entry })
  }
}

const decidedName = {
  'no recordable indication': 'no recordable indication, decided',
  'clean-up ream': 'ream and re-inspect',
  reject: 'reject',
  refer: 'refer'
} as const

/** A scan of one device and a cut of another, of which nobody knows which came first. It covers nothing; what it saw stays. */
const besideCut = { standing: 'voided', why: 'nobody knows whether it was scanned before or after the cut' } as const

function withClasses(
  joined: readonly JoinedIndication[],
  examinations: readonly ExaminationState[],
  { interpreted, isBefore }: Decisions
): readonly JoinedIndication[] {
  if (interpreted.length === 0) return joined
  return joined.map((one) => {
    const asked = seenAsOf(one, examinations)
    const all = interpreted.filter(({ entry }) => coversAll(entry.seen, asked))
    const said = all.at(-1)
    const isDoubted = all.some((other) => said !== undefined && differsUnseen(other, said, isBefore))
    return said === undefined || isDoubted ? one : { ...one, decided: said.entry }
  })
}

/** Two people classed it otherwise, neither knowing of the other: nobody has classed it. */
const differsUnseen = (
  other: Decisions['interpreted'][number],
  said: Decisions['interpreted'][number],
  isBefore: Decisions['isBefore']
): boolean => other !== said && other.entry.class !== said.entry.class && !isBefore(other.seq, said.seq)

/** Indications of a voided scan that still wait; a person may have classed them. */
const stillOpen = ({ recording, indications }: ExaminationState, joined: readonly JoinedIndication[]) =>
  indications.filter((one) => {
    const of = joined.find(({ seen }) => seen.some((each) => each.recording === recording && each.id === one.id))
    return weight(one) > 0 && (of?.decided === undefined || waits(of))
  })

interface Deciding extends Found {
  readonly examinations: readonly ExaminationState[]
  readonly decisions: Decisions
}

/** The last disposition, if it was made after every scan, cut and other disposition, and about everything that waits. */
function standingDisposition(found: Deciding): EntryOf<'disposed'> | undefined {
  const { examinations, decisions, joined } = found
  const { disposed, cuts, isBefore } = decisions
  const last = disposed.at(-1)
  if (last === undefined) return undefined
  const others = disposed.filter(({ entry }) => entry.disposition !== last.entry.disposition)
  const before = [...others, ...cuts].map(({ seq }) => seq)
  const all = [...before, ...examinations.map(({ keptAt }) => keptAt)]
  if (!all.every((seq) => isBefore(seq, last.seq))) return undefined
  const asked = joined.filter(waits).flatMap((one) => seenAsOf(one, examinations))
  if (!coversAll(last.entry.seen, asked)) return undefined
  const isMild = last.entry.disposition === 'no recordable indication'
  return isMild && !mayBeCleared(found) ? undefined : last.entry
}

/** "No recordable indication" is said of what was examined, under a set-up that held, with nothing undecided in it. */
export const mayBeCleared = ({ standing, isWhole, joined }: Pick<Found, 'standing' | 'isWhole' | 'joined'>): boolean =>
  standing.length > 0 && isWhole && !joined.some(isUndecided)

function scanOf(one: ExaminationState, at: number, { of }: Place): ScanOfPlace {
  const { recording, file, zones, indications, after, setUp } = one
  const discounted = discount(one)
  return {
    ...{ recording, file, at, zones, indications, reversed: setUp === 'other sense', track: of === 'track' },
    ...(after === undefined ? {} : { after }),
    ...(discounted === undefined ? {} : { discounted })
  }
}

/** A scan in the other sense, with a second probe or frequency, is worth what its own standardization is. */
function discount({ standing, after, setUp }: ExaminationState): string | undefined {
  if (standing.standing === 'voided') return standing.why
  const asked = after === 'cleaned and entered again' ? undefined : after
  return asked === setUp ? undefined : `no standardization for: ${asked ?? 'the set-up of the technique'}`
}

interface Found {
  readonly standing: readonly ExaminationState[]
  readonly voided: readonly ExaminationState[]
  readonly isWhole: boolean
  readonly joined: readonly JoinedIndication[]
  readonly openFromVoided: readonly IndicationOutcome[]
}

/** Else no recheck failed: one was due and missing, or nothing was standardized. */
const isByRecheck = ({ standing }: ExaminationState): boolean =>
  standing.standing === 'voided' && standing.by !== undefined

function nameOf({ standing, voided, isWhole, joined, openFromVoided }: Found, cuts: number): PlaceStateName {
  if (standing.length === 0 && voided.some(isByRecheck)) return 'voided by a recheck'
  if (standing.length === 0 && voided.length > 0) return 'not examined'
  if (standing.length === 0) return cuts === 0 ? 'not examined' : 'ream and re-inspect'
  const sound = joined.filter((one) => isSeenSoundly(one, standing))
  if (sound.some((one) => isRelevantIn(one, standing))) return 'relevant, not decided'
  if (sound.some(waits)) return 'undecided'
  if (!isWhole) return 'not examined'
  return openFromVoided.length > 0 || joined.some(waits) ? 'undecided' : 'examined, no relevant indication'
}

/** By a person's class; without one, by the class in any scan that stands. */
const isRelevantIn = ({ decided, seen }: JoinedIndication, standing: readonly ExaminationState[]): boolean =>
  decided === undefined
    ? seen.some((one) => one.class === 'relevant' && standing.some(({ recording }) => recording === one.recording))
    : decided.class === 'relevant'

const isSeenSoundly = ({ seen }: JoinedIndication, standing: readonly ExaminationState[]): boolean =>
  seen.some(({ recording }) => standing.some((one) => one.recording === recording))

/**
 * 2 relevant; 1 waits for a person: undecided, damage, or above the alarm level whatever it was classed as; 0 neither.
 */
const weight = (one: IndicationOutcome): 0 | 1 | 2 => {
  if (one.class === 'relevant') return 2
  return one.class === 'undecided' || one.class === 'damage, not a crack' || one.crossedAlarm ? 1 : 0
}

/** A loop has no zones: its position is unknown. Elsewhere no zones at all means that nothing was looked at. */
export const isWhole = (place: Place, standing: readonly ExaminationState[]): boolean =>
  missingZones(place, standing).length === 0 && (place.of === 'loop' || standing.some(({ zones }) => zones.length > 0))

/** How much of a place nobody looked at: all of it, a part, or nothing. */
export function missingShare({ latest, missing, state }: PlaceState): 'all' | 'part' | 'nothing' {
  if (latest === undefined || (missing.length === 0 && state === 'not examined')) return 'all'
  if (missing.length === 0) return 'nothing'
  return latest.zones.every(({ zone }) => missing.some((one) => one.zone === zone)) ? 'all' : 'part'
}

/** Zones that were tried, and none examined; and those that are asked for and that no standing examination has at all. */
function missingZones({ zones: asked = [] }: Place, standing: readonly ExaminationState[]): PlaceState['missing'] {
  const zones = standing.flatMap((one) => one.zones)
  const never = asked.filter((zone) => standing.length > 0 && zones.every((one) => one.zone !== zone))
  const names = [...new Set(zones.map(({ zone }) => zone))]
  const unexamined = names
    .map((zone) => ({ zone, tried: zones.filter((one) => one.zone === zone) }))
    .filter(({ tried }) => tried.every(({ state }) => state === 'not examined'))
    .map(({ zone, tried }) => ({ zone, why: reasons(tried) }))
  return [
    ...unexamined,
    ...never.map((zone) => ({ zone, why: ['asked for by the technique, and no scan examines it'] }))
  ]
}

const reasons = (tried: readonly ZoneOutcome[]): readonly string[] => [...new Set(tried.flatMap(({ why }) => why))]
