import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { solveSymmetric } from '../solve.ts'
import { type CensoredRows, type CensoredSums, censoredSums } from './sums.kernel.ts'

export interface Summit extends CensoredSums {
  readonly place: Float64Array
  readonly steps: number
}

const MOST_STEPS = 100
/** gain that Newton's next step promises, in log-likelihood: its square is the error left after it */
const LAST_GAIN = 1e-20
/** The same over the likelihood where it no longer falls: sums of many rows have no more digits. */
const LAST_SHARE = 1e-15
const ROUNDING = 1e-13

/** Newton steps to the one maximum of a concave likelihood, halved while it falls. Refuses: numerics/not-converged. */
export function ascend(rows: CensoredRows, start: Float64Array): Result<Summit, NumericsCode> {
  const size = start.length
  let place = start
  let here = censoredSums(rows, place)
  let before = Number.POSITIVE_INFINITY
  for (let steps = 1; steps <= MOST_STEPS; steps++) {
    const step = solveSymmetric({ size, values: here.information }, here.gradient)
    if (isRefusal(step)) return stuck(`curvature lost after ${steps} steps`)
    const gain = step.reduce((sum, value, j) => sum + value * here.gradient[j]!, 0)
    const next = taken(rows, { place, step, least: here.value - ROUNDING * (1 + Math.abs(here.value)) })
    if (next === undefined) return stuck(`no gain along step ${steps}`)
    place = next.place
    here = next.sums
    if (gain < LAST_GAIN || (gain >= before && gain < LAST_SHARE * Math.abs(here.value)))
      return { ...here, place, steps }
    before = gain
  }
  return stuck(`no end after ${MOST_STEPS} steps`)
}

interface Step {
  readonly place: Float64Array
  readonly step: Float64Array
  readonly least: number
}

function taken(
  rows: CensoredRows,
  { place, step, least }: Step
): { readonly place: Float64Array; readonly sums: CensoredSums } | undefined {
  for (let share = 1; share > 1e-15; share *= 0.5) {
    const next = place.map((value, j) => value + share * step[j]!)
    if (!(next[next.length - 1]! > 0)) continue
    const sums = censoredSums(rows, next)
    if (sums.value >= least) return { place: next, sums }
  }
  return undefined
}

function stuck(found: string): Result<never, NumericsCode> {
  return refuse('numerics/not-converged', {
    found,
    needed: 'steps that die out at one best fit',
    remedy: 'look at the data beside the model: too few rows were read between the limits'
  })
}
