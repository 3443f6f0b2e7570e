/** Single passes against the plain way. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { allEqual, allZero, nonFiniteRows } from './inspect.kernel.ts'

const value = fc.constantFrom(0, -0, 1, -2.5, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY)
const column = fc.array(value, { minLength: 6, maxLength: 6 }).map((list) => Float64Array.from(list))

it('finds what is no number', () => {
  const plain = (values: Float64Array): number[] => [...values.keys()].filter((row) => !Number.isFinite(values[row]))
  fc.assert(fc.property(column, (values) => nonFiniteRows(values).join() === plain(values).join()))
})

it('tells equal and zero columns, whatever NaN is between', () => {
  const finite = column.map((values) => values.map((one) => (Number.isFinite(one) ? one : Number.NaN)))
  const pairs = (x: Float64Array, y: Float64Array): [number, number][] =>
    [...x].map((one, row): [number, number] => [one, y[row] as number]).filter((pair) => !pair.some(Number.isNaN))
  fc.assert(
    fc.property(finite, finite, (x, y) => {
      expect(allEqual(x, y)).toBe(pairs(x, y).every(([a, b]) => a === b))
      expect(allZero(x)).toBe([...x].every((one) => Number.isNaN(one) || one === 0))
    })
  )
})
