import type { Refusal } from '@trueloop/ground/refusal'
import { canonical } from './canonical.ts'
import { openIndications } from './closing.ts'
import { type Code, refuse } from './codes.ts'
import type { Entry, EntryOf } from './kinds.ts'
import type { ReportInput } from './report-input.ts'
import type { Witness } from './signing.ts'
import type { JobState, PlaceState } from './state.ts'

/** Practice that is mixed into daily work: nobody who examines knows which it is until it is marked. */

export type PracticePlace = EntryOf<'practice-marked'>['places'][number]

/** Places with what was practice marked as such. */
export function withPractice(
  places: readonly PlaceState[],
  marked: EntryOf<'practice-marked'> | undefined
): readonly PlaceState[] {
  if (marked === undefined) return places
  const known = new Map(marked.places.map((one) => [one.name, one]))
  return places.map((place) => {
    const practice = known.get(place.place.name)
    return practice === undefined ? place : { ...place, practice }
  })
}

/** Whether practice is mixed in that nobody has marked yet. */
export const hasUnmarked = ({ opened, practice }: Pick<JobState, 'opened' | 'practice'>): boolean =>
  opened.practice !== undefined && practice?.answers !== opened.practice.answers

/** A job that holds unmarked practice is no record of the part yet. Refuses `record/practice-not-marked`. */
export function unmarkedComplaint(state: JobState): Refusal<Code> | undefined {
  if (!hasUnmarked(state)) return undefined
  return refuse('record/practice-not-marked', {
    found: `${state.opened.practice?.count} places that are practice, and not marked as such`,
    needed: 'the answers that were kept apart: what is practice is no place of the part',
    remedy: 'let the person who keeps them mark it: prove mark JOB --answers FILE --as NAME'
  })
}

/** The places that answers name; undefined where the text is none. */
export function placesTold(text: string | undefined): string | undefined {
  try {
    return text === undefined ? undefined : canonical((JSON.parse(text) as { readonly places: unknown }).places)
  } catch {
    return undefined
  }
}

/** A marking says what the answers say whose hash it names. Refuses `record/other-answers`. */
export function answersComplaint(entry: Entry, witness: Witness | undefined): Refusal<Code> | undefined {
  if (entry.kind !== 'practice-marked') return undefined
  if (placesTold(witness?.document(entry.answers)) === canonical(entry.places)) return undefined
  return refuse('record/other-answers', {
    found: `places that are not those of the answers ${entry.answers}`,
    needed: 'the answers as a document of the archive, and their places word for word',
    remedy: 'mark it with the file that was kept apart'
  })
}

/** Refuses `record/nothing-to-decide`, `record/other-answers`, `record/same-person`, `record/undecided`. */
export function markingComplaint(entry: EntryOf<'practice-marked'>, state: JobState): Refusal<Code> | undefined {
  const { practice } = state.opened
  if (practice === undefined || !hasUnmarked(state)) return nothing()
  const names = new Set(entry.places.map(({ name }) => name))
  const known = state.places.filter(({ place }) => names.has(place.name))
  const isWhole = names.size === entry.places.length && known.length === names.size && names.size === practice.count
  if (entry.answers !== practice.answers || !isWhole) return otherAnswers(entry, practice)
  const decider = known.flatMap(decidersOf).find((name) => name === entry.by.name)
  if (decider !== undefined) return samePerson(decider)
  const waiting = known.filter((place) => place.examinations.length > 0 && openIndications(place).length > 0)
  return waiting.length === 0 ? undefined : tooEarly(waiting.length)
}

const decidersOf = ({ joined, disposition }: PlaceState): readonly string[] => [
  ...joined.flatMap(({ decided }) => (decided === undefined ? [] : [decided.by.name])),
  ...(disposition === undefined ? [] : [disposition.by.name])
]

const nothing = (): Refusal<Code> =>
  refuse('record/nothing-to-decide', {
    found: 'a job without practice that waits to be marked',
    needed: 'a job into which practice was mixed before it was opened',
    remedy: 'name the other job'
  })

const otherAnswers = (
  { answers, places }: EntryOf<'practice-marked'>,
  practice: { readonly count: number; readonly answers: string }
): Refusal<Code> =>
  refuse('record/other-answers', {
    found: `answers ${answers} for ${places.length} places`,
    needed: `the answers ${practice.answers} for ${practice.count} places of this job`,
    remedy: 'find the answers that were written when the practice was mixed in'
  })

const samePerson = (name: string): Refusal<Code> =>
  refuse('record/same-person', {
    found: `${name}, who decided about a practice place`,
    needed: 'the person who keeps the answers: whoever knows them can not be watched by them',
    remedy: 'let that person mark it'
  })

const tooEarly = (count: number): Refusal<Code> =>
  refuse('record/undecided', {
    found: `${count} practice places in which something waits for a person`,
    needed: 'a decision of those who examine, before anybody is told',
    remedy: 'let them decide on every place of the job first'
  })

/** Who knows that a place was practice decides nothing about it any more. Refuses `record/nothing-to-decide`. */
export const practiceComplaint = (state: PlaceState | undefined): Refusal<Code> | undefined =>
  state?.practice === undefined
    ? undefined
    : refuse('record/nothing-to-decide', {
        found: `${state.place.of} ${state.place.name}, which was practice`,
        needed: 'a place of the component',
        remedy: 'leave it as it was decided'
      })

/** What a report says of the part: everything but what was practice. */
export function ofThePart(input: ReportInput): ReportInput {
  const { state } = input
  const names = new Set(state.practice?.places.map(({ name }) => name) ?? [])
  if (names.size === 0) return input
  const isPractice = (one: { readonly name: string }): boolean => names.has(one.name)
  return {
    ...input,
    refused: input.refused.filter(({ subject }) => !names.has(subject)),
    state: {
      ...state,
      places: state.places.filter(({ place }) => !isPractice(place)),
      decisions: state.decisions.filter((one) => !('subject' in one && isPractice(one.subject))),
      redo: state.redo.filter(({ place }) => !isPractice(place)),
      rechecks: state.rechecks.map((one) => ({ ...one, voids: one.voids.filter((name) => !names.has(name)) }))
    }
  }
}
