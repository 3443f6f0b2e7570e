import type { Refusal } from '@trueloop/ground/refusal'
import type { NotchReading } from '../standardize/index.ts'
import { type Hypothesis, hypothesesFor, maySeeFace } from './hypotheses.ts'
import { type KindName, type Kinds, kindsFor } from './kinds.ts'
import type { Measured, SizedUnder } from './measured.ts'
import { declaredNumbers } from './numbers.ts'
import { lessonsOnce } from './once.ts'
import { atLeastQuiet, type RowNoise, type Rows, rowsOf } from './rows.ts'
import type { Lesson } from './teach.ts'
import type { Footprint } from './width.ts'

/** A flaw followed along the axis, and what the notches that were followed too teach of it. */
export interface Followed {
  readonly rows: Rows
  readonly noise: RowNoise
  readonly kinds: Kinds
  readonly footprints: ReadonlyMap<KindName, Footprint>
  /** the rows as a flaw of each kind that it may be of */
  readonly hypotheses: readonly Hypothesis[]
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
  const numbers = under.numbers ?? declaredNumbers
  const { faces } = measured
  const teaching = {
    ...{ noise: atLeastQuiet(under.noise), numbers, faced: faces !== undefined },
    ...(studied === undefined ? {} : { studied })
  }
  const bearing = { noise: under.noise, numbers }
  const plain = kindsFor(place, notches, bearing)
  const near = maySeeFace(rows, faces, lessonsOnce(notches, plain, teaching).footprints.get('corner'))
  const kinds = near ? kindsFor(place, notches, { ...bearing, near }) : plain
  const { footprints, of: lessons } = lessonsOnce(notches, kinds, teaching)
  const names = kinds.own.flatMap(({ name }) => (footprints.has(name) ? [name] : []))
  if (names.length === 0) return undefined
  const hypotheses = hypothesesFor(names, { rows, noise: quiet, footprints, faces, numbers })
  return { rows, noise: quiet, kinds, footprints, hypotheses, lessons }
}
