import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'
import type { EntryOf } from './kinds.ts'
import { missingShare } from './place.ts'
import type { PlaceState } from './state.ts'
import { waits } from './waiting.ts'

/** Entries that close a job or open it again. What another device brings in opens it: a person has not seen it whole. */
export const closingKinds: readonly string[] = ['job-closed', 'job-reopened', 'merged']

/** What the opening of a job says of closing. */
type Rules = Pick<EntryOf<'job-opened'>, 'secondLook'>

/**
 * Why a place can not be closed: what was not examined, what a recheck still may void, what waits for a person. A place
 * that is rejected or referred goes to other hands as it is.
 */
export function openReasons(state: PlaceState, rules: Rules): readonly string[] {
  const { disposition } = state
  const looks = [...state.contradictions, ...missingLooks(state, rules)]
  if (disposition?.disposition === 'reject' || disposition?.disposition === 'refer') return looks
  if (disposition?.disposition === 'clean-up ream') return [reaming, ...looks]
  return [
    ...(state.loop?.open ?? []),
    ...(missingShare(state) === 'nothing' ? [] : [notExamined(state)]),
    ...(state.state === 'voided by a recheck' ? ['voided by a recheck'] : []),
    ...(state.provisional ? ['no good recheck after its scan'] : []),
    ...openIndications(state),
    ...looks
  ]
}

const reaming = 'to be reamed, cleaned, measured, standardized and examined at its new diameter'

function notExamined({ missing, latest }: PlaceState): string {
  const zones = missing.map(({ zone }) => zone)
  return latest === undefined || zones.length === 0 ? 'not examined' : `not examined: ${zones.join(', ')}`
}

/** Indications that wait for a person or for another scan, each with its class and what several scans say of it. */
export const openIndications = ({ joined, disposition }: PlaceState): readonly string[] =>
  disposition === undefined
    ? joined.filter(waits).map((one) => `${one.id}, ${one.decided?.class ?? one.class}: ${one.says}`)
    : []

/** Decisions that another person has yet to look at, as far as the technique asks for it. */
function missingLooks(state: PlaceState, { secondLook }: Rules): readonly string[] {
  if (secondLook === undefined) return []
  const { disposition, joined, looks } = state
  const made = [...joined.flatMap(({ decided }) => decided ?? []), ...(disposition === undefined ? [] : [disposition])]
  const seen = new Set(looks.filter(({ agrees }) => agrees).map(({ of }) => of))
  const open = made.filter(({ id }) => !seen.has(id)).map(({ by }) => `no second look at what ${by.name} decided`)
  const asked = secondLook === 'every place' && disposition === undefined ? ['no disposition to look at'] : []
  return [...new Set([...asked, ...open])]
}

/**
 * Whether a place may be closed. Refuses `record/place-open` with every reason: nothing that was not looked at, voided,
 * provisional or undecided is closed.
 */
export function closingAgainst(state: PlaceState | undefined, name: string, rules: Rules): Refusal<Code> | undefined {
  const reasons = state === undefined ? ['no place of this name in the job'] : openReasons(state, rules)
  if (reasons.length === 0) return undefined
  return refuse('record/place-open', {
    found: `${name}: ${reasons.join('; ')}`,
    needed: 'a place that was examined in every zone, whose set-up held, and in which no indication waits',
    remedy: 'scan what was not examined; clean, enter again and scan; have a named person decide what then is left'
  })
}
