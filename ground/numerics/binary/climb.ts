import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { solveSymmetric } from '../solve.ts'

/** A function of a few parameters at one place, with its gradient and a positive stand-in for its curvature. */
export interface Height {
  readonly value: number
  readonly gradient: Float64Array
  /** [row * size + column]; the negative second derivatives or what is expected of them */
  readonly curvature: Float64Array
}

export interface Slope {
  readonly start: Float64Array
  readonly at: (place: Float64Array) => Height
  /** largest step left, relative to max(1, |parameter|) */
  readonly within: number
}

export interface Top {
  readonly place: Float64Array
  readonly height: Height
  readonly steps: number
  /** the last step, as `within` counts it */
  readonly lastStep: number
}

const MOST_STEPS = 200
const MOST_HALVINGS = 60
/** a fall by less than this share of the value is rounding */
const ROUNDING = 1e-13
const SCORE = 1e-10
/** largest step, relative to max(1, |parameter|): where the curvature is next to nothing a step says only which way */
const LARGEST = 4

/**
 * Newton steps uphill, halved while the value falls; stops where the step is below `within` and the gradient below
 * 1e-10 of 1 + curvature, both. Refuses: numerics/not-converged. source: mccullagh-nelder-1989, 2.5
 */
export function climb({ start, at, within }: Slope): Result<Top, NumericsCode> {
  let place = start
  let height = at(start)
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const step = held(stepFrom(height), place)
    const size = relative(step, place)
    if (!(size < Number.POSITIVE_INFINITY)) return stuck(steps, size)
    const next = taken({ place, height, step, at })
    if (next === undefined) return isFlat(height) ? { place, height, steps, lastStep: size } : stuck(steps, size)
    place = next.place
    height = next.height
    if (size < within && isFlat(height)) return { place, height, steps: steps + 1, lastStep: size }
  }
  return stuck(MOST_STEPS, relative(stepFrom(height), place))
}

/** Newton's step; where the curvature is not positive, with a growing part of its diagonal added. */
function stepFrom({ gradient, curvature }: Height): Float64Array {
  const size = gradient.length
  const solved = solveSymmetric({ size, values: curvature }, gradient)
  if (!isRefusal(solved)) return solved
  const largest = curvature.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-8)
  for (let ridge = 1e-6; ridge < 1e9; ridge *= 10) {
    const values = curvature.map((value, i) => (i % (size + 1) === 0 ? value + ridge * largest : value))
    const damped = solveSymmetric({ size, values }, gradient)
    if (!isRefusal(damped)) return damped
  }
  return gradient.map(() => Number.NaN)
}

interface Step {
  readonly place: Float64Array
  readonly height: Height
  readonly step: Float64Array
  readonly at: Slope['at']
}

function taken({
  place,
  height,
  step,
  at
}: Step): { readonly place: Float64Array; readonly height: Height } | undefined {
  const least = height.value - ROUNDING * (1 + Math.abs(height.value))
  for (let i = 0, share = 1; i < MOST_HALVINGS; i++, share *= 0.5) {
    const next = place.map((value, j) => value + share * step[j]!)
    const there = at(next)
    if (there.value >= least && there.gradient.every(Number.isFinite)) return { place: next, height: there }
  }
  return undefined
}

const relative = (step: Float64Array, place: Float64Array): number =>
  step.reduce((most, value, i) => Math.max(most, Math.abs(value) / Math.max(1, Math.abs(place[i]!))), 0)

function held(step: Float64Array, place: Float64Array): Float64Array {
  const size = relative(step, place)
  return size > LARGEST && size < Number.POSITIVE_INFINITY ? step.map((value) => (value * LARGEST) / size) : step
}

const isFlat = ({ gradient, curvature }: Height): boolean =>
  gradient.every((value, i) => Math.abs(value) <= SCORE * (1 + Math.abs(curvature[i * (gradient.length + 1)]!)))

function stuck(steps: number, size: number): Result<never, NumericsCode> {
  return refuse('numerics/not-converged', {
    found: Number.isFinite(size) ? `a step of ${size} left after ${steps} steps` : `no way up after ${steps} steps`,
    needed: 'steps that die out at one best fit',
    remedy: 'look at the data beside the model: it may hold nothing that the model could settle on'
  })
}
