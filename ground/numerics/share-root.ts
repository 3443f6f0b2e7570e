import { exp, log } from './elementary.ts'

/** A share of probability at a place and its derivative there (to log x on the positive scale, to x on the line). */
export interface ShareAt {
  readonly share: number
  readonly slope: number
}

export interface ShareSearch {
  /** the share wanted, > 0 and at most about 1/2, so that its logarithm is well posed */
  readonly goal: number
  readonly start: number
  /** whether the share grows with x; far out the slope itself may be lost to zero */
  readonly rises: boolean
  readonly at: (x: number) => ShareAt
}

interface Scale {
  readonly moved: (x: number, step: number) => number
  readonly middle: (low: number, high: number) => number
}

export interface Bracket {
  readonly low: number
  readonly high: number
}

const positive: Scale = {
  moved: (x, step) => x * exp(step),
  middle: (low, high) => Math.sqrt(low) * Math.sqrt(high)
}

const line: Scale = { moved: (x, step) => x + step, middle: (low, high) => 0.5 * (low + high) }

const STEPS = 400
const LAST_STEP = 1e-9

/** x > 0 with share(x) = goal: Newton steps on log share over log x, bisection where one leaves the bracket. */
export const rootOnPositive = (search: ShareSearch): number =>
  root(search, { low: Number.MIN_VALUE, high: Number.MAX_VALUE }, positive)

/** The same on a bracket of the line. Throws RangeError where it does not converge, as all of this file. */
export const rootOnLine = (search: ShareSearch, bracket: Bracket): number => root(search, bracket, line)

/** Newton's method safeguarded by a bracket; the last step is below 1e-9, so that the next one would be rounding. */
function root({ goal, start, rises, at }: ShareSearch, bracket: Bracket, { moved, middle }: Scale): number {
  let { low, high } = bracket
  let x = start
  for (let i = 0; i < STEPS; i++) {
    const { share, slope } = at(x)
    const isBeyond = rises ? share > goal : share < goal
    if (share === goal) return x
    if (isBeyond) high = x
    else low = x
    const step = (-log(share / goal) * share) / slope
    const next = moved(x, step)
    const isInside = next > low && next < high
    if (Math.abs(step) < LAST_STEP && !Number.isNaN(next)) return next
    x = isInside ? next : middle(low, high)
    if (x === low || x === high) return x
  }
  throw new RangeError(`no place was found with a share of ${goal}`)
}
