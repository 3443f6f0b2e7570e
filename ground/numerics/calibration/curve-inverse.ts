import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { type Between, rootBetween } from '../root.ts'
import { studentQuantile } from '../sampling.ts'
import type { FittedCurve } from './curves.ts'
import { checkQuestion, type InverseQuestion } from './inverse.ts'

/** As for a line. Nothing here has a default: each choice alters the interval. */
export interface CurveQuestion extends Omit<InverseQuestion, 'range'> {
  /** where the value is looked for; the curve only rises or only falls there */
  readonly between: Between
  /** least |d ln y/d ln x| at the value: below it the curve is too level to tell x from y; 0 asks for none */
  readonly leastSteepness: number
}

export interface CurvePrediction {
  readonly estimate: number
  /** ends of the values that the readings do not contradict; undefined where it is open on that side */
  readonly lower: number | undefined
  readonly upper: number | undefined
  /** by linear propagation */
  readonly standardError: number
  readonly propagated: { readonly lower: number; readonly upper: number }
  readonly sigma: number
  readonly dof: number
}

interface Known {
  readonly reading: number
  readonly sigma: number
  readonly dof: number
  /** 1/m, or 0 for a mean that is known */
  readonly perReading: number
}

/**
 * The value x of an unknown from its m readings on a calibration curve, with the interval of x that
 * |mean reading - f(x)| <= t sqrt(s^2/m + s^2 g(x)' C g(x)) leaves, C the covariance of the parameters over s^2 and g the
 * derivatives by them: for a line exactly Fieller's. For a curve that is not straight in its parameters it holds as far as
 * the tangent plane does.
 * Refuses: numerics/beyond-standards (the reading lies outside the curve between the ends asked for), numerics/plateau.
 * Throws RangeError as `inversePrediction`. source: draper-smith-1998, 3.2; greenwell-kabban-2014
 */
export function curveInverse(curve: FittedCurve, asked: CurveQuestion): Result<CurvePrediction, NumericsCode> {
  checkQuestion(asked)
  const known = knownFrom(curve, asked)
  const off = (x: number): number => valueAt(curve, x) - known.reading
  const { low, high } = asked.between
  if (!(off(low) * off(high) <= 0)) return beyond(known.reading, asked.between)
  const estimate = rootBetween(off, { low, high })
  const steepness = curve.form.steepness(estimate, curve.parameters)
  const share = Math.abs((steepness * estimate) / known.reading)
  if (share < asked.leastSteepness) return plateau(estimate, share)
  const t = studentQuantile(0.5 + 0.5 * asked.confidence, known.dof)
  const sense = off(high) >= off(low) ? 1 : -1
  const below = (x: number): number => sense * off(x) + t * scatterAt(curve, known, x)
  const above = (x: number): number => sense * off(x) - t * scatterAt(curve, known, x)
  const standardError = scatterAt(curve, known, estimate) / Math.abs(steepness)
  return {
    estimate,
    lower: below(low) <= 0 ? rootBetween(below, { low, high: estimate }) : undefined,
    upper: above(high) >= 0 ? rootBetween(above, { low: estimate, high }) : undefined,
    standardError,
    propagated: { lower: estimate - t * standardError, upper: estimate + t * standardError },
    sigma: known.sigma,
    dof: known.dof
  }
}

/** s^2 = (RSS + sum (y0 - mean y0)^2)/(dof + m - 1) where pooled. source: greenwell-kabban-2014 */
function knownFrom({ sigma, dof }: FittedCurve, { readings, of, scatter }: CurveQuestion): Known {
  const count = readings.length
  const reading = readings.reduce((total, y) => total + y, 0) / count
  const perReading = of === 'mean' ? 0 : 1 / count
  if (scatter === 'line') return { reading, sigma, dof, perReading }
  const within = readings.reduce((total, y) => total + (y - reading) * (y - reading), 0)
  const all = dof + count - 1
  return { reading, sigma: Math.sqrt((sigma * sigma * dof + within) / all), dof: all, perReading }
}

const valueAt = ({ form, parameters }: FittedCurve, x: number): number =>
  form.at(x, parameters, new Float64Array(parameters.length))

/** Standard deviation of the mean reading less the curve. */
function scatterAt({ form, parameters, covariance, sigma: own }: FittedCurve, known: Known, x: number): number {
  const slopes = new Float64Array(parameters.length)
  form.at(x, parameters, slopes)
  let ofCurve = 0
  for (let i = 0; i < slopes.length; i++)
    for (let j = 0; j < slopes.length; j++)
      ofCurve += slopes[i]! * slopes[j]! * covariance.values[i * slopes.length + j]!
  const rescaled = own === 0 ? 0 : (ofCurve / own / own) * known.sigma * known.sigma
  return Math.sqrt(known.sigma * known.sigma * known.perReading + Math.max(0, rescaled))
}

function beyond(reading: number, { low, high }: Between): Result<never, NumericsCode> {
  return refuse('numerics/beyond-standards', {
    found: `a reading of ${reading}`,
    needed: `a reading that the curve has between ${low} and ${high}`,
    remedy: 'report it as below the smallest or above the largest standard, or calibrate with standards beyond it'
  })
}

function plateau(estimate: number, share: number): Result<never, NumericsCode> {
  return refuse('numerics/plateau', {
    found: `a curve that changes by ${share} of a share at ${estimate}`,
    needed: 'a reading on the part of the curve that still rises',
    remedy: 'report a bound: the value is at least that of the nearest standard with a clearly smaller reading'
  })
}
