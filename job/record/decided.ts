import type { Holding } from './corrections.ts'
import type { JoinedIndication } from './joined.ts'
import type { SeenAs } from './kinds/deciding.ts'
import type { Subject } from './kinds/parts.ts'
import type { EntryKind, EntryOf } from './kinds.ts'
import type { Order } from './merging/order.ts'

/** What people have decided of one place, in the order of the record. */

export interface Placed<Kind extends EntryKind> {
  readonly seq: number
  readonly entry: EntryOf<Kind>
}

export interface Decisions {
  readonly interpreted: readonly Placed<'interpreted'>[]
  readonly disposed: readonly Placed<'disposed'>[]
  readonly looks: readonly Placed<'second-look'>[]
  readonly cuts: readonly Placed<'reamed'>[]
  readonly leftOut: readonly Placed<'left-out'>[]
  readonly notes: readonly Placed<'noted'>[]
  /** whether the record knows that one entry was made before another */
  readonly isBefore: Order['isBefore']
}

type Lists = Omit<Decisions, 'isBefore'>

const none: Lists = { interpreted: [], disposed: [], looks: [], cuts: [], leftOut: [], notes: [] }

const lists = {
  interpreted: 'interpreted',
  disposed: 'disposed',
  'second-look': 'looks',
  reamed: 'cuts',
  'left-out': 'leftOut',
  noted: 'notes'
} as const

type Deciding = keyof typeof lists

const isDeciding = (kind: EntryKind): kind is Deciding => Object.hasOwn(lists, kind)

/** Decisions by place. What a second look disagrees with is out of force; it stays in the record. */
export function decisionsBySubject(
  all: readonly Holding[],
  { isBefore }: Pick<Order, 'isBefore'>
): (subject: Subject) => Decisions {
  const bySubject = new Map<string, Record<(typeof lists)[Deciding], Placed<Deciding>[]>>()
  for (const { seq, entry } of all) {
    if (!isDeciding(entry.kind)) continue
    const decision = entry as EntryOf<Deciding>
    const key = keyOf(decision.subject)
    const found = bySubject.get(key) ?? { interpreted: [], disposed: [], looks: [], cuts: [], leftOut: [], notes: [] }
    found[lists[decision.kind]].push({ seq, entry: decision })
    bySubject.set(key, found)
  }
  return (subject) => ({ ...inForce((bySubject.get(keyOf(subject)) as Lists | undefined) ?? none), isBefore })
}

const keyOf = ({ of, name }: Subject): string => `${of} ${name}`

function inForce(found: Lists): Lists {
  const against = new Set(found.looks.filter(({ entry }) => !entry.agrees).map(({ entry }) => entry.of))
  const isAgreed = ({ entry }: { readonly entry: { readonly id: string } }) => !against.has(entry.id)
  return { ...found, interpreted: found.interpreted.filter(isAgreed), disposed: found.disposed.filter(isAgreed) }
}

/** The names under which an indication was seen, by the examinations of its place. */
export function seenAsOf({ seen }: JoinedIndication, examinations: readonly Examined[]): readonly SeenAs[] {
  const names = new Map(examinations.map(({ recording, examination }) => [recording, examination]))
  return seen.map(({ id, recording }) => ({ examination: names.get(recording) ?? recording, id }))
}

interface Examined {
  readonly recording: string
  readonly examination: string
}

const name = ({ examination, id }: SeenAs): string => `${examination} ${id}`

/** Whether a decision was about all of these. */
export function coversAll(decision: readonly SeenAs[], asked: readonly SeenAs[]): boolean {
  const known = new Set(decision.map(name))
  return asked.every((one) => known.has(name(one)))
}
