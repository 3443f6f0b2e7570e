import { principalAxes } from '@trueloop/ground/numerics'
import { longestChord } from '../../standardize/index.ts'
import type { FeatureContext } from './context.ts'
import type { Loop } from './loop.ts'
import type { Complex } from './metric.ts'
import { extremes, type NotchShape, shapeOver } from './shape.ts'

/** The two lobes of a loop, read by the weights of its own direction, against those of the notch. */
export function lobeFeatures({ offset, x, y }: Loop, weights: Complex, shape: NotchShape) {
  if (offset.length < 2) return { symmetry: 0, width: 0 }
  const along = new Float64Array(x.length)
  for (let i = 0; i < along.length; i++) along[i] = x[i]! * weights.x + y[i]! * weights.y
  const { high, low } = extremes(along)
  const larger = Math.max(high.value, -low.value)
  const smaller = Math.min(high.value, -low.value)
  const step = offset[1]! - offset[0]!
  return {
    symmetry: larger > 0 ? Math.max(0, smaller / larger) : 0,
    width: shape.spacing > 0 ? (Math.abs(high.at - low.at) * step) / shape.spacing : 0
  }
}

/**
 * Peak-to-peak and roundness of a loop: neither depends on how the plane is rotated. What noise alone would add to both
 * axes is taken off the roundness; that of the signal is made of that of c as if it had the notch's own spectrum.
 */
export function loopFeatures({ offset, x, y }: Loop, shape: NotchShape, noise: FeatureContext['noise']) {
  const moments = { xx: 0, xy: 0, yy: 0 }
  for (let i = 0; i < x.length; i++) {
    moments.xx += x[i]! * x[i]!
    moments.xy += x[i]! * y[i]!
    moments.yy += y[i]! * y[i]!
  }
  const share = offset.length * noiseGain(offset, shape)
  const { major, minor } = principalAxes({
    xx: moments.xx - share * noise.xx,
    xy: moments.xy - share * noise.xy,
    yy: moments.yy - share * noise.yy
  })
  const amplitude = x.length > 0 ? longestChord(x, y, { from: 0, to: x.length }).length : 0
  return { amplitude, roundness: major > 0 ? Math.sqrt(Math.max(0, minor) / major) : 0 }
}

/**
 * Variance of a signal over that of the size fitted to it, for noise with the notch's own spectrum: with A the
 * autocorrelation of the shape, var(c) = Σ A(τ)² / A(0)³ · var.
 */
function noiseGain(offset: Float64Array, shape: NotchShape): number {
  const s = shapeOver(shape, offset)
  let squares = 0
  let own = 0
  for (let lag = 0; lag < s.length; lag++) {
    let sum = 0
    for (let i = lag; i < s.length; i++) sum += s[i]! * s[i - lag]!
    if (lag === 0) own = sum
    squares += (lag === 0 ? 1 : 2) * sum * sum
  }
  return squares > 0 ? (own * own * own) / squares : 0
}
