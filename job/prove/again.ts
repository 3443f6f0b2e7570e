import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { canonical } from '../record/index.ts'
import { type Code, refuse } from './codes.ts'

/** What any result has that can be worked out again. */
interface Again {
  readonly method: number
  readonly program: string
  readonly data: { readonly sha256: string }
}

export interface Same<T> {
  readonly result: T
  /** whether every figure came out the same, to the bit */
  readonly same: boolean
}

/**
 * A study worked out again: by the method that made it, from the rows that its hash names. The program may be another one.
 * Refuses: prove/other-method, prove/other-data, and as `work`.
 */
export function workedAgain<T extends Again>(
  before: T,
  now: { readonly method: number; readonly sha256: string },
  work: () => Result<T, Code>
): Result<Same<T>, Code> {
  if (before.method !== now.method) return otherMethod(before.method, now.method)
  if (before.data.sha256 !== now.sha256) return otherData(before.data.sha256, now.sha256)
  const result = work()
  return isRefusal(result) ? result : { result, same: figures(result) === figures(before) }
}

/** All but the name of the program; typed arrays inside as plain lists. */
const figures = ({ program: _, ...rest }: Again): string => canonical(JSON.parse(JSON.stringify(rest)))

const otherMethod = (found: number, needed: number): Refusal<Code> =>
  refuse('prove/other-method', {
    found: `a result by method ${found}`,
    needed: `method ${needed}, which this program has`,
    remedy: 'work it out again with the program that made it, or state a new result by this method beside it'
  })

const otherData = (needed: string, found: string): Refusal<Code> =>
  refuse('prove/other-data', {
    found: `rows with the hash ${found}`,
    needed: `the rows with the hash ${needed}`,
    remedy: 'give the table that the result was made from, unchanged and in its order'
  })
