import type { Refusal } from '@trueloop/ground/refusal'
import { closingAgainst } from './closing.ts'
import { type Code, refuse } from './codes.ts'
import { coversAll, seenAsOf } from './decided.ts'
import type { SeenAs } from './kinds/deciding.ts'
import type { Subject } from './kinds/parts.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { isWhole, mayBeCleared } from './place.ts'
import { markingComplaint, practiceComplaint, unmarkedComplaint } from './practice.ts'
import { choiceComplaint, cutComplaint } from './reaming/index.ts'
import type { JobState, PlaceState } from './state.ts'
import { isDowngrade, isUndecided, waits } from './waiting.ts'

/** What a decision must be to be written: about what is there, with its reason, by another person where one is asked for. */

/** Refuses with the codes of decisions; nothing for kinds that decide nothing. */
export function decisionComplaint(entry: Entry, state: JobState): Refusal<Code> | undefined {
  switch (entry.kind) {
    case 'interpreted':
      return (
        practiceComplaint(placeOf(state, entry.subject)) ??
        interpretationComplaint(entry, placeOf(state, entry.subject))
      )
    case 'disposed':
      return (
        practiceComplaint(placeOf(state, entry.subject)) ?? dispositionComplaint(entry, placeOf(state, entry.subject))
      )
    case 'second-look':
      return lookComplaint(entry, placeOf(state, entry.subject))
    case 'reamed':
      return reamComplaint(entry, placeOf(state, entry.subject))
    case 'place-closed':
      return closingAgainst(placeOf(state, entry.subject), nameOf(entry.subject), state.opened)
    case 'left-out':
    case 'noted':
      return placeOf(state, entry.subject) === undefined ? nothing(`no ${nameOf(entry.subject)}`) : undefined
    case 'job-closed':
      return jobComplaint(state)
    case 'job-reopened':
      return state.closed === undefined ? nothing('a job that is not closed') : undefined
    case 'delivered':
      return unmarkedComplaint(state)
    case 'practice-marked':
      return markingComplaint(entry, state)
    case 'places-drawn':
      return drawnComplaint(entry, state)
    case 'taken-over':
      return takingComplaint(entry, state)
    default:
      return undefined
  }
}

function drawnComplaint({ drawing, places }: EntryOf<'places-drawn'>, state: JobState): Refusal<Code> | undefined {
  if (!state.drawings.some(({ entry }) => entry.sha256 === drawing)) return nothing(`no drawing ${drawing}`)
  const stranger = places.find(({ place }) => placeOf(state, place) === undefined)
  return stranger === undefined ? undefined : nothing(`no ${nameOf(stranger.place)}`)
}

const nameOf = ({ of, name }: Subject): string => `${of} ${name}`

const placeOf = ({ places }: JobState, { of, name }: Subject): PlaceState | undefined =>
  places.find(({ place }) => place.of === of && place.name === name)

const nothing = (found: string): Refusal<Code> =>
  refuse('record/nothing-to-decide', {
    found,
    needed: 'a place, an indication in all its scans, or a decision that the record has',
    remedy: 'read the record again: something may have been scanned since'
  })

/** The joined indication whose sightings these are, all of them. */
function indicationOf(state: PlaceState, seen: readonly SeenAs[]) {
  return state.joined.find((one) => {
    const all = seenAsOf(one, state.examinations)
    return coversAll(seen, all) && coversAll(all, seen)
  })
}

function interpretationComplaint(entry: EntryOf<'interpreted'>, state: PlaceState | undefined) {
  const one = state === undefined ? undefined : indicationOf(state, entry.seen)
  if (one === undefined) return nothing(`no such indication in ${nameOf(entry.subject)}`)
  if (entry.reason !== undefined || !isDowngrade(entry.class, one)) return undefined
  const what = `${one.class}${one.crossedAlarm ? ', above the alarm level' : ''}`
  return noReason(`"${entry.class}" for ${one.id}, proposed as ${what}`)
}

const noReason = (found: string): Refusal<Code> =>
  refuse('record/no-reason', {
    found: `${found}, without a reason`,
    needed: 'a reason in words: a downgrade always needs one',
    remedy: 'say why'
  })

function dispositionComplaint(entry: EntryOf<'disposed'>, state: PlaceState | undefined): Refusal<Code> | undefined {
  if (state === undefined) return nothing(`no ${nameOf(entry.subject)}`)
  const asked = state.joined.filter(waits).flatMap((one) => seenAsOf(one, state.examinations))
  if (!coversAll(entry.seen, asked))
    return nothing(`a disposition that leaves out what waits in ${nameOf(entry.subject)}`)
  if (entry.disposition === 'refer' || entry.disposition === 'reject') return undefined
  const undecided = state.joined.filter(isUndecided).map(({ id }) => id)
  if (undecided.length > 0) return stillUndecided(entry, `${undecided.join(', ')} not classed by a person`)
  if (entry.disposition === 'clean-up ream') return choiceComplaint(entry, nameOf(entry.subject))
  return clearingComplaint(entry, state)
}

