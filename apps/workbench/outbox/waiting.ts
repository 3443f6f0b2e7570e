import type { Statement } from '../asking/statements.ts'
import type { Told } from '../shell/told.ts'

/**
 * What a person has stated and the record does not hold yet. It waits in the page, with the id that it will have there, and
 * outlives the page: kept on this computer until the service has it.
 */
export interface Waiting {
  readonly job: string
  /** place it is about, where it is of one */
  readonly place?: string
  /** who stated it: nobody else's key may sign it */
  readonly by: string
  readonly statement: Statement
  /** the page in which it was stated: what is stated in another has other things before its eyes */
  readonly page: string
  /** ISO 8601, by the clock of this computer: for the eye only */
  readonly made: string
  /** the service said no: it waits for the person now */
  readonly refused?: readonly Told[]
}

/** What is kept between two runs of a page: of `Storage`, only this much. */
export type Shelf = Pick<Storage, 'length' | 'key' | 'getItem' | 'setItem' | 'removeItem'>

/** Each under a name of its own: pages that are open side by side can't write over what the other has just taken. */
const prefix = 'trueloop/waiting/'
const nameOf = (id: string): string => prefix + id

/** In the order in which it was stated. */
export function waitingOn(shelf: Shelf): readonly Waiting[] {
  const names = Array.from({ length: shelf.length }, (_, at) => shelf.key(at) ?? '')
  return names
    .filter((name) => name.startsWith(prefix))
    .flatMap((name) => parsed(shelf.getItem(name)) ?? [])
    .toSorted((a, b) => a.made.localeCompare(b.made))
}

function parsed(text: string | null): Waiting | undefined {
  try {
    const kept: unknown = JSON.parse(text ?? '')
    return isWaiting(kept) ? kept : undefined
  } catch {
    return undefined
  }
}

const isWaiting = (one: unknown): one is Waiting => {
  const { job, by, page, made, statement } = (one ?? {}) as Partial<Waiting>
  return [job, by, page, made, statement?.id].every((text) => typeof text === 'string')
}

/** With the same id it takes the place of the one before. */
export const put = (shelf: Shelf, one: Waiting): void => shelf.setItem(nameOf(one.statement.id), JSON.stringify(one))

export const drop = (shelf: Shelf, id: string): void => shelf.removeItem(nameOf(id))

/** Marks one as refused; it stays, so that nothing a person has said is lost. */
export function refuse(shelf: Shelf, id: string, refused: readonly Told[]): void {
  const one = parsed(shelf.getItem(nameOf(id)))
  if (one !== undefined) put(shelf, { ...one, refused })
}

/**
 * One has been recorded: `before` entries were there when it was, `count` are now. What was stated in the same page, of
 * the same job, and had seen just what stood before it, has seen this one too: the same person said both there.
 */
export function seen(
  shelf: Shelf,
  { job, page }: Pick<Waiting, 'job' | 'page'>,
  { before, count }: { readonly before: number; readonly count: number }
): void {
  for (const one of waitingOn(shelf))
    if (one.job === job && one.page === page && one.statement.seen === before)
      put(shelf, { ...one, statement: { ...one.statement, seen: count } })
}

/** The one to be sent now: the oldest of this person that the service has not refused. */
export const nextToSend = (all: readonly Waiting[], by: string | undefined): Waiting | undefined =>
  all.find((one) => one.refused === undefined && one.by === by)
