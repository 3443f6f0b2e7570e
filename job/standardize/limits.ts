import type { Refusal } from '@trueloop/ground/refusal'
import type { HoleTechnique } from '../plan/index.ts'
import { refuse } from './codes.ts'
import { outOfOrder } from './order.ts'
import type { Rotation } from './rotation.ts'
import { SEPARATION, separationLimit, separationRefused } from './separation.ts'
import type { LimitMet, Noise, NotchReading } from './standardization.ts'

const DEG = 0.017453292519943295

export interface Judged {
  readonly technique: HoleTechnique
  readonly rotation: Rotation
  readonly notches: readonly NotchReading[]
  readonly noise: Noise
}

const SIGNAL_TO_NOISE = 'signal-to-noise of the alarm notch'
const ORDER = 'notches of one kind in the order of their depth'

/** Every limit that a reference scan of a hole has to meet, with what was found. */
export function limitsOf({ technique, rotation, notches, noise }: Judged): readonly LimitMet[] {
  const ratio = noise.matched > 0 ? 1 / noise.matched : Number.MAX_VALUE
  const wrong = firstOutOfOrder(notches)
  const separation = notches.find(({ id }) => id === technique.alarm.notch)?.fromLiftOff
  const farthest = notches.reduce((most, notch) => Math.max(most, Math.abs(notch.angleOff_rad)), 0) / DEG
  return [
    {
      limit: SIGNAL_TO_NOISE,
      needed: `${technique.min_signal_to_noise} or more`,
      found: ratio > 1e6 ? 'no noise met' : ratio.toFixed(1),
      met: ratio >= technique.min_signal_to_noise
    },
    { limit: ORDER, needed: 'amplitude grows with depth', found: wrong ?? 'in order', met: wrong === undefined },
    {
      limit: 'direction of lift-off',
      needed: 'axis ratio 2 or more, known to 3° or better',
      found: `axis ratio ${rotation.axisRatio.toFixed(2)}, known to ${(rotation.uncertainty_rad / DEG).toFixed(2)}°`,
      met: true
    },
    ...(separation === undefined ? [] : [separationLimit(separation)]),
    {
      limit: 'notches at their certified places',
      needed: 'all found within 12° and 0.8 mm',
      found: `all ${notches.length} found, at most ${farthest.toFixed(1)}° off`,
      met: true
    }
  ]
}

/** The first limit that was not met, as the refusal it is; a notch along lift-off first: it is why others are not met. */
export function refusedLimit(limits: readonly LimitMet[]): Refusal | undefined {
  const unmet = limits.filter((limit) => !limit.met)
  const failed = unmet.find(({ limit }) => limit === SEPARATION) ?? unmet[0]
  if (failed === undefined) return undefined
  if (failed.limit === SEPARATION) return separationRefused(failed)
  const code = failed.limit === ORDER ? 'standardize/notches-out-of-order' : 'standardize/notch-below-noise'
  return refuse(code, {
    found: `${failed.limit}: ${failed.found}`,
    needed: failed.needed,
    remedy: 'clean probe and standard, check tape, cable and job sheet, and scan the reference standard again'
  })
}

/** The first kind of notches that is out of order. */
function firstOutOfOrder(notches: readonly NotchReading[]): string | undefined {
  for (const place of new Set(notches.map((notch) => notch.place))) {
    const wrong = outOfOrder(notches.filter((notch) => notch.place === place))
    if (wrong !== undefined) return wrong
  }
  return undefined
}
