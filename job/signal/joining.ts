import { exp, log } from '@trueloop/ground/numerics'

const LN16 = log(16)

/** Half widths of the field beyond which a revolution adds nothing worth its noise. */
const REACH_WIDTHS = 0.6
const MOST_REACH = 12

/** Square of the width that is joined over, against the field's: the wall's own noise is as wide as the field. */
const NARROWER = 0.5

/**
 * Weights by which neighboring revolutions are joined for a flaw that is short against the field: the field's own profile
 * along the axis, a bell, as a least-squares fit of its size: w(r) = p(r) / Σ p². Against noise that is new in every revolution
 * the bell of the field itself would be best; noise of the wall comes through the same field, and against that a narrower one
 * is: taken is what lies between. `[reach + 1]`, for revolutions 0, ±1, …
 * @param perWidth revolutions over one width of the field
 */
export function joiningWeights(perWidth: number): Float64Array {
  const reach = Math.max(0, Math.min(MOST_REACH, Math.floor(REACH_WIDTHS * perWidth)))
  const profile = Float64Array.from({ length: reach + 1 }, (_, r) =>
    exp((-LN16 * r * r) / (NARROWER * perWidth * perWidth))
  )
  const square = profile.reduce((sum, p, r) => sum + (r === 0 ? 1 : 2) * p * p, 0)
  return profile.map((p) => p / square)
}
