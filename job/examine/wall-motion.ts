import {
  giveBack,
  type MagnitudeHistogram,
  magnitudeHistogram,
  magnitudeQuantile,
  PI,
  principalAxes
} from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import type { ScannedUnit } from '../signal/index.ts'
import type { Standardization } from '../standardize/index.ts'
import { countMotion } from './wall-motion.kernel.ts'

/** Ruler points of which every so many are counted. */
const EVERY = 16
/** Magnitudes are counted up to this many times the reference's median motion. */
const REACH = 16
const BINS = 4096

/** What the wall's vibration says of the plane it is seen in. */
export interface MotionAxis {
  /** direction of the vibration, −π/2 to π/2: 0 is where the reference scan had lift-off */
  readonly angle_rad: number
  /** longer over shorter spread; without end where all of it lies on one line */
  readonly ratio: number
}

/**
 * Motion of the wall signal while the probe was in the metal: the placed signal less its sliding mean, standardized.
 * Counted in fixed bins, so that it depends on nothing but the ruler: its size, and its magnitudes along x, y and both
 * diagonals, whose medians give the second moments. source: gnanadesikan-kettenring-1972
 */
export class WallMotion {
  readonly #sizes: MagnitudeHistogram
  readonly #along: readonly [MagnitudeHistogram, MagnitudeHistogram, MagnitudeHistogram, MagnitudeHistogram]
  readonly #turn: Standardization['turn']
  /** points counted */
  counted = 0

  constructor({ turn, wallMotion }: Standardization) {
    const counts = () => magnitudeHistogram({ max: REACH * (wallMotion > 0 ? wallMotion : 0.1), bins: BINS })
    this.#sizes = counts()
    this.#along = [counts(), counts(), counts(), counts()]
    this.#turn = turn
  }

  add({ placed, mean, step }: ScannedUnit): void {
    const sizes = this.#sizes
    const [xs, ys, plus, minus] = this.#along
    this.counted += countMotion(placed, mean, this.#turn, {
      stride: EVERY / step,
      scale: sizes.spec.bins / sizes.spec.max,
      sizes: sizes.counts,
      along: [xs.counts, ys.counts, plus.counts, minus.counts]
    })
  }

  /** Gives its counts back: nothing can be asked of it any more. */
  release(): void {
    for (const { counts } of [this.#sizes, ...this.#along]) giveBack(counts)
    this.counted = 0
  }

  /** Median size of the motion, 1 = the named notch; 0 where nothing was counted. */
  get median(): number {
    return medianOf(this.#sizes, this.counted)
  }

  /** Its direction; undefined where nothing was counted or nothing moved. */
  axis(): MotionAxis | undefined {
    const [x, y, plus, minus] = this.#along.map((counts) => medianOf(counts, this.counted)) as [
      number,
      number,
      number,
      number
    ]
    const moments = { xx: x * x, xy: 0.25 * (plus * plus - minus * minus), yy: y * y }
    if (!(moments.xx + moments.yy > 0)) return undefined
    const { angle_rad, major, minor } = principalAxes(moments)
    return { angle_rad: angle_rad > PI / 2 ? angle_rad - PI : angle_rad, ratio: ratioOf(major, minor) }
  }
}

const ratioOf = (major: number, minor: number): number => (minor > 0 ? Math.sqrt(major / minor) : Number.MAX_VALUE)

function medianOf(histogram: MagnitudeHistogram, counted: number): number {
  const median = magnitudeQuantile(histogram, 0.5, counted)
  return isRefusal(median) ? 0 : median
}
