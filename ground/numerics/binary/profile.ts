import { isRefusal, type Result } from '../../refusal/index.ts'
import type { NumericsCode } from '../codes.ts'
import { climb } from './climb.ts'
import type { Fall } from './crossing.ts'
import { type BinaryFit, standardized } from './fit.ts'
import type { Sums } from './sums.kernel.ts'
import type { Target } from './target.ts'

/** Coefficients (b0, b1) = base + beta direction: what is left free when one thing about the curve is held. */
interface Ray {
  readonly base: readonly [number, number]
  readonly direction: readonly [number, number]
}

/** How the held value t makes a ray, and the derivative of the goal to t at the best beta. */
export interface Family {
  readonly ray: (t: number) => Ray
  readonly slope: (best: Sums, beta: number) => number
  /** beta of a pair of coefficients that lies on a ray */
  readonly beta: (b: readonly [number, number]) => number
}

/** eta held at a value where z = place. */
export const heightAt = (place: number): Family => ({
  ray: (eta) => ({ base: [eta, 0], direction: [-place, 1] }),
  slope: ({ u0 }) => u0,
  beta: ([, b1]) => b1
})

/** The z held at which the curve reaches eta. */
export const placeOf = (eta: number): Family => ({
  ray: (z) => ({ base: [eta, 0], direction: [-z, 1] }),
  slope: ({ u0 }, beta) => -beta * u0,
  beta: ([, b1]) => b1
})

/** The slope held. */
export const slopeHeld: Family = {
  ray: (b1) => ({ base: [0, b1], direction: [1, 0] }),
  slope: ({ u1 }) => u1,
  beta: ([b0]) => b0
}

/** A step below it is the last one, and leaves its square: 12 digits of beta, and all of the value, which is flat there. */
const WITHIN = 1e-6

/** The profile of a fit over one held value: twice the fall of the goal below its top, in standardized x. */
export function profileOf(fit: BinaryFit, family: Family): (t: number) => Result<Fall, NumericsCode> {
  const { target, b } = standardized(fit)
  const top = target(...b).value
  let beta = family.beta(b)
  return (t) => {
    const best = along(target, family.ray(t), beta)
    if (isRefusal(best)) return best
    beta = best.beta
    return { fall: 2 * (top - best.sums.value), slope: -2 * family.slope(best.sums, beta) }
  }
}

/** The best of a ray. */
function along(
  target: Target,
  { base, direction: [d0, d1] }: Ray,
  start: number
): Result<{ readonly beta: number; readonly sums: Sums }, NumericsCode> {
  const seen = new Map<Float64Array, Sums>()
  const top = climb({
    start: Float64Array.of(start),
    at: (place) => {
      const sums = target(base[0] + place[0]! * d0, base[1] + place[0]! * d1)
      seen.set(place, sums)
      const { value, u0, u1, h00, h01, h11 } = sums
      const curvature = d0 * d0 * h00 + 2 * d0 * d1 * h01 + d1 * d1 * h11
      return { value, gradient: Float64Array.of(d0 * u0 + d1 * u1), curvature: Float64Array.of(curvature) }
    },
    within: WITHIN
  })
  return isRefusal(top) ? top : { beta: top.place[0]!, sums: seen.get(top.place)! }
}
