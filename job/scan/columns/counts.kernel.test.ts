/** The one pass against plain ways of counting each thing by itself. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { countsOf } from './counts.kernel.ts'

/** Each count by itself, from the finite values alone. */
function plain(values: readonly number[]) {
  const finite = values.filter(Number.isFinite)
  const steps = finite.slice(1).map((value, k) => Math.sign(value - finite[k]!))
  return {
    count: finite.length,
    up: steps.filter((step) => step > 0).length,
    down: steps.filter((step) => step < 0).length,
    gain: finite.length < 2 ? 0 : finite.at(-1)! - finite[0]!,
    distinct: Math.min(3, new Set(finite).size),
    integers: finite.every(Number.isInteger)
  }
}

it('counts what the plain ways count', () => {
  const value = fc.oneof(
    fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, -0, 0.5),
    fc.integer({ min: -2, max: 2 })
  )
  fc.assert(
    fc.property(fc.array(value, { maxLength: 12 }), (values) => {
      expect(countsOf(Float64Array.from(values))).toEqual(plain(values))
    }),
    { numRuns: 500 }
  )
})
