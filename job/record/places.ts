import { openReasons } from './closing.ts'
import type { Holding } from './corrections.ts'
import { type Decisions, decisionsBySubject, type Placed } from './decided.ts'
import type { EntryOf } from './kinds.ts'
import type { Order } from './merging/order.ts'
import { placeState } from './place.ts'
import { preparationsBySubject } from './preparing.ts'
import { reamLoop } from './reaming/index.ts'
import { isSame } from './same.ts'
import type { ExaminationState, Place, PlaceState } from './state.ts'

/** The states of a job's places from its entries; of a place about which they say nothing new, the state made before. */

export const keyOf = ({ of, name }: { readonly of: string; readonly name: string }): string => `${of} ${name}`

export interface Placing {
  readonly opened: EntryOf<'job-opened'>
  readonly examinations: ReadonlyMap<string, readonly ExaminationState[]>
  readonly all: readonly Holding[]
  readonly order: Order
}

/** All that the state of a place follows from. Nothing else may be read in making it: else it would outlive a change. */
interface Own {
  readonly place: Place
  readonly opened: EntryOf<'job-opened'>
  readonly examinations: readonly ExaminationState[]
  readonly decisions: Decisions
  readonly preparations: readonly Placed<'place-prepared'>[]
  readonly closing: Closing | undefined
}

/** The state of a place, with what it was made from. */
export interface PlaceMade {
  readonly own: Own
  readonly state: PlaceState
}

/** `before`: as they were made from a record that says much the same. */
export function placesOf(
  { opened, examinations, all, order }: Placing,
  before: readonly PlaceMade[] = []
): readonly PlaceMade[] {
  const decisions = decisionsBySubject(all, order)
  const prepared = preparationsBySubject(all)
  const closings = closingsOf(all)
  return opened.places.map((place, at) => {
    const key = keyOf(place)
    const own = {
      ...{ place, opened, examinations: examinations.get(key) ?? [], decisions: decisions(place) },
      ...{ preparations: prepared.get(key) ?? [], closing: closings.get(key) }
    }
    const known = before[at]
    return known !== undefined && isSame(known.own, own) ? known : { own, state: stateFrom(own) }
  })
}

function stateFrom({ place, opened, examinations, decisions, preparations, closing }: Own): PlaceState {
  const state = placeState(place, examinations, decisions)
  const preparation = preparations.at(-1)?.entry
  const whole = {
    ...state,
    ...(preparation === undefined ? {} : { preparation }),
    ...(place.of === 'hole' ? { loop: reamLoop(state, { decisions, prepared: preparations, examinations }) } : {})
  }
  return withClosing(whole, closingIn(closing, decisions), opened)
}

interface Closing {
  readonly seq: number
  readonly entry: EntryOf<'place-closed'>
}

function closingsOf(all: readonly Holding[]): ReadonlyMap<string, Closing> {
  const closings = new Map<string, Closing>()
  for (const { seq, entry } of all)
    if (entry.kind === 'place-closed') closings.set(keyOf(entry.subject), { seq, entry })
  return closings
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
