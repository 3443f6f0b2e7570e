import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'
import { missingShare } from './place.ts'
import type { PlaceState } from './state.ts'

/** Why a place can not be closed: what was not examined, what a recheck still may void, what waits for a person. */
export const openReasons = (state: PlaceState): readonly string[] => [
  ...(missingShare(state) === 'nothing' ? [] : [notExamined(state)]),
  ...(state.state === 'voided by a recheck' ? ['voided by a recheck'] : []),
  ...(state.provisional ? ['no good recheck after its scan'] : []),
  ...openIndications(state)
]

function notExamined({ missing, latest }: PlaceState): string {
  const zones = missing.map(({ zone }) => zone)
  return latest === undefined || zones.length === 0 ? 'not examined' : `not examined: ${zones.join(', ')}`
}

/** Indications that wait for a person or for another scan, each with its class and what several scans say of it. */
export const openIndications = ({ joined }: PlaceState): readonly string[] =>
  joined.filter(({ open }) => open).map((one) => `${one.id}, ${one.class}: ${one.says}`)

/**
 * Whether a place may be closed. Refuses `record/place-open` with every reason: nothing that was not looked at, voided,
 * provisional or undecided is closed.
 */
export function closingAgainst(state: PlaceState | undefined, name: string): Refusal<Code> | undefined {
  const reasons = state === undefined ? ['no place of this name in the job'] : openReasons(state)
  if (reasons.length === 0) return undefined
  return refuse('record/place-open', {
    found: `${name}: ${reasons.join('; ')}`,
    needed: 'a place that was examined in every zone, whose set-up held, and in which no indication waits',
    remedy: 'scan what was not examined; clean, enter again and scan; have a named person decide what then is left'
  })
}
