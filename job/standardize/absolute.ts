import { type ConditionedUnit, type TrackUnit, UNIT } from '../signal/index.ts'

/**
 * The absolute channel under a conditioned unit, mean over one width of the field, `[512]`; NaN where no sample is near or
 * there is no such channel. A coating is not thinner or thicker over less than the probe sees.
 * @param field width of the field in ruler points
 */
export function absoluteUnder({ a, b }: ConditionedUnit<'position', TrackUnit>, field: number): Float64Array {
  const out = new Float64Array(UNIT).fill(Number.NaN)
  if (a.absolute === undefined && b.absolute === undefined) return out
  const two = new Float64Array(2 * UNIT).fill(Number.NaN)
  if (a.absolute !== undefined) two.set(a.absolute, 0)
  if (b.absolute !== undefined) two.set(b.absolute, UNIT)
  const half = Math.floor(field / 2)
  for (let n = 0; n < UNIT; n++) out[n] = meanAround(two, n + UNIT / 2, half)
  return out
}

function meanAround(values: Float64Array, at: number, half: number): number {
  let sum = 0
  let count = 0
  for (let i = at - half; i <= at + half; i++) {
    const value = values[i]!
    if (Number.isNaN(value)) continue
    sum += value
    count++
  }
  return count > half ? sum / count : Number.NaN
}
