import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'

/** Diameters that were measured in a hole, and what cuts took of it. */

/** A hole is never quite round: between which diameters it lies, mm. */
export interface Diameters {
  readonly smallest_mm: number
  readonly largest_mm: number
}

/** Taken off the diameter: at the place that lost least and at most, mm. */
export interface Removed {
  readonly least_mm: number
  readonly most_mm: number
}

/** To a nanometer, so that sums of decimal figures compare as a person reckons them. */
export const toNanometer = (mm: number): number => Math.round(1e6 * mm) / 1e6

/**
 * One measuring: diameters at one place or more, mm.
 * Refuses `evaluate/ream-not-measured` where there is none, or one that is no diameter.
 */
export function diametersOf(measured_mm: readonly number[]): Result<Diameters, Code> {
  const wrong = measured_mm.find((one) => !(Number.isFinite(one) && one > 0))
  if (measured_mm.length === 0 || wrong !== undefined) return notMeasured(wrong)
  return {
    smallest_mm: toNanometer(Math.min(...measured_mm)),
    largest_mm: toNanometer(Math.max(...measured_mm))
  }
}

const notMeasured = (wrong: number | undefined) =>
  refuse('evaluate/ream-not-measured', {
    found: wrong === undefined ? 'no measured diameter' : `${wrong} mm as a measured diameter`,
    needed:
      'the hole measured before the first cut and after each, at two diameters or more where it may be out of round',
    remedy: 'measure the hole and enter its diameters'
  })

/**
 * Every measuring in order: before the first cut, and after each.
 * Refuses `evaluate/ream-not-measured`, and `evaluate/ream-diameter-not-larger` where a cut made nothing larger.
 */
export function measurings(measured: readonly (readonly number[])[]): Result<readonly Diameters[], Code> {
  const all: Diameters[] = []
  for (const one of measured.length === 0 ? [[]] : measured) {
    const diameters = afterCut(all.at(-1), one)
    if (isRefusal(diameters)) return diameters
    all.push(diameters)
  }
  return all
}

/** The hole after a cut. A cut makes its narrowest place wider, and no place narrower. */
export function afterCut(before: Diameters | undefined, measured_mm: readonly number[]): Result<Diameters, Code> {
  const after = diametersOf(measured_mm)
  if (isRefusal(after) || before === undefined || isLarger(after, before)) return after
  return refuse('evaluate/ream-diameter-not-larger', {
    found: `${rangeOf(after)} after a cut, ${rangeOf(before)} before it`,
    needed: 'a larger hole after each cut',
    remedy: 'measure again; if the cut took nothing away, it was none'
  })
}

const isLarger = (after: Diameters, before: Diameters): boolean =>
  after.smallest_mm > before.smallest_mm && after.largest_mm >= before.largest_mm

export const removedBetween = (before: Diameters, after: Diameters): Removed => ({
  least_mm: Math.max(0, toNanometer(after.smallest_mm - before.largest_mm)),
  most_mm: toNanometer(after.largest_mm - before.smallest_mm)
})

export const rangeOf = ({ smallest_mm, largest_mm }: Diameters): string =>
  smallest_mm === largest_mm ? `${largest_mm} mm` : `${smallest_mm} to ${largest_mm} mm`
