import { atan2, spread } from '@trueloop/ground/numerics'
import { refuse } from './codes.ts'
import { lineAngle } from './notches.ts'
import type { FromLiftOff, LimitMet, NotchReading } from './standardization.ts'

/**
 * How far notches stand from lift-off, and whether that is far enough to tell them from it. No metal's angle is presumed:
 * what is asked for is three times what the angle is known to, and what the technique states.
 */

const DEG = 0.017453292519943295
/** Below so many standard uncertainties an angle is not told from 0. */
const TIMES_REPEATABILITY = 3

export const SEPARATION = 'angle between lift-off and the named notch'

/**
 * Angle of a fitted size from the x axis, as lines, with its standard uncertainty: that of the lift-off direction, and
 * that of the fitted size across its own line, by the same fit elsewhere on the clear wall. `least_deg` is the technique's.
 */
export function fromLiftOff(
  fitted: { readonly x: number; readonly y: number },
  elsewhere: { readonly x: Float64Array; readonly y: Float64Array },
  { uncertainty_rad, least_deg = 0 }: { readonly uncertainty_rad: number; readonly least_deg?: number | undefined }
): FromLiftOff {
  const square = fitted.x * fitted.x + fitted.y * fitted.y
  const across = elsewhere.y.map((y, i) => (y * fitted.x - elsewhere.x[i]! * fitted.y) / square)
  const { sigma } = spread(across)
  const repeatability_rad = Math.sqrt(uncertainty_rad * uncertainty_rad + sigma * sigma)
  return {
    angle_rad: lineAngle(atan2(fitted.y, fitted.x), 0),
    repeatability_rad,
    needed_rad: Math.max(least_deg * DEG, TIMES_REPEATABILITY * repeatability_rad)
  }
}

/**
 * Whether a notch stands far enough from lift-off for its amplitude to be a size. One that doesn't may not stand in a
 * sizing curve. Where the angle was not measured (tracks, documents of method 1) nothing speaks against it.
 */
export const isClearOfLiftOff = ({ fromLiftOff: is }: Pick<NotchReading, 'fromLiftOff'>): boolean =>
  is === undefined || is.angle_rad >= is.needed_rad

/** The limit on the separation of the named notch. */
export function separationLimit({ angle_rad, repeatability_rad, needed_rad }: FromLiftOff): LimitMet {
  const times = needed_rad <= TIMES_REPEATABILITY * repeatability_rad
  return {
    limit: SEPARATION,
    needed: `${degrees(needed_rad)} or more: ${times ? 'three times the repeatability of the angle' : 'the technique states it'}`,
    found: `${degrees(angle_rad)}, known to ${degrees(repeatability_rad)}`,
    met: angle_rad >= needed_rad
  }
}

const degrees = (rad: number): string => `${(rad / DEG).toFixed(1)}°`

/** A note for every other notch that stands too near to lift-off. */
export const separationNotes = (notches: readonly NotchReading[]): readonly string[] =>
  notches.flatMap((notch) => {
    const { id, fromLiftOff: is } = notch
    if (is === undefined || isClearOfLiftOff(notch)) return []
    const { found, needed } = separationLimit(is)
    return [`${id} is not used for sizing: its angle from lift-off is ${found}; needed ${needed}`]
  })

export const separationRefused = ({ limit, found, needed }: LimitMet) =>
  refuse('standardize/notch-along-lift-off', {
    found: `${limit}: ${found}`,
    needed,
    remedy:
      'choose frequency and probe so that notches of this metal leave lift-off, make probe and fit quieter, and scan the reference standard again'
  })
