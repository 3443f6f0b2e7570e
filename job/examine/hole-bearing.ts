import { clearNotches, type Measured, type SizedUnder, type SizeStatement, sizeOf } from '../evaluate/index.ts'
import { isClearOfLiftOff, type NotchReading, type Standardization } from '../standardize/index.ts'
import { alongLiftOff } from './hole-refusals.ts'

export interface Sizing {
  readonly withheld: readonly string[]
  readonly under: SizedUnder
}

/** Notches as each would answer alone, found once a standardization. */
export function bearingNotches(standardization: Standardization): readonly NotchReading[] {
  const known = cleared.get(standardization)
  if (known !== undefined) return known
  const notches = clearNotches(standardization)
  cleared.set(standardization, notches)
  return notches
}

const cleared = new WeakMap<Standardization, readonly NotchReading[]>()

/**
 * Size by the notches that stand clear of lift-off: the others bear none. Where that leaves no notch of the place's kind the
 * size is withheld for it; else each one left out is said. Code: examine/notch-along-lift-off.
 */
export function sizedBy(
  notches: readonly NotchReading[],
  measured: Measured,
  { withheld, under }: Sizing
): SizeStatement {
  const isOfKind = ({ place }: NotchReading) => place.includes(measured.place)
  const bearing = notches.filter(isClearOfLiftOff)
  const left = notches.filter((notch) => !isClearOfLiftOff(notch))
  const none = left.some(isOfKind) && !bearing.some(isOfKind)
  const reasons = none ? [alongLiftOff(left.filter(isOfKind)).found] : []
  const size = sizeOf(measured, bearing, [...withheld, ...reasons], under)
  if (left.length === 0 || withheld.length > 0) return size
  return { ...size, why: [...(size.why ?? []), alongLiftOff(left)] }
}
