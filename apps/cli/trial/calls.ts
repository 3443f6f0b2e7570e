import type { Measured, SizeStatement } from '@trueloop/job/evaluate'
import type { Examination, Indication } from '@trueloop/job/examine'
import type { Call, CalledSize, Ground } from '@trueloop/job/rehearse'

/** What an examination says, in the terms of the score. */

const verdicts: Readonly<Partial<Record<Indication['class'], Call['verdict']>>> = {
  relevant: 'relevant',
  undecided: 'undecided',
  'damage, not a crack': 'damage'
}

/** What an indication was sized from, where the examination keeps it. */
type Kept = Indication & { readonly measured?: Measured }

/** A call with the statement of its size, and what that was told from. */
export interface TrialCall extends Call {
  readonly statement: SizeStatement
  readonly measured?: Measured
}

export const callsOf = ({ indications }: Examination): readonly TrialCall[] =>
  indications.flatMap((one) => {
    const verdict = verdicts[one.class]
    return verdict === undefined ? [] : [callOf(one, verdict)]
  })

/** A call without a place is at no flaw: NaN is within no distance of anything. */
function callOf(one: Kept, verdict: Call['verdict']): TrialCall {
  return {
    verdict,
    angle_deg: one.angle_rad === 'unknown' ? Number.NaN : (one.angle_rad * 180) / Math.PI,
    z_mm: one.z_m === 'unknown' ? Number.NaN : one.z_m * 1000,
    ...sized(one.size),
    ...(one.measured === undefined ? {} : { measured: one.measured })
  }
}

/** The same call with another statement of its size. */
export const resized = (call: TrialCall, statement: SizeStatement): TrialCall => {
  const { length_mm: _, ...rest } = call
  return { ...rest, ...sized(statement) }
}

const sized = (statement: SizeStatement): Pick<TrialCall, 'size' | 'length_mm' | 'statement'> => {
  const length_mm = lengthOf(statement)
  return { size: calledSize(statement), ...(length_mm === undefined ? {} : { length_mm }), statement }
}

/** The length with the footprint taken out; the extent as measured only where nothing is said of that length. */
const lengthOf = ({ length, length_mm, extent_mm }: SizeStatement): number | undefined =>
  length === undefined ? extent_mm : length_mm

/**
 * A value where there is one. Of bounds by notches alone only the lower counts: a crack answers weaker than a notch of its
 * size, so the notch below it bounds a crack from below; the notch above it bounds nothing but a notch.
 */
function calledSize({ depth_mm, lower_mm, upper_mm, ratio }: SizeStatement): CalledSize {
  if (depth_mm !== undefined) return { kind: 'value', depth_mm }
  const most_mm = ratio === undefined ? undefined : upper_mm
  if (lower_mm === undefined && most_mm === undefined) return { kind: 'withheld' }
  return {
    kind: 'bounds',
    ...(lower_mm === undefined ? {} : { least_mm: lower_mm }),
    ...(most_mm === undefined ? {} : { most_mm })
  }
}

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
