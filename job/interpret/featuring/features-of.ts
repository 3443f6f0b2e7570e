import { cos, sin } from '@trueloop/ground/numerics'
import type { Features } from '../features.ts'
import { valuesOf } from '../parameters.ts'
import type { Sheet } from '../sheet.ts'
import { angleFeatures, lineOf } from './angle.ts'
import { aroundOf } from './around.ts'
import { combOf, harmonicsAt } from './comb.ts'
import type { FeatureContext, Place } from './context.ts'
import { extentFeatures } from './extent.ts'
import { lobeFeatures, loopFeatures } from './lobes.ts'
import { fitted, loopAt } from './loop.ts'
import { type Complex, inner, type Metric, metricOf, weightsAlong } from './metric.ts'
import { FEATURING, type FeatureValues } from './numbers.ts'
import { isSideLobe, type Opposite, oppositeOf } from './opposite.ts'
import { overRunOf } from './over-run.ts'
import { type Ridge, ridgeAt } from './ridge.ts'
import { type NotchShape, notchShape } from './shape.ts'
import { sharpnessOf } from './sharpness.ts'
import { moveFeatures, repeatOf } from './steadiness.ts'

export interface Featured {
  readonly features: Features
  readonly ridge: Ridge
}

/**
 * The evidence row of a place and the ridge through it, from the sheet alone. The work is bounded by the loop, seven
 * revolutions and the length of the ridge. Shifting the sheet along the ruler changes nothing, scaling it only sizes.
 * @param place ruler point of the peak, or a revolution or a side lobe beside it (a fraction of a point is allowed: the ridge
 * tells where the peak is), and its sign,
 * which stands for the order of the lobes where the loop itself can not tell
 */
export function featuresOf(sheet: Sheet, place: Place, context: FeatureContext): Featured {
  const shape = notchShape(context.form)
  const values = valuesOf(FEATURING, context.moved)
  const metric = metricOf(context.noise)
  const { ridge, opposite } = mainRidge(sheet, place.at, { shape, metric, values })
  const features = rowOf(sheet, place, { context, shape, ridge, opposite, values, metric })
  return { features, ridge }
}

type RidgeBy = Pick<Measured, 'shape' | 'metric' | 'values'>

interface MainRidge {
  readonly ridge: Ridge
  readonly opposite: Opposite
}

/** The ridge at a place with what lies opposite to it; where the place is no more than a side lobe, those of what it is a side lobe of. */
function mainRidge(sheet: Sheet, at: number, by: RidgeBy): MainRidge {
  const main = ridgeWithOpposite(sheet, at, by)
  const { ridge, opposite } = main
  const rule = { shape: by.shape, freedom: by.values.sideLobe }
  const isSide = isSideLobe(opposite, ridge.rows[ridge.peak]!.at, rule)
  return isSide ? ridgeWithOpposite(sheet, opposite.at, by) : main
}

function ridgeWithOpposite(sheet: Sheet, at: number, { shape, metric, values }: RidgeBy): MainRidge {
  const { spacing } = shape
  const ridge = ridgeAt(sheet, at, { spacing, metric, values })
  const weights = weightsAlong(metric, ridge.direction)
  return { ridge, opposite: oppositeOf(sheet, ridge, { weights, spacing }) }
}

interface Measured {
  readonly context: FeatureContext
  readonly shape: NotchShape
  readonly ridge: Ridge
  readonly opposite: Opposite
  readonly values: FeatureValues
  readonly metric: Metric
}

function rowOf(sheet: Sheet, { sign, statistic }: Place, measured: Measured): Features {
  const { context, shape, ridge, values, metric } = measured
  const { at, size: matched } = ridge.rows[ridge.peak]!
  const loop = loopAt(sheet, at, context.half)
  const weights = weightsAlong(metric, ridge.direction)
  const { amplitude, roundness } = loopFeatures(loop, shape, context.noise)
  const { phase_rad, fromLiftOff_rad, fromNotches_rad, phaseNoise_rad } = angleFeatures(ridge, context, values)
  const { symmetry, width } = lobeFeatures(loop, weights, shape)
  const { wander_turn, helix_turn, unsteady_turn } = moveFeatures(ridge)
  const { extent_m, layerShare, toFace_m, face } = extentFeatures(ridge, context)
  // Named one by one: copying whole records into this one takes longer than all that they are measured from.
  return {
    amplitude,
    roundness,
    matched,
    signalToNoise: signalToNoise(ridge, context.noise),
    joined: statistic,
    phase_rad,
    fromLiftOff_rad,
    fromNotches_rad,
    phaseNoise_rad,
    likeness: fitted(loop, shape, metric).likeness,
    lobeOrder: lobeOrderOf(ridge.direction, shape) ?? sign,
    symmetry,
    width,
    opposite: measured.opposite.ratio,
    rows: ridge.last - ridge.first + 1,
    expectedRows: context.expectedRows,
    cut: ridge.cutBefore || ridge.cutAfter,
    repeat: repeatOf(sheet, ridge, { half: context.half, metric }),
    wander_turn,
    helix_turn,
    unsteady_turn,
    overRun: overRunOf(sheet, ridge, {
      noise: context.noise,
      notches: context.notchPhases.map(upward),
      rows: Math.ceil(context.expectedRows)
    }),
    around: aroundOf(sheet, at, { weights, level: values.half * matched, spacing: shape.spacing }),
    comb: combOf(sheet, at, values),
    harmonics: harmonicsAt(sheet, at),
    extent_m,
    layerShare,
    toFace_m,
    face,
    sharpness: sharpnessOf(loop, shape, values.smooth)
  }
}

/** A line's direction as a notch has it on the sheet: up. */
const upward = (line_rad: number): Complex => ({ x: cos(lineOf(line_rad)), y: sin(lineOf(line_rad)) })

/** The peak's size over the noise of it: √(u′ N⁻¹ u) times the size. Infinite without noise. */
function signalToNoise({ rows, peak, direction }: Ridge, noise: FeatureContext['noise']): number {
  const isNoisy = noise.xx * noise.yy - noise.xy * noise.xy > 0
  const square = inner(metricOf(noise), direction, direction)
  return isNoisy ? rows[peak]!.size * Math.sqrt(square) : Number.POSITIVE_INFINITY
}

/**
 * Whether a direction points as the notch does or against it; not known across it. Sizes on the sheet are those of the
 * notch's shape, whose own direction may have either sign: the sheet's convention is that the named notch points up, or
 * along +x where it lies along lift-off.
 */
function lobeOrderOf(direction: Complex, notch: Complex): 1 | -1 | undefined {
  const up = notch.y < 0 || (notch.y === 0 && notch.x < 0) ? -1 : 1
  const along = up * (direction.x * notch.x + direction.y * notch.y)
  return along === 0 ? undefined : along > 0 ? 1 : -1
}
