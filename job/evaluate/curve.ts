import {
  type Calibration,
  calibrate,
  exp,
  type InversePrediction,
  inversePrediction,
  log
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { NotchReading } from '../standardize/index.ts'
import { refuse } from './codes.ts'
import type { Sizing } from './parameters.ts'

/**
 * Depth from the amplitude alone, for where the rows along the axis are not known: classical calibration on the notches of
 * one kind, on the scale on which they lie straightest, and inverse prediction with its exact interval. It takes the flaw
 * to have the proportions of the notches.
 */

interface Scale {
  readonly name: string
  readonly to: (value: number) => number
  readonly from: (value: number) => number
}

/** Amplitude and depth are put on the same scale: straight line, power law, and a curve that levels off. */
const scales: readonly Scale[] = [
  { name: 'straight', to: (value) => value, from: (value) => value },
  { name: 'logarithms', to: log, from: exp },
  { name: 'reciprocals', to: (value) => 1 / value, from: (value) => 1 / value }
]

export interface Curve {
  readonly scale: string
  readonly line: Calibration
  readonly depthAt: (amplitude: number) => number
}

interface Fitted extends Curve {
  readonly off: number
  readonly of: Scale
}

export interface CurveDepth {
  readonly depth_mm: number
  readonly lower_mm: number
  readonly upper_mm: number
}

/**
 * Depth of an amplitude on the curve of a kind, with its interval. Refuses evaluate/curve-not-straight,
 * evaluate/beyond-notches, evaluate/plateau, evaluate/size-undetermined.
 * source: draper-smith-1998, 3.2
 */
export function depthOnCurve(
  amplitude: number,
  notches: readonly NotchReading[],
  numbers: Sizing
): CurveDepth | Refusal {
  const curve = straightest(notches)
  if (curve === undefined || curve.off > numbers.straight) return notStraight(curve?.off)
  const told = inversePrediction(curve.line, {
    readings: [curve.of.to(amplitude)],
    of: 'reading',
    scatter: 'line',
    confidence: 1 - numbers.leftOut,
    range: 'within'
  })
  if (isRefusal(told)) return beyond(amplitude)
  const depth_mm = curve.of.from(told.estimate)
  if (steepness(curve, amplitude) < numbers.plateau) return onPlateau(depth_mm)
  return withEnds(told, curve.of) ?? undetermined()
}

/** Of the scales on which the notches lie on a rising line, the one on which it gives their depths back best. */
function straightest(notches: readonly NotchReading[]): Fitted | undefined {
  const fitted = scales.flatMap((of): readonly Fitted[] => {
    const x = notches.map(({ depth_mm }) => of.to(depth_mm))
    const line = calibrate({ x, y: notches.map(({ amplitude }) => of.to(amplitude)) })
    if (isRefusal(line) || !(line.slope > 0)) return []
    const depthAt = (amplitude: number) => of.from((of.to(amplitude) - line.intercept) / line.slope)
    const off = offOf(notches, depthAt)
    return off === undefined ? [] : [{ scale: of.name, line, depthAt, off, of }]
  })
  return fitted.reduce<Fitted | undefined>(
    (best, one) => (best === undefined || one.off < best.off ? one : best),
    undefined
  )
}

/** Root mean square of the logarithm of depth on the line over certified depth; undefined where a depth is none. */
function offOf(notches: readonly NotchReading[], depthAt: (amplitude: number) => number): number | undefined {
  const depths = notches.map(({ amplitude }) => depthAt(amplitude))
  if (!depths.every((depth) => depth > 0 && depth < Number.POSITIVE_INFINITY)) return undefined
  const squares = depths.map((depth, i) => {
    const off = log(depth / notches[i]!.depth_mm)
    return off * off
  })
  return Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length)
}

/** Share by which the amplitude changes for a small share of depth. */
function steepness({ depthAt }: Fitted, amplitude: number): number {
  const more = 1.01
  const change = log(depthAt(amplitude * more) / depthAt(amplitude))
  return change > 0 ? log(more) / change : 0
}

/** The interval on the scale, turned into depths; undefined where it has no ends or one that is no depth. */
function withEnds({ estimate, set }: InversePrediction, { from }: Scale): CurveDepth | undefined {
  if (set.kind !== 'interval') return undefined
  const ends = [from(set.lower), from(set.upper)]
  const [lower_mm, upper_mm] = [Math.min(...ends), Math.max(...ends)]
  const depth_mm = from(estimate)
  if (!(lower_mm > 0 && depth_mm >= lower_mm && depth_mm <= upper_mm)) return undefined
  return { depth_mm, lower_mm, upper_mm }
}

const notStraight = (off: number | undefined): Refusal =>
  refuse('evaluate/curve-not-straight', {
    found:
      off === undefined
        ? 'notches that lie on no rising line'
        : `notches that miss the straightest line by ${Math.round(100 * off)} % in depth`,
    needed: 'a scale on which amplitude against depth is a line',
    remedy: 'bounds between notches are stated; scan the hole with an axial scale, so that the length is known too'
  })

const beyond = (amplitude: number): Refusal =>
  refuse('evaluate/beyond-notches', {
    found: `an answer of ${amplitude.toFixed(2)}, below or above those of all notches of the kind`,
    needed: 'an answer between notches',
    remedy: 'the bound by the nearest notch is stated; nothing is extrapolated'
  })

const onPlateau = (depth_mm: number): Refusal =>
  refuse('evaluate/plateau', {
    found: `an answer near the level where more depth hardly changes it (${depth_mm.toFixed(2)} mm)`,
    needed: 'an answer on the rising part of the curve',
    remedy: 'the bound by the nearest notch is stated'
  })

const undetermined = (): Refusal =>
  refuse('evaluate/size-undetermined', {
    found: 'notches whose scatter leaves the depth open at an end',
    needed: 'a curve that bounds the depth on both sides',
    remedy: 'bounds between notches are stated; more notches of the kind make the curve sure'
  })
