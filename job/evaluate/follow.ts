import type { Refusal } from '@trueloop/ground/refusal'
import { valuesOf } from '../interpret/index.ts'
import type { NotchReading } from '../standardize/index.ts'
import { kindsFor } from './kinds.ts'
import type { Measured, SizedUnder } from './measured.ts'
import { lessonsOnce } from './once.ts'
import { sizing } from './parameters.ts'
import { atLeastQuiet, type RowNoise, type Rows, rowsOf } from './rows.ts'
import type { Lesson } from './teach.ts'
import type { Footprint } from './width.ts'

/** A flaw followed along the axis, and what the notches that were followed too teach of it. */
export interface Followed {
  readonly rows: Rows
  readonly noise: RowNoise
  readonly footprint: Footprint
  /** undefined where a kind has fewer notches than needed */
  readonly lessons: readonly Lesson[] | Refusal | undefined
}

/**
 * Undefined on a track, where the rows or the noise of flaw or notches are not known, and for fewer than three revolutions.
 * @param studied scatter of a response study that lets other kinds of notch stand for missing ones
 */
export function follow(
  measured: Measured,
  notches: readonly NotchReading[],
  under: SizedUnder,
  studied?: number
): Followed | undefined {
  const { rows: fitted, place, noise = under.noise } = measured
  if (fitted === undefined || noise === undefined || under.noise === undefined || place === 'track') return undefined
  const quiet = atLeastQuiet(noise)
  const rows = rowsOf(fitted, quiet)
  if (rows === undefined) return undefined
  const numbers = under.numbers ?? valuesOf(sizing)
  const kinds = kindsFor(place, notches, { noise: under.noise, numbers })
  const teaching = { noise: atLeastQuiet(under.noise), numbers, ...(studied === undefined ? {} : { studied }) }
  const { footprint, of: lessons } = lessonsOnce(notches, kinds, teaching)
  return footprint === undefined ? undefined : { rows, noise: quiet, footprint, lessons }
}