function clearingComplaint(entry: EntryOf<'disposed'>, state: PlaceState): Refusal<Code> | undefined {
  const { examinations, joined } = state
  const standing = examinations.filter((one) => one.standing.standing !== 'voided')
  if (!mayBeCleared({ standing, isWhole: isWhole(state.place, standing), joined }))
    return stillUndecided(entry, 'not all of it examined under a set-up that held')
  return joined.some(waits) && entry.reason === undefined
    ? noReason(`"${entry.disposition}" for ${nameOf(entry.subject)}, in which an indication is relevant or damage`)
    : undefined
}

const stillUndecided = ({ subject, disposition }: EntryOf<'disposed'>, why: string): Refusal<Code> =>
  refuse('record/undecided', {
    found: `"${disposition}" for ${nameOf(subject)}: ${why}`,
    needed: 'every indication classed by a person; for "no recordable indication" every zone examined too',
    remedy: 'class what is undecided, scan what is missing, or refer it'
  })

function lookComplaint(entry: EntryOf<'second-look'>, state: PlaceState | undefined): Refusal<Code> | undefined {
  const made = [
    ...(state?.joined.flatMap(({ decided }) => decided ?? []) ?? []),
    ...(state?.disposition ? [state.disposition] : [])
  ]
  const of = made.find(({ id }) => id === entry.of)
  if (of === undefined) return nothing(`no decision "${entry.of}" in force for ${nameOf(entry.subject)}`)
  if (!entry.agrees && entry.reason === undefined) return noReason(`a second look that disagrees with ${of.by.name}`)
  if (of.by.name !== entry.by.name) return undefined
  return refuse('record/same-person', {
    found: `${entry.by.name}, who decided it`,
    needed: 'another person for the second look',
    remedy: 'let somebody else look'
  })
}

function reamComplaint(entry: EntryOf<'reamed'>, state: PlaceState | undefined): Refusal<Code> | undefined {
  if (state?.disposition?.disposition === 'clean-up ream')
    return cutComplaint(entry, state.disposition, nameOf(entry.subject))
  return refuse('record/no-ream-chosen', {
    found: `a cut of ${nameOf(entry.subject)}, ${state === undefined ? 'which the job does not have' : `whose state is "${state.state}"`}`,
    needed: 'a hole for which a person has chosen a clean-up ream after its last scan',
    remedy: 'decide on it first'
  })
}

function jobComplaint(state: JobState): Refusal<Code> | undefined {
  const { places, unjudged, closed } = state
  if (closed !== undefined) return nothing('a job that is closed already')
  const unmarked = unmarkedComplaint(state)
  if (unmarked !== undefined) return unmarked
  const open = places.filter(
    (place) => place.closed === undefined && place.leftOut === undefined && place.practice === undefined
  )
  if (open.length === 0 && unjudged.length === 0) return undefined
  const names = open.slice(0, 12).map(({ place, state }) => `${nameOf(place)} (${state})`)
  const files = unjudged.map(({ file }) => `${file}, which nobody has judged`)
  return refuse('record/job-open', {
    found: [...names, ...(open.length > 12 ? [`${open.length - 12} more`] : []), ...files].join('; '),
    needed: 'every place closed, or left out with a reason; every reference scan and recheck judged',
    remedy: 'close what is done; leave out what will not be examined'
  })
}

function takingComplaint(entry: EntryOf<'taken-over'>, { handovers }: JobState): Refusal<Code> | undefined {
  const of = handovers.find(({ handed }) => handed.id === entry.of)
  if (of === undefined || of.taken !== undefined) return nothing('no handover that waits')
  return of.handed.to === entry.by.name
    ? undefined
    : nothing(`a handover to ${of.handed.to}, taken by ${entry.by.name}`)
}

/** Kinds that go on after a job is closed. */
const after: readonly Entry['kind'][] = [
  ...(['job-reopened', 'delivered', 'corrected', 'merged', 'document-stored', 'clock-corrected'] as const),
  ...(['handed-over', 'taken-over'] as const)
]

export const closedComplaint = (entry: Entry, isClosed: boolean): Refusal<Code> | undefined =>
  !isClosed || after.includes(entry.kind)
    ? undefined
    : refuse('record/job-closed', {
        found: `an entry of kind "${entry.kind}" in a job that is closed`,
        needed: 'a job that is open',
        remedy: 'open it again with a reason, or open another job'
      })
