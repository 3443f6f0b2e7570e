import { exp, log, PI, TAU } from '@trueloop/ground/numerics'
import { bandFromFootprint, bellWidth, type Corners, pulseCenter } from '../footprint.ts'
import type { HoleSheet } from '../sheet.ts'

/** Bands and what an instrument's fixed filters need at this speed. Widths in m, corners in cycles per revolution and Hz. */
export interface BandAdvice {
  readonly diameter_mm: number
  readonly footprint_mm: number
  readonly pulse_center: number
  readonly band: Corners
  /** What the filters of an instrument may be, at the nominal speed. */
  readonly high_pass_most_Hz: number
  readonly low_pass_least_Hz: number
  /** How far the pulse lies above what ovality and three lobes do: below 2 no filter separates them. */
  readonly over_ovality: number
  readonly over_three_lobes: number
  /** Share of the peak-to-peak that the stated high-pass of the instrument takes. */
  readonly high_pass_loss?: number
}

/** From here a filter is said to separate; derived in the trade's own figures, a rule of ours. */
export const SEPARABLE = 2

export function bandAdvice({ technique }: HoleSheet, diameter_m: number): BandAdvice {
  const footprint = bellWidth(technique.lobe_spacing_mm * 1e-3)
  const center = pulseCenter(diameter_m, footprint)
  const turns_s = technique.rotation_rpm / 60
  const passes_per_s = (PI * diameter_m * turns_s) / footprint
  const corner = technique.filter_corners?.high_pass_Hz
  return {
    diameter_mm: 1000 * diameter_m,
    footprint_mm: 1000 * footprint,
    pulse_center: center,
    band: bandFromFootprint(diameter_m, technique.lobe_spacing_mm * 1e-3),
    high_pass_most_Hz: cornerForLoss(0.1) * passes_per_s,
    low_pass_least_Hz: 2 * center * turns_s,
    over_ovality: center / 2,
    over_three_lobes: center / 3,
    ...(corner === undefined ? {} : { high_pass_loss: highPassLoss(corner / passes_per_s) })
  }
}

const WIDTH_IN_SIGMA = 2 * Math.sqrt(2 * log(2))
const STEP = 1 / 200
const REACH = 12

/**
 * Share of the peak-to-peak of a differential pulse, the derivative of a bell of half-height width w, that a causal high-pass
 * takes whose corner is `corner` / (time that the width takes): the larger of first and second order (maximally flat), since an
 * instrument seldom says which it is. 0 to 1.
 */
export const highPassLoss = (corner: number): number =>
  Math.max(lossOf(filteredOnce, corner), lossOf(filteredTwice, corner))

type Filter = (omega: number) => (value: number) => number

const filteredOnce: Filter = (omega) => {
  const fall = exp(-omega * STEP)
  let [last, out] = [0, 0]
  return (value) => {
    out = fall * out + 0.5 * (1 + fall) * (value - last)
    last = value
    return out
  }
}

/** s² / (s² + √2 ω s + ω²), integrated by the midpoint of each step. */
const filteredTwice: Filter = (omega) => {
  const k = 0.5 * omega * STEP
  const scale = 1 / (1 + Math.SQRT2 * k + k * k)
  let [x1, x2, y1, y2] = [0, 0, 0, 0]
  return (value) => {
    const out = scale * (value - 2 * x1 + x2 + 2 * (1 - k * k) * y1 - (1 - Math.SQRT2 * k + k * k) * y2)
    x2 = x1
    x1 = value
    y2 = y1
    y1 = out
    return out
  }
}

function lossOf(filter: Filter, corner: number): number {
  const next = filter((TAU * corner) / WIDTH_IN_SIGMA)
  let [least, most] = [0, 0]
  for (let t = -REACH; t <= REACH; t += STEP) {
    const out = next(-t * exp(-0.5 * t * t))
    least = Math.min(least, out)
    most = Math.max(most, out)
  }
  return 1 - (most - least) / (2 * exp(-0.5))
}

/** The corner at which a loss is reached, by halving; losses rise with the corner. */
function cornerForLoss(loss: number): number {
  let [low, high] = [0, 0.5]
  for (let i = 0; i < 20; i++) {
    const middle = 0.5 * (low + high)
    if (highPassLoss(middle) > loss) high = middle
    else low = middle
  }
  return low
}
