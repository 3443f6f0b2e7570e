import { atan2 } from '@trueloop/ground/numerics'
import type { HoleTechnique } from '../plan/index.ts'
import { lineAngle } from './notches.ts'
import type { NotchReading, Standardization } from './standardization.ts'

export interface Drift {
  readonly notch: string
  /** amplitude now over then, less 1, and twice its standard uncertainty from the noise of both scans */
  readonly amplitude: number
  readonly amplitudeUncertainty: number
  readonly angle_rad: number
  readonly angleUncertainty_rad: number
  /** `not resolved`: beyond the allowance, but not by more than its uncertainty */
  readonly verdict: 'met' | 'exceeded' | 'not resolved'
}

export interface RecheckResult {
  readonly passed: boolean
  readonly drifts: readonly Drift[]
}

const DEG = 0.017453292519943295

/**
 * Compares a recheck with the standardization it checks: amplitude and angle of every notch, by the fitted shape over the
 * notch's own revolutions, both in the plane of the first. It fails when the allowance is exceeded at any notch by more
 * than what the noise of the two scans explains (twice the standard uncertainty), when a notch is gone, and when the
 * alarm notch itself can't be resolved.
 */
export function compareRecheck(
  start: Standardization,
  now: Standardization,
  allowance: HoleTechnique['recheck_allowance']
): RecheckResult {
  const gain = hypotenuse(start.turn.x, start.turn.y) / hypotenuse(now.turn.x, now.turn.y)
  const turned = start.rotation.angle_rad - now.rotation.angle_rad
  const drifts = start.notches.map((then) => {
    const again = now.notches.find((notch) => notch.id === then.id)
    return again === undefined ? gone(then) : driftOf(then, again, { gain, turned, allowance })
  })
  const failed = (drift: Drift) =>
    drift.verdict === 'exceeded' || (drift.verdict === 'not resolved' && drift.notch === start.named)
  return { passed: !drifts.some(failed), drifts }
}

const gone = (then: NotchReading): Drift => ({
  notch: then.id,
  amplitude: -1,
  amplitudeUncertainty: 0,
  angle_rad: 0,
  angleUncertainty_rad: 0,
  verdict: 'exceeded'
})

interface Frame {
  readonly gain: number
  readonly turned: number
  readonly allowance: HoleTechnique['recheck_allowance']
}

function driftOf(then: NotchReading, again: NotchReading, { gain, turned, allowance }: Frame): Drift {
  const a = polar(then)
  const b = polar(again)
  const ratio = (b.size * gain) / a.size
  const amplitude = ratio - 1
  const angle_rad = lineAngle(b.angle - turned, a.angle)
  const amplitudeUncertainty = 2 * ratio * hypotenuse(a.along / a.size, b.along / b.size)
  const angleUncertainty_rad = 2 * hypotenuse(a.across / a.size, b.across / b.size)
  const over = Math.abs(amplitude) > allowance.amplitude || angle_rad > allowance.angle_deg * DEG
  const surely =
    Math.abs(amplitude) > allowance.amplitude + amplitudeUncertainty ||
    angle_rad > allowance.angle_deg * DEG + angleUncertainty_rad
  const verdict = surely ? 'exceeded' : over ? 'not resolved' : 'met'
  return { notch: then.id, amplitude, amplitudeUncertainty, angle_rad, angleUncertainty_rad, verdict }
}

/** Size and angle of a fitted reading, and its noise along and across that direction. */
function polar({ fitted, fittedNoise }: NotchReading) {
  const size = hypotenuse(fitted.x, fitted.y)
  const ex = fitted.x / size
  const ey = fitted.y / size
  return {
    size,
    angle: atan2(fitted.y, fitted.x),
    along: hypotenuse(ex * fittedNoise.x, ey * fittedNoise.y),
    across: hypotenuse(ey * fittedNoise.x, ex * fittedNoise.y)
  }
}

const hypotenuse = (x: number, y: number): number => Math.sqrt(x * x + y * y)
