import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Examination, Recipe, Wall } from '@trueloop/job/examine'
import type { Examined, Task } from './task.ts'

/**
 * What goes between a crew and its workers. Both sides make a copy of all that is sent: what a worker has from the task
 * before is not sent again, so that it also stays the same object there, and what was worked out for it stays known.
 */
export interface Parcel {
  /** without those parts of its input that are the same as in the task before */
  readonly task: Task
  /** their names */
  readonly same: readonly string[]
}

type Input = Readonly<Record<string, unknown>>

const inputOf = (task: Task | undefined): Input => (task?.recipe.input ?? {}) as unknown as Input

/** A task as it is sent to a worker that was sent `before` last. */
export function parcelOf(task: Task, before: Task | undefined): Parcel {
  const [input, known] = [inputOf(task), inputOf(before)]
  const isSame = (key: string) => typeof input[key] === 'object' && input[key] === known[key]
  const keys = Object.keys(input)
  const left = Object.fromEntries(keys.filter((key) => !isSame(key)).map((key) => [key, input[key]]))
  return { task: withInput(task, left), same: keys.filter(isSame) }
}

/** The task that a parcel stands for, by the one before, as it was unpacked. */
export function unpacked({ task, same }: Parcel, before: Task | undefined): Task {
  const known = inputOf(before)
  return withInput(task, { ...inputOf(task), ...Object.fromEntries(same.map((key) => [key, known[key]])) })
}

const withInput = (task: Task, input: Input): Task => ({
  ...task,
  recipe: { ...task.recipe, input: input as unknown } as Recipe
})

/** An answer as it is sent back: thousands of numbers of a picture and of a wall as columns, which go over without a copy. */
export interface Answer {
  readonly found: Result<Examination>
  readonly values?: Float64Array<ArrayBuffer>
  readonly wall?: Wall
}

export function answerOf(found: Result<Examined>): Answer {
  if (isRefusal(found)) return { found }
  const { examination, ...beside } = found
  const { picture } = examination
  if (picture === undefined) return { found: examination, ...beside }
  const bare = { ...examination, picture: { ...picture, values: [] } }
  return { found: bare, values: Float64Array.from(picture.values), ...beside }
}

/** What of an answer is given away with it. */
export const columnsOf = ({ values, wall }: Answer): ArrayBuffer[] =>
  [values, wall?.x, wall?.y].flatMap((column) => (column === undefined ? [] : [column.buffer as ArrayBuffer]))

export function foundIn({ found, values, wall }: Answer): Result<Examined> {
  if (isRefusal(found)) return found
  const examination = found as Examination
  const beside = wall === undefined ? {} : { wall }
  if (values === undefined) return { examination, ...beside }
  const list = new Array<number>(values.length)
  for (let i = 0; i < list.length; i++) list[i] = values[i]!
  return { examination: { ...examination, picture: { ...examination.picture!, values: list } }, ...beside }
}
