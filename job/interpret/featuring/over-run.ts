import { medianInPlace } from '@trueloop/ground/numerics'
import type { Features } from '../features.ts'
import type { Sheet } from '../sheet.ts'
import type { FeatureContext } from './context.ts'
import type { Complex } from './metric.ts'
import type { Ridge } from './ridge.ts'
import { sizeAt } from './size.ts'

/** Revolutions that are taken together, and how many more a run needs than what may stand on it. */
const TOGETHER = 3
const LEAST_REST = 4
/** Variance of a median over that of a mean, of many normal values: π/2. */
const MEDIAN = 1.5707963267948966

export interface OverRunRule {
  readonly noise: FeatureContext['noise']
  /** directions of the notches, length 1 */
  readonly notches: readonly Complex[]
  /** revolutions that something on a run may take */
  readonly rows: number
}

/**
 * What stands on a long run: the part along a notch by which three revolutions of it differ from the run as a whole, that
 * no change of size along the run's own direction explains. With u the run's direction (medians), n a notch's and d the
 * difference: b = (u × d)/(u × n). The largest over the run and the notches, in deviations of the noise, with its size.
 * `'unknown'` for a run too short to have a direction beside what may stand on it.
 */
export function overRunOf(sheet: Sheet, ridge: Ridge, { noise, notches, rows }: OverRunRule): Features['overRun'] {
  const count = ridge.last - ridge.first + 1
  if (count < 2 * rows + LEAST_REST || notches.length === 0) return 'unknown'
  const c = straightSizes(sheet, ridge)
  const own = { x: medianInPlace(c.x.slice()), y: medianInPlace(c.y.slice()) }
  const across = noise.xx * own.y * own.y - 2 * noise.xy * own.x * own.y + noise.yy * own.x * own.x
  const deviation = Math.sqrt(Math.max(0, across) * (1 / TOGETHER + MEDIAN / count))
  if (!(deviation > 0)) return 'unknown'
  const turned = mostTurned(c, own)
  return notches.reduce(
    (best, notch) => {
      const apart = cross(own, notch)
      const signalToNoise = (apart < 0 ? -turned.least : turned.most) / deviation
      const size = (apart < 0 ? turned.least : turned.most) / apart
      return signalToNoise > best.signalToNoise ? { size, signalToNoise } : best
    },
    { size: 0, signalToNoise: 0 }
  )
}

interface Sizes {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Largest and smallest u × d over three revolutions in a row. */
function mostTurned({ x, y }: Sizes, own: Complex) {
  let [most, least] = [0, 0]
  for (let at = 0; at + TOGETHER <= x.length; at++) {
    let sum = 0
    for (let i = at; i < at + TOGETHER; i++) sum += (own.x * y[i]! - own.y * x[i]!) / TOGETHER
    most = Math.max(most, sum)
    least = Math.min(least, sum)
  }
  return { most, least }
}

const cross = (a: Complex, b: Complex): number => a.x * b.y - a.y * b.x

/** Sizes of the run on a straight line through its peak: what lies beside a run and draws its ridge away is not on it. */
function straightSizes(sheet: Sheet, { rows, peak, first, last }: Ridge): Sizes {
  const moves = new Float64Array(last - first)
  for (let i = 0; i < moves.length; i++) moves[i] = rows[first + i + 1]!.at - rows[first + i]!.at
  const move = moves.length > 0 ? medianInPlace(moves) : 0
  const x = new Float64Array(last - first + 1)
  const y = new Float64Array(x.length)
  for (let i = 0; i < x.length; i++) {
    const c = sizeAt(sheet, rows[peak]!.at + (first + i - peak) * move)
    x[i] = c.x
    y[i] = c.y
  }
  return { x, y }
}
