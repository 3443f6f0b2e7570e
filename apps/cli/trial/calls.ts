import type { Examination, Indication } from '@trueloop/job/examine'
import type { Call, CalledSize, Ground } from '@trueloop/job/rehearse'

/** What an examination says, in the terms of the score. */

const verdicts: Readonly<Partial<Record<Indication['class'], Call['verdict']>>> = {
  relevant: 'relevant',
  undecided: 'undecided',
  'damage, not a crack': 'damage'
}

export const callsOf = ({ indications }: Examination): readonly Call[] =>
  indications.flatMap((one) => {
    const verdict = verdicts[one.class]
    return verdict === undefined ? [] : [callOf(one, verdict)]
  })

/** A call without a place is at no flaw: NaN is within no distance of anything. */
function callOf(one: Indication, verdict: Call['verdict']): Call {
  const { extent_mm } = one.size
  return {
    verdict,
    angle_deg: one.angle_rad === 'unknown' ? Number.NaN : (one.angle_rad * 180) / Math.PI,
    z_mm: one.z_m === 'unknown' ? Number.NaN : one.z_m * 1000,
    size: sizeOf(one),
    ...(extent_mm === undefined ? {} : { length_mm: extent_mm })
  }
}

/**
 * A crack answers weaker than a notch of its size, so the notch below it bounds a crack from below; the notch above it
 * bounds nothing but a notch.
 */
const sizeOf = ({ size: { lower_mm } }: Indication): CalledSize =>
  lower_mm === undefined ? { kind: 'withheld' } : { kind: 'bounds', least_mm: lower_mm }

/** Grounds on which the hole as a whole counts as not examined; none where any zone of it was examined. */
export function groundsOf({ zones, refusals }: Examination): readonly Ground[] {
  if (zones.some(({ state }) => state === 'examined')) return []
  const grounds = refusals.map(({ code, found }) => groundOf(code, found))
  return grounds.length === 0 ? ['other'] : grounds
}

function groundOf(code: string, found: string): Ground {
  if (code === 'examine/no-contact') return 'no contact'
  if (code === 'examine/contact-differs') return found.includes('step') ? 'air step' : 'wall signal'
  if (code === 'examine/dead-signal') return 'wall signal'
  if (code === 'examine/clipped') return 'clipped'
  return code === 'examine/too-noisy' || code === 'examine/too-many-candidates' ? 'noise' : 'other'
}
