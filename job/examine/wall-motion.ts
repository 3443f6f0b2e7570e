import {
  cloudOf,
  countMagnitudes,
  countPoints,
  histogramTotal,
  type MagnitudeHistogram,
  magnitudeHistogram,
  magnitudeQuantile,
  PI,
  type PlaneHistogram,
  planeHistogram,
  principalAxes,
  robustScatter
} from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { type ConditionedRevolution, UNIT } from '../signal/index.ts'
import type { Standardization } from '../standardize/index.ts'

/** Points of a revolution of which every so many are counted. */
const EVERY = 4
/** The plane reaches this many times the reference's median motion on each side. */
const REACH = 8
const BINS = 256
const DOF = 3

/** What the wall's vibration says of the plane it is seen in. */
export interface MotionAxis {
  /** direction of the vibration, −π/2 to π/2: 0 is where the reference scan had lift-off */
  readonly angle_rad: number
  /** longer over shorter spread; without end where all of it lies on one line */
  readonly ratio: number
}

/**
 * Motion of the wall signal while the probe was in the metal: the placed signal less its sliding mean, standardized.
 * Counted in fixed bins, so that it depends on nothing but the ruler.
 */
export class WallMotion {
  readonly #sizes: MagnitudeHistogram = magnitudeHistogram({ max: 8, bins: 8192 })
  readonly #plane: PlaneHistogram
  readonly #turn: Standardization['turn']

  constructor({ turn, wallMotion }: Standardization) {
    const reach = REACH * (wallMotion > 0 ? wallMotion : 0.1)
    const axis = { min: -reach, max: reach, bins: BINS }
    this.#plane = planeHistogram({ x: axis, y: axis })
    this.#turn = turn
  }

  add({ placed, mean }: ConditionedRevolution): void {
    const turn = this.#turn
    const x = new Float64Array(UNIT / EVERY)
    const y = new Float64Array(UNIT / EVERY)
    const sizes = new Float64Array(UNIT / EVERY)
    for (let i = 0; i < x.length; i++) {
      const dx = placed.x[EVERY * i]! - mean.x[EVERY * i]!
      const dy = placed.y[EVERY * i]! - mean.y[EVERY * i]!
      x[i] = dx * turn.x - dy * turn.y
      y[i] = dx * turn.y + dy * turn.x
      sizes[i] = Math.sqrt(x[i]! * x[i]! + y[i]! * y[i]!)
    }
    countMagnitudes(this.#sizes, sizes)
    countPoints(this.#plane, x, y)
  }

  get counted(): number {
    return histogramTotal(this.#sizes)
  }

  /** Median size of the motion, 1 = the named notch; 0 where nothing was counted. */
  get median(): number {
    const median = magnitudeQuantile(this.#sizes, 0.5)
    return isRefusal(median) ? 0 : median
  }

  /** Its direction; undefined where too little was counted. */
  axis(): MotionAxis | undefined {
    const scatter = robustScatter(cloudOf(this.#plane), DOF)
    if (isRefusal(scatter)) return undefined
    const { angle_rad, major, minor } = principalAxes(scatter)
    return { angle_rad: angle_rad > PI / 2 ? angle_rad - PI : angle_rad, ratio: Math.sqrt(major / minor) }
  }
}
