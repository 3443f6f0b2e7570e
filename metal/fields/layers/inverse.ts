import { asin, exp, log } from '@trueloop/ground/numerics'
import { meters, type Quantity, radians, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { type PlanePoint, type PlaneView, planePoint } from './curves.ts'
import { raised } from './probe.ts'
import {
  determinant,
  type Pair,
  type Place,
  placesNear,
  type Search,
  type Slopes,
  sizeOf,
  slopesAt,
  stepFor
} from './search.ts'

/** A measured place in the normalized impedance plane, with the standard uncertainties of its two parts. */
export interface MeasuredPoint {
  readonly point: PlanePoint
  readonly uncertainty: PlanePoint
  /** Of the errors of the two parts, between -1 and 1. */
  readonly correlation: number
}

/** What is looked for, and where: nothing is known of other answers outside these ranges. */
export interface Sought {
  /** The coil at its smallest lift-off over the layers; what is looked for is replaced in it. */
  readonly view: PlaneView
  /** Conductivity of the layer `of`. */
  readonly conductivity: { readonly of: number; readonly from: Quantity<'S/m'>; readonly to: Quantity<'S/m'> }
  /** Thickness of the layer `of` (a coating, a plate), or the rise above the lift-off of the view. */
  readonly distance: { readonly of: 'lift-off' | number; readonly from: Quantity<'m'>; readonly to: Quantity<'m'> }
}

/** An answer with the standard uncertainties that follow from those of the measurement, and from nothing else. */
export interface Found {
  readonly conductivity: Quantity<'S/m'>
  readonly distance: Quantity<'m'>
  readonly uncertainty: { readonly conductivity: Quantity<'S/m'>; readonly distance: Quantity<'m'> }
  /** Of the errors of the two answers. */
  readonly correlation: number
  /** Angle at which the curves of conductivity and distance cross there, 0 to pi / 2. */
  readonly crossing: Quantity<'rad'>
}

/** Largest miss that is still a solution: rounding of the sum over wave numbers, with a margin. */
const SOLVED = 1e-11
/** Two answers closer than this part of the range are one. */
const SAME = 1e-5
/** Curves that cross at less than this don't tell the unknowns apart. Common practice, no source. */
const LEAST_CROSSING = 0.02
/** Two standard uncertainties away, the straight line must still hold to half of one. Ours, no source. */
const AWAY = 2
const STRAIGHT = 0.5

/**
 * Conductivity of one layer, and lift-off or thickness of a layer, from one measured point: the place in the given ranges
 * where planePoint gives it. The covariance of the answer is J^-1 C J^-T, J the slopes of planePoint, C the covariance of
 * the measurement. Not in it: coil dimensions, the other layers, the evenness of the winding; so scale the coil on
 * references of known conductivity first. A search by grid and steps, not a proof that nothing else is in the range.
 * Refuses: fields/bad-search, fields/bad-measurement, fields/no-answer, fields/more-than-one-answer,
 * fields/curves-parallel, fields/uncertainty-too-large, and what planePoint refuses.
 */
export function invertPoint(measured: MeasuredPoint, sought: Sought): Result<Found, FieldsCode> {
  const bad = measuredComplaint(measured) ?? soughtComplaint(sought)
  if (bad !== undefined) return bad
  const tried = pointAt(sought, [log(sought.conductivity.from), sought.distance.from])
  if (isRefusal(tried)) return tried
  const search = searchOf(sought)
  const places = placesNear(search, pairOf(measured.point))
  const best = places[0]!
  const crossing = crossingOf(slopesAt(search, best.at))
  if (best.miss <= nearEnough(measured) && !(crossing >= LEAST_CROSSING)) return parallel(crossing)
  if (best.miss > SOLVED) return noAnswer(best)
  const other = places.find((place) => place.miss <= SOLVED && !isSame(search, place, best))
  if (other !== undefined) return twoAnswers(best, other)
  return found(measured, search, best.at)
}

/** Where the curves run along each other the steps end anywhere along them, each place as good as the others. */
const nearEnough = ({ uncertainty }: MeasuredPoint): number => sizeOf(pairOf(uncertainty))

const pairOf = ({ resistance, reactance }: PlanePoint): Pair => [resistance, reactance]

function pointAt({ view, conductivity, distance }: Sought, [logSigma, length]: Pair): Result<PlanePoint, FieldsCode> {
  const layers = view.layers.map((layer, i) => ({
    ...layer,
    ...(i === conductivity.of ? { conductivity: siemensPerMeter(exp(logSigma)) } : {}),
    ...(i === distance.of ? { thickness: meters(length) } : {})
  }))
  const probe = distance.of === 'lift-off' ? raised(view.probe, meters(length)) : view.probe
  return isRefusal(probe) ? probe : planePoint({ ...view, probe, layers })
}

/** The unknowns are the logarithm of the conductivity and the distance. */
function searchOf(sought: Sought): Search {
  const { conductivity, distance } = sought
  return {
    from: [log(conductivity.from), distance.from],
    to: [log(conductivity.to), distance.to],
    map: (at) => {
      const point = pointAt(sought, at)
      if (isRefusal(point)) throw new RangeError(`no point inside the range: ${point.code}`)
      return pairOf(point)
    }
  }
}

const isSame = ({ from, to }: Search, a: Place, b: Place): boolean =>
  [0, 1].every((i) => Math.abs(a.at[i]! - b.at[i]!) <= SAME * (to[i]! - from[i]!))

function found(measured: MeasuredPoint, search: Search, at: Pair): Result<Found, FieldsCode> {
  const slopes = slopesAt(search, at)
  const steps = uncertainSteps(measured, slopes)
  if (steps.some((step) => !isStraight(search, { at, slopes, step }, steps))) return tooLarge(steps)
  const [a, b] = steps
  const size = [sizeOf([a[0], b[0]]), sizeOf([a[1], b[1]])] as const
  const sigma = exp(at[0])
  return {
    conductivity: siemensPerMeter(sigma),
    distance: meters(at[1]),
    uncertainty: { conductivity: siemensPerMeter(sigma * size[0]), distance: meters(size[1]) },
    correlation: (a[0] * a[1] + b[0] * b[1]) / (size[0] * size[1]),
    crossing: radians(crossingOf(slopes))
  }
}

function crossingOf(slopes: Slopes): number {
  const { first, second } = slopes
  const sine = Math.abs(determinant(slopes)) / (sizeOf([first[0], second[0]]) * sizeOf([first[1], second[1]]))
  return asin(Math.min(1, sine))
}

/** Two independent steps of the answer, one standard uncertainty each: J^-1 times the factors of the covariance. */
function uncertainSteps({ uncertainty, correlation }: MeasuredPoint, slopes: Slopes): readonly [Pair, Pair] {
  const { resistance, reactance } = uncertainty
  const rest = Math.sqrt(1 - correlation * correlation)
  return [stepFor(slopes, [resistance, correlation * reactance]), stepFor(slopes, [0, rest * reactance])]
}

/** Where a step leaves the range nothing can be said there, and the other side has to do. */
function isStraight(search: Search, { at, slopes, step }: Line, steps: readonly [Pair, Pair]): boolean {
  const sides = [AWAY, -AWAY].map((part): Pair => [at[0] + part * step[0], at[1] + part * step[1]])
  const inRange = sides.filter((side) => [0, 1].every((i) => side[i]! >= search.from[i]! && side[i]! <= search.to[i]!))
  const here = search.map(at)
  return inRange.length > 0 && inRange.every((side) => bend(search, { at, slopes, here }, side, steps) <= STRAIGHT)
}

interface Line {
  readonly at: Pair
  readonly slopes: Slopes
  readonly step: Pair
}

/** How far the answer for a point lies from the straight line, in standard uncertainties. */
function bend(
  search: Search,
  { at, slopes, here }: { at: Pair; slopes: Slopes; here: Pair },
  side: Pair,
  [a, b]: readonly [Pair, Pair]
): number {
  const there = search.map(side)
  const [s, h] = stepFor(slopes, [there[0] - here[0], there[1] - here[1]])
  return sizeOf(stepFor({ first: [a[0], b[0]], second: [a[1], b[1]] }, [s - side[0] + at[0], h - side[1] + at[1]]))
}

function measuredComplaint({ point, uncertainty, correlation }: MeasuredPoint): Refusal<FieldsCode> | undefined {
  const { resistance, reactance } = uncertainty
  const isPoint = Number.isFinite(point.resistance + point.reactance + resistance + reactance)
  if (isPoint && resistance > 0 && reactance > 0 && Math.abs(correlation) < 1) return undefined
  return refuse('fields/bad-measurement', {
    found: `(${point.resistance}, ${point.reactance}) known to ${resistance} and ${reactance}, correlation ${correlation}`,
    needed: 'a point, uncertainties above zero and a correlation between -1 and 1',
    remedy: 'repeat the measurement on the same place and give the scatter of the readings'
  })
}

function soughtComplaint({ view, conductivity, distance }: Sought): Refusal<FieldsCode> | undefined {
  const thickness = distance.of === 'lift-off' ? 0 : view.layers[distance.of]?.thickness
  const isThere = view.layers[conductivity.of] !== undefined && thickness !== undefined && thickness !== 'infinite'
  const isRange = conductivity.from > 0 && conductivity.to > conductivity.from && distance.to > distance.from
  const isLength = distance.of === 'lift-off' ? distance.from >= 0 : distance.from > 0
  if (isThere && isRange && isLength && Number.isFinite(conductivity.to + distance.to)) return undefined
  return refuse('fields/bad-search', {
    found: `conductivity of layer ${conductivity.of} from ${conductivity.from} to ${conductivity.to} S/m, ${distance.of} from ${distance.from} to ${distance.to} m`,
    needed: 'layers that are there, rising ranges, and a layer of finite thickness where its thickness is looked for',
    remedy: 'give the range in which the metal and the distance must lie'
  })
}

const noAnswer = ({ at, miss }: Place): Refusal<FieldsCode> =>
  refuse('fields/no-answer', {
    found: `no point of the range at the measured place; the nearest is ${miss} away, at ${exp(at[0])} S/m and ${at[1]} m`,
    needed: 'a point that these layers can give',
    remedy: 'check the normalization of the coil on a reference, the permeability and the ranges'
  })

const twoAnswers = (a: Place, b: Place): Refusal<FieldsCode> =>
  refuse('fields/more-than-one-answer', {
    found: `${exp(a.at[0])} S/m with ${a.at[1]} m, and ${exp(b.at[0])} S/m with ${b.at[1]} m`,
    needed: 'one answer in the range',
    remedy: 'narrow the ranges by what is known of the part, or measure at a second frequency'
  })

const parallel = (crossing: number): Refusal<FieldsCode> =>
  refuse('fields/curves-parallel', {
    found: `curves that cross at ${crossing} rad`,
    needed: `curves of conductivity and distance that cross at ${LEAST_CROSSING} rad at least`,
    remedy: 'choose another frequency, or give one of the two from another measurement'
  })

const tooLarge = ([a, b]: readonly [Pair, Pair]): Refusal<FieldsCode> =>
  refuse('fields/uncertainty-too-large', {
    found: `an answer known to ${sizeOf([a[0], b[0]])} of its conductivity and ${sizeOf([a[1], b[1]])} m`,
    needed: 'a measurement so good that the curves are straight over its uncertainty, inside the range',
    remedy: 'take the mean of more readings, another frequency, or a smaller lift-off'
  })
