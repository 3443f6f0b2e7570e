import { type JoinedIndication, joinScans, type ScanOfPlace } from './joined.ts'
import type { IndicationOutcome, ZoneOutcome } from './kinds/examining.ts'
import type { EntryOf } from './kinds.ts'
import type { ExaminationState, Place, PlaceState, PlaceStateName } from './state.ts'

export interface Examined {
  readonly subject: EntryOf<'examined'>['subject']
  readonly state: ExaminationState
}

/**
 * The state of one place from its examinations in the order of the scans. An indication is never made to vanish by
 * another scan: the worst counts, those of voided scans too. A zone counts as examined where one standing scan covers it.
 */
export function placeState(place: Place, all: readonly Examined[]): PlaceState {
  const own = all.filter(({ subject }) => subject.of === place.of && subject.name === place.name)
  const examinations = own.map(({ state }) => state)
  const standing = examinations.filter((one) => one.standing.standing !== 'voided')
  const voided = examinations.filter((one) => one.standing.standing === 'voided')
  const latest = standing.at(-1)
  const missing = missingZones(standing)
  const openFromVoided = voided.flatMap(({ indications }) => indications).filter((one) => weight(one) > 0)
  const joined = joinScans(examinations.map((one, at) => scanOf(one, at, place)))
  return {
    place,
    state: nameOf({ standing, voided, isWhole: isWhole(place, standing), joined, openFromVoided }),
    provisional: standing.some((one) => one.standing.standing === 'provisional'),
    examinations,
    ...(latest === undefined ? {} : { latest }),
    missing,
    openFromVoided,
    joined
  }
}

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

function nameOf({ standing, voided, isWhole, joined, openFromVoided }: Found): PlaceStateName {
  if (standing.length === 0) return voided.length > 0 ? 'voided by a recheck' : 'not examined'
  if (standing.some(({ indications }) => indications.some((one) => one.class === 'relevant')))
    return 'relevant, not decided'
  if (joined.some((one) => one.open && isSeenSoundly(one, standing))) return 'undecided'
  if (!isWhole) return 'not examined'
  return openFromVoided.length > 0 || joined.some(({ open }) => open) ? 'undecided' : 'examined, no relevant indication'
}

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
const isWhole = ({ of }: Place, standing: readonly ExaminationState[]): boolean =>
  missingZones(standing).length === 0 && (of === 'loop' || standing.some(({ zones }) => zones.length > 0))

/** How much of a place nobody looked at: all of it, a part, or nothing. */
export function missingShare({ latest, missing, state }: PlaceState): 'all' | 'part' | 'nothing' {
  if (latest === undefined || (missing.length === 0 && state === 'not examined')) return 'all'
  if (missing.length === 0) return 'nothing'
  return latest.zones.every(({ zone }) => missing.some((one) => one.zone === zone)) ? 'all' : 'part'
}

function missingZones(standing: readonly ExaminationState[]): PlaceState['missing'] {
  const zones = standing.flatMap((one) => one.zones)
  const names = [...new Set(zones.map(({ zone }) => zone))]
  return names
    .map((zone) => ({ zone, tried: zones.filter((one) => one.zone === zone) }))
    .filter(({ tried }) => tried.every(({ state }) => state === 'not examined'))
    .map(({ zone, tried }) => ({ zone, why: reasons(tried) }))
}

const reasons = (tried: readonly ZoneOutcome[]): readonly string[] => [...new Set(tried.flatMap(({ why }) => why))]
