import { exp } from '@trueloop/ground/numerics'

/** e^(−chi/2) by table and series: the planes of one flaw ask for it some thousand times. */

const PER_UNIT = 8
/** Chi-square up to which the table reaches. */
const REACH = 48
const TABLE = Float64Array.from({ length: REACH * PER_UNIT + 1 }, (_, i) => exp((-0.5 * i) / PER_UNIT))

/** e^(−chi/2) to 1e-13 of itself: from the nearest of the table by six terms of the series, no farther than 1/32. */
export function likelihoodOf(chi: number): number {
  if (!(chi >= 0 && chi < REACH)) return exp(-0.5 * chi)
  const i = Math.floor(chi * PER_UNIT + 0.5)
  const r = 0.5 * (i / PER_UNIT - chi)
  return TABLE[i]! * (1 + r * (1 + r * (1 / 2 + r * (1 / 6 + r * (1 / 24 + r * (1 / 120 + r * (1 / 720)))))))
}
