import { log } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import type { NotchReading } from '../standardize/index.ts'
import { bestPlace } from './behind.ts'
import { follow } from './follow.ts'
import type { Hypothesis } from './hypotheses.ts'
import type { Measured, SizedUnder } from './measured.ts'
import { declaredNumbers } from './numbers.ts'
import { leastOf } from './picks.ts'
import { within } from './rows.ts'

/** A crack whose size is known from somewhere else (a broken-open specimen). */
export interface Known {
  readonly depth_mm: number
  readonly length_mm: number
}

/**
 * Answer of a crack of known size over the answer that the law of the notches gives a notch of that size: what a response
 * ratio is the mean of. Undefined where the notches give no law, or the crack was not followed along the axis.
 */
export function observedRatio(
  measured: Measured,
  notches: readonly NotchReading[],
  { known, under }: { readonly known: Known; readonly under: SizedUnder }
): number | undefined {
  const numbers = under.numbers ?? declaredNumbers
  const followed = follow(measured, notches, under)
  if (followed === undefined || followed.lessons === undefined || isRefusal(followed.lessons)) return undefined
  const { hypotheses, rows, lessons } = followed
  const { kind, footprint, edge } = likeliest(hypotheses, known.length_mm)
  const seeing = { noise: followed.noise, alike: numbers.alike, width_mm: footprint.width_mm }
  const near = within(rows, footprint.width_mm)
  const fit = bestPlace(near, { ...seeing, ...(edge === undefined ? {} : { edge }) }, known.length_mm)
  const { laws } = lessons.find((one) => one.kind === kind)!
  const expected = laws.reduce((sum, { law, weight }) => {
    return sum + weight * law.full * law.form.at(known.depth_mm, law.scale)(fit).part
  }, 0)
  return Math.abs(fit.y) / expected
}

/** What the crack is most likely, its length being known. */
function likeliest(all: readonly Hypothesis[], length_mm: number): Hypothesis {
  const badness = ({ fits, odds }: Hypothesis) => {
    const away = fits.length_mm.map((one) => Math.abs(one - length_mm))
    return fits.misfit[leastOf(away)]! - 2 * log(odds)
  }
  return all.reduce((best, one) => (badness(one) < badness(best) ? one : best))
}
