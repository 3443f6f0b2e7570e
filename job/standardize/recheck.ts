import { atan2 } from '@trueloop/ground/numerics'
import type { HoleTechnique, RecheckRules } from '../plan/index.ts'
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

/** How far the set-up may have moved, and whether it may answer more strongly than that. */
export type RecheckAllowance = HoleTechnique['recheck_allowance'] & Partial<Pick<RecheckRules, 'gain_of_sensitivity'>>

export interface RecheckResult {
  readonly passed: boolean
  readonly drifts: readonly Drift[]
  /** noise of the wall now over then, less 1; in the units of the first */
  readonly noise: { readonly growth: number; readonly met: boolean }
  /** pairs of notches of which the one that answered less now surely answers more */
  readonly reversed: readonly (readonly [string, string])[]
}

const DEG = 0.017453292519943295

/**
 * Compares a recheck with the standardization it checks: amplitude and angle of every notch, by the fitted shape over the
 * notch's own revolutions, both in the plane of the first; the order of the notches by their answers; the noise of the
 * wall. It fails when the allowance is exceeded at any notch by more than what the noise of the two scans explains (twice
 * the standard uncertainty), when a notch is gone, when the alarm notch itself can't be resolved, when two notches have
 * surely changed places, and when the noise has grown by more than the technique allows, where it says so.
 */
export function compareRecheck(
  start: Standardization,
  now: Standardization,
  allowance: RecheckAllowance
): RecheckResult {
  const gain = hypotenuse(start.turn.x, start.turn.y) / hypotenuse(now.turn.x, now.turn.y)
  const turned = start.rotation.angle_rad - now.rotation.angle_rad
  const drifts = start.notches.map((then) => {
    const again = now.notches.find((notch) => notch.id === then.id)
    return again === undefined ? gone(then) : driftOf(then, again, { gain, turned, allowance })
  })
  const failed = (drift: Drift) =>
    drift.verdict === 'exceeded' || (drift.verdict === 'not resolved' && drift.notch === start.named)
  const growth = (gain * now.noise.matched) / start.noise.matched - 1
  const noise = { growth, met: allowance.noise === undefined || growth <= allowance.noise }
  const reversed = reversedPairs(start, now)
  return { passed: noise.met && reversed.length === 0 && !drifts.some(failed), drifts, noise, reversed }
}

/** A difference between two answers that twice its noise does not explain has a sign. */
function signOf(a: NotchReading, b: NotchReading): -1 | 0 | 1 {
  const [one, other] = [polar(a), polar(b)]
  const difference = one.size - other.size
  if (Math.abs(difference) <= 2 * hypotenuse(one.along, other.along)) return 0
  return difference < 0 ? -1 : 1
}

function reversedPairs(start: Standardization, now: Standardization): RecheckResult['reversed'] {
  const again = new Map(now.notches.map((notch) => [notch.id, notch]))
  return start.notches.flatMap((one, at) =>
    start.notches.slice(at + 1).flatMap((other): readonly (readonly [string, string])[] => {
      const [oneNow, otherNow] = [again.get(one.id), again.get(other.id)]
      if (oneNow === undefined || otherNow === undefined) return []
      return signOf(one, other) * signOf(oneNow, otherNow) < 0 ? [[one.id, other.id]] : []
    })
  )
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
  readonly allowance: RecheckAllowance
}

function driftOf(then: NotchReading, again: NotchReading, { gain, turned, allowance }: Frame): Drift {
  const a = polar(then)
  const b = polar(again)
  const ratio = (b.size * gain) / a.size
  const amplitude = ratio - 1
  const angle_rad = lineAngle(b.angle - turned, a.angle)
  const amplitudeUncertainty = 2 * ratio * hypotenuse(a.along / a.size, b.along / b.size)
  const angleUncertainty_rad = 2 * hypotenuse(a.across / a.size, b.across / b.size)
  // where the technique only notes a gain of sensitivity, no answer is too strong
  const moved = allowance.gain_of_sensitivity === 'is noted' ? -amplitude : Math.abs(amplitude)
  const over = moved > allowance.amplitude || angle_rad > allowance.angle_deg * DEG
  const surely =
    moved > allowance.amplitude + amplitudeUncertainty || angle_rad > allowance.angle_deg * DEG + angleUncertainty_rad
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
