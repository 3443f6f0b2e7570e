import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'
import type { Subject } from './kinds/parts.ts'
import type { Entry, EntryKind, EntryOf } from './kinds.ts'
import { signatureOf } from './signing.ts'
import type { JobState } from './state.ts'

/**
 * Taking back what one has stated. The statement stays in the record; what stood before it holds again. It goes as long as
 * nothing rests on it; what another person has stated is looked at a second time instead.
 */

export const withdrawable: readonly EntryKind[] = [
  ...(['interpreted', 'disposed', 'second-look', 'place-closed', 'left-out', 'noted', 'drawing-kept'] as const)
]

type Stated = EntryOf<
  'interpreted' | 'disposed' | 'second-look' | 'place-closed' | 'left-out' | 'noted' | 'drawing-kept'
>

/** What the withdrawn statement was, the record before the withdrawal, and the kinds of entries that stand after it. */
export interface Withdrawing {
  readonly entry: EntryOf<'corrected'>
  readonly old: Stated
  readonly state: JobState
  /** entries after the old one, in their order */
  readonly after: readonly Entry[]
}

/** Refuses record/not-signed, record/other-person, record/nothing-to-correct, record/job-closed, record/rests-on-it. */
export function withdrawalComplaint({ entry, old, state, after }: Withdrawing): Refusal<Code> | undefined {
  if (signatureOf(entry) === undefined) return unsigned(old)
  if (entry.by.name !== old.by.name) return others(entry, old)
  if (state.corrections.some(({ corrects }) => corrects === old.id)) return gone(old)
  if (state.closed !== undefined) return jobClosed()
  const on = restingOn(old, state, after)
  return on === undefined ? undefined : rests(old, on)
}

function restingOn(old: Stated, { places }: JobState, after: readonly Entry[]): Entry | undefined {
  if (old.kind === 'noted' || old.kind === 'drawing-kept') return undefined
  const isHere = ({ of, name }: Subject) => of === old.subject.of && name === old.subject.name
  const closed = places.find(({ place }) => isHere(place as Subject))?.closed
  return after.find((one) => {
    if (one.kind === 'delivered') return one.places?.some(isHere) !== false
    if (one.kind === 'reamed') return old.kind === 'disposed' && isHere(one.subject)
    return old.kind !== 'place-closed' && one.id === closed?.id
  })
}

const nameOf = ({ kind, by, at }: Entry): string => `an entry of kind "${kind}" by ${by.name}, ${at.time}`

const unsigned = (old: Stated) =>
  refuse('record/not-signed', {
    found: `an unsigned withdrawal of ${nameOf(old)}`,
    needed: 'the signature of the person who has stated it',
    remedy: 'say who signs, and unlock their key'
  })

const others = ({ by }: Entry, old: Stated) =>
  refuse('record/other-person', {
    found: `a withdrawal by ${by.name} of ${nameOf(old)}`,
    needed: 'the person who has stated it',
    remedy: 'look at it a second time, and disagree with a reason'
  })

const gone = (old: Stated) =>
  refuse('record/nothing-to-correct', {
    found: `${nameOf(old)}, which is withdrawn already`,
    needed: 'a statement that holds',
    remedy: 'read the record again'
  })

const jobClosed = () =>
  refuse('record/job-closed', {
    found: 'a withdrawal in a job that is closed',
    needed: 'a job that is open',
    remedy: 'open it again with a reason, or open another job'
  })

const rests = (old: Stated, on: Entry) =>
  refuse('record/rests-on-it', {
    found: `${nameOf(old)}, on which ${nameOf(on)} rests`,
    needed: 'a statement on which nothing else rests',
    remedy: 'withdraw what rests on it first; what was cut or delivered stays'
  })
