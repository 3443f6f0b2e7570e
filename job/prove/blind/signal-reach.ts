import { exp, log, noncentralTQuantile, normalQuantile, rootBetween } from '@trueloop/ground/numerics'
import type { Expected } from './reach.ts'

const Z90 = normalQuantile(0.9)
const CONFIDENCE = 0.95
const FARTHEST = 40

/**
 * a90/95 over a90 that a trial by signals will show if what is expected comes true, every signal read, response straight in
 * ln size: the exact bound with the scatter as it is expected, the smallest x with
 * (x - mu)/sigma = t'(0.95; n - 2, z90/sqrt(d)) sqrt(d), d = 1/n + (x - mean)^2/Sxx. Undefined for fewer than three flaws or one
 * size, and where no size is bounded. source: owen-1968
 */
export function signalReachOf(sizes_mm: readonly number[], { a50_mm, a90_mm }: Expected): number | undefined {
  const x = sizes_mm.filter((size) => size > 0).map((size) => log(size))
  if (!(a50_mm > 0 && a90_mm > a50_mm) || x.length < 3 || x.every((one) => one === x[0])) return undefined
  const mean = x.reduce((sum, one) => sum + one, 0) / x.length
  const spread = x.reduce((sum, one) => sum + (one - mean) * (one - mean), 0)
  const [middle, sigma] = [log(a50_mm), log(a90_mm / a50_mm) / Z90]
  const above = (at: number): number => {
    const root = Math.sqrt(1 / x.length + ((at - mean) * (at - mean)) / spread)
    const t = noncentralTQuantile({ tail: 'lower', share: CONFIDENCE }, { dof: x.length - 2, shift: Z90 / root })
    return (at - middle) / sigma - t * root
  }
  const high = middle + FARTHEST * sigma
  return above(high) > 0 ? exp(rootBetween(above, { low: middle, high })) / a90_mm : undefined
}
