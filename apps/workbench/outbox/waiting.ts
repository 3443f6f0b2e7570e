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
  /** ISO 8601, by the clock of this computer: for the eye only */
  readonly made: string
  /** the service said no: it waits for the person now */
  readonly refused?: readonly Told[]
}

/** What is kept between two runs of a page: of `Storage`, only this much. */
export type Shelf = Pick<Storage, 'getItem' | 'setItem'>

const name = 'trueloop/waiting'

export function waitingOn(shelf: Shelf): readonly Waiting[] {
  try {
    const kept: unknown = JSON.parse(shelf.getItem(name) ?? '[]')
    return Array.isArray(kept) ? kept.filter(isWaiting) : []
  } catch {
    return []
  }
}

const isWaiting = (one: unknown): one is Waiting => {
  const { job, by, statement } = (one ?? {}) as Partial<Waiting>
  return typeof job === 'string' && typeof by === 'string' && typeof statement?.id === 'string'
}

const keep = (shelf: Shelf, all: readonly Waiting[]): void => shelf.setItem(name, JSON.stringify(all))

/** Puts one at the end; with the same id it takes the place of the one before. */
export function put(shelf: Shelf, one: Waiting): void {
  const rest = waitingOn(shelf).filter(({ statement }) => statement.id !== one.statement.id)
  keep(shelf, [...rest, one])
}

export const drop = (shelf: Shelf, id: string): void =>
  keep(
    shelf,
    waitingOn(shelf).filter(({ statement }) => statement.id !== id)
  )

/** Marks one as refused; it stays, so that nothing a person has said is lost. */
export const refuse = (shelf: Shelf, id: string, refused: readonly Told[]): void =>
  keep(
    shelf,
    waitingOn(shelf).map((one) => (one.statement.id === id ? { ...one, refused } : one))
  )

/**
 * One has been recorded: `before` entries were there when it was, `count` are now. What waits of the same job and had seen
 * just what stood before it has seen this one too, for the same person said both.
 */
export const seen = (
  shelf: Shelf,
  job: string,
  { before, count }: { readonly before: number; readonly count: number }
) =>
  keep(
    shelf,
    waitingOn(shelf).map((one) =>
      one.job === job && one.statement.seen === before ? { ...one, statement: { ...one.statement, seen: count } } : one
    )
  )

/** The one to be sent now: the oldest of this person that the service has not refused. */
export const nextToSend = (all: readonly Waiting[], by: string | undefined): Waiting | undefined =>
  all.find((one) => one.refused === undefined && one.by === by)
