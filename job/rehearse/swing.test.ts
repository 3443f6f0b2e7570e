/** Oracle: the slow twin. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { swings } from './swing.kernel.ts'

function slow(values: readonly number[], window: number): readonly number[] {
  const out = values.map(() => 0)
  for (let first = 0; first + window <= values.length; first++) {
    const part = values.slice(first, first + window)
    out[first + Math.floor(window / 2)] = Math.max(...part) - Math.min(...part)
  }
  return out
}

it('swings are largest minus smallest in every window', () => {
  const values = fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 1, maxLength: 60 })
  fc.assert(
    fc.property(values, fc.integer({ min: 1, max: 20 }), (all, window) => {
      expect([...swings(Float64Array.from(all), window)]).toEqual(slow(all, window))
    })
  )
})
