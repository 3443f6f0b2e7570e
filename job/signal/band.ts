import { cubicBSplineSpectrum, exp, log, planFft } from '@trueloop/ground/numerics'

const LN2 = log(2)

/** Points of the ruler in one unit: a revolution, or a block of track. */
export const UNIT = 512

/** A band on the ruler, in cycles per unit (a revolution, or 512 ruler points of a track), 3 dB corners; low 0: none. */
export interface Band {
  readonly low: number
  readonly high: number
}

/**
 * The ruler's placing kernel: a cubic B-spline whose knots are this many ruler points apart; fixed by the band alone: near
 * a fifth of a cycle at the upper corner, a whole number of half steps of the grid, so that all elements share their knots.
 */
export function knotSpacing(band: Band): number {
  const half = 0.5 * gridStep(band)
  return half * Math.max(1, Math.round(((0.2 / band.high) * UNIT) / half))
}

/** How far the band reaches, cycles per unit: beyond it less than half a percent of a signal passes. */
export const bandReach = (band: Band): number => 2 * band.high

/** Points that a cycle at the band's reach keeps at least: what lies between two points then folds into the band by less than 1/300. */
const POINTS_A_CYCLE = 3.5
const LARGEST_STEP = 8

/**
 * Ruler points from one element to the next where a scan is examined: the largest of 1, 2, 4, 8 that leaves 3.5 elements a
 * cycle at the reach of the band. The placing kernel, fixed by the band, keeps the rest out.
 */
export function gridStep(band: Band): number {
  let step = LARGEST_STEP
  while (step > 1 && UNIT / step < POINTS_A_CYCLE * bandReach(band)) step >>= 1
  return step
}

/** Elements of a unit that lie `step` ruler points apart, as a whole number that the compiler sees to be one. */
export const elementsOf = (step: number): number => (UNIT / step) | 0

/**
 * Gain at k cycles per unit. Constant, and whatever repeats once or twice a unit below the low corner (run-out, ovality),
 * is removed wholly; 3 dB at both corners; the low pass falls as exp(−k⁴); the placing kernel's own fall is made good.
 */
export function bandGain(band: Band, k: number): number {
  if (band.low > 0 && k <= Math.min(2, Math.floor(band.low))) return 0
  if (k > bandReach(band)) return 0
  const high = band.low > 0 ? highPass(k / band.low) : 1
  const placing = cubicBSplineSpectrum((knotSpacing(band) * k) / UNIT)
  return (high * lowPassGain(band, k)) / placing
}

/** What the low pass alone leaves of k cycles per unit. */
export function lowPassGain(band: Band, k: number): number {
  const down = k / band.high
  return k > bandReach(band) ? 0 : exp(-0.5 * LN2 * down * down * down * down)
}

/** 1 − exp(−a·k⁴) with 3 dB at k = 1. */
const highPass = (k: number): number => 1 - exp(-1.2279471772995156 * k * k * k * k)

/** A spectrum at whole cycles, complex: element k holds k cycles (k above half the length: k − length). */
export interface Gains {
  readonly re: Float64Array
  readonly im: Float64Array
}

/** The band's gain at whole cycles of a unit of `points` elements. */
export function bandGains(band: Band, points: number = UNIT): Gains {
  const re = new Float64Array(points)
  for (let k = 0; k <= points / 2; k++) {
    re[k] = bandGain(band, k)
    if (k > 0) re[points - k] = re[k]!
  }
  return { re, im: new Float64Array(points) }
}

/**
 * Spectrum, over blocks of two units, of the kernel of ± half a unit that has these gains at whole cycles per unit:
 * `[2 · points]`. The value at ± half a unit is shared between both ends.
 */
export function kernelSpectrum(gains: Gains): Gains {
  const points = gains.re.length
  const kernel = { re: gains.re.slice(), im: gains.im.slice() }
  planFft(points).inverse(kernel.re, kernel.im)
  const wide = { re: wideKernel(kernel.re), im: wideKernel(kernel.im) }
  planFft(2 * points).forward(wide.re, wide.im)
  return wide
}

function wideKernel(kernel: Float64Array): Float64Array {
  const points = kernel.length
  const wide = new Float64Array(2 * points)
  for (let t = 0; t < points / 2; t++) {
    wide[t] = kernel[t]!
    if (t > 0) wide[2 * points - t] = kernel[points - t]!
  }
  wide[points / 2] = 0.5 * kernel[points / 2]!
  wide[2 * points - points / 2] = 0.5 * kernel[points / 2]!
  return wide
}

/** The same for the band alone: a symmetric kernel, so real and even, `[1024]`. Zero phase. */
export const bandSpectrum = (band: Band): Float64Array => kernelSpectrum(bandGains(band)).re

/** A differential pulse on one unit, centered: derivative of a bell, lobes `spacing` ruler points apart, `[512]`. */
function pulse(spacing: number): Float64Array {
  return Float64Array.from({ length: UNIT }, (_, i) => {
    const t = (i - UNIT / 2) / (0.5 * spacing)
    return -t * exp(-0.5 * t * t)
  })
}

/** The same pulse as the band leaves it, with the band applied as it is applied to a signal, `[512]`. */
export function bandedPulse(band: Band, spacing: number): Float64Array {
  const re = pulse(spacing)
  const im = new Float64Array(UNIT)
  const fft = planFft(UNIT)
  fft.forward(re, im)
  for (let k = 0; k < UNIT; k++) {
    const cycles = Math.min(k, UNIT - k)
    const gain = bandGain(band, cycles) * cubicBSplineSpectrum((knotSpacing(band) * cycles) / UNIT)
    re[k] = re[k]! * gain
    im[k] = im[k]! * gain
  }
  fft.inverse(re, im)
  return re
}

/** Share of the peak-to-peak of a differential pulse (lobes `spacing` ruler points apart) that the band takes, 0 to 1. */
export const pulseLoss = (band: Band, spacing: number): number =>
  1 - peakToPeak(bandedPulse(band, spacing)) / peakToPeak(pulse(spacing))

function peakToPeak(values: Float64Array): number {
  let least = values[0]!
  let most = values[0]!
  for (const value of values) {
    least = Math.min(least, value)
    most = Math.max(most, value)
  }
  return most - least
}
