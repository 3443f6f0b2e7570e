import { PI } from '@trueloop/ground/numerics'
import type { Features } from '../features.ts'
import type { Group, Values } from '../parameters.ts'
import { type Criterion, grade } from './criteria.ts'

/** Numbers about angles that causes share: none is an angle of one metal. */
export const ANGLES = {
  deviations: {
    value: 2,
    unit: 'standard deviations',
    reason:
      'an angle is taken as near the notches as 19 in 20 readings of its noise allow: a weak crack keeps its angle'
  },
  liftOff: {
    value: 0.35,
    unit: 'share of the way from lift-off to the notches',
    reason: 'lift-off and what follows it stay in the first third of the way; common practice, no source'
  },
  leaves: {
    value: 0.55,
    unit: 'share of the way from lift-off to the notches',
    reason: 'past the middle of the way an angle is the notches’ rather than lift-off’s'
  }
} as const satisfies Group

export type AngleValues = Values<typeof ANGLES>

const DEG = PI / 180
export const degrees = (angle_rad: number): string => `${Math.round(angle_rad / DEG)}°`

/**
 * Where an angle lies on the way from lift-off (0) to the nearest notch (1), in any metal, moved toward the notch by what
 * the noise may have turned it: the safe side for a crack, whatever is weighed.
 */
export function crackward({ fromLiftOff_rad, fromNotches_rad, phaseNoise_rad }: Features, deviations: number): number {
  const doubt = Math.min(fromNotches_rad, deviations * phaseNoise_rad)
  const way = fromLiftOff_rad + fromNotches_rad
  return way > 0 ? Math.min(1, (fromLiftOff_rad + doubt) / way) : 1
}

/** The angle as a sentence with its doubt. */
export const angleSentence = ({ phase_rad, phaseNoise_rad, fromLiftOff_rad, fromNotches_rad }: Features): string =>
  `Its angle is ${degrees(phase_rad)} ± ${degrees(ANGLES.deviations.value * phaseNoise_rad)}: ${degrees(fromLiftOff_rad)} from lift-off, ${degrees(fromNotches_rad)} from the nearest notch.`

/** An angle that lies along lift-off, or on the way from there not past its middle. */
export const alongLiftOff = (features: Features, { deviations, leaves, liftOff }: AngleValues): Criterion => ({
  what: 'angle',
  share: grade(crackward(features, deviations), leaves, liftOff),
  sentence: () => angleSentence(features)
})

/** Numbers of an angle of its own. */
export const OWN_ANGLE = {
  deviations: ANGLES.deviations,
  ownNone: {
    value: 12,
    unit: 'degrees',
    reason: 'nearer than this to lift-off or to a notch an angle is theirs: repeatability of an angle is about 5°'
  },
  ownFull: {
    value: 30,
    unit: 'degrees',
    reason: 'so far from both it is neither, also where a crack turns against the notch by 20°'
  }
} as const satisfies Group

/** An angle that is neither lift-off's nor the notches': far from the nearer of both. */
export function ofItsOwn(
  features: Features,
  { deviations, ownNone: none, ownFull: full }: Values<typeof OWN_ANGLE>
): Criterion {
  const doubt = deviations * features.phaseNoise_rad
  const off = Math.min(features.fromLiftOff_rad, features.fromNotches_rad - doubt)
  return { what: 'angle', share: grade(off / DEG, none, full), sentence: () => angleSentence(features) }
}
