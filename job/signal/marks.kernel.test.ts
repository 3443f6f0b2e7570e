/** The kernels against the plain search. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { firstBelow, firstFrom } from './marks.kernel.ts'

const values = fc.array(fc.oneof(fc.constantFrom(0, 1, 2, Number.NaN), fc.double({ min: -3, max: 3 })), {
  maxLength: 40
})

it('finds the first element at or above a level, and the first below', () => {
  fc.assert(
    fc.property(values, fc.nat(40), fc.nat(40), fc.constantFrom(-1, 0, 1, 2.5), (list, a, b, level) => {
      const to = Math.min(list.length, b)
      const from = Math.min(a, to)
      const plain = (is: (value: number) => boolean) => {
        const at = list.findIndex((value, i) => i >= from && i < to && is(value))
        return at < 0 ? to : at
      }
      const column = Float64Array.from(list)
      expect(firstFrom(level, column, { from, to })).toBe(plain((value) => value >= level))
      expect(firstBelow(level, column, { from, to })).toBe(plain((value) => value < level))
    }),
    { numRuns: 500 }
  )
})
