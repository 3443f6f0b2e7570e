/** Who may write into what was given back: nobody by two ways at once, and never into a part of something. */
import { borrowColumn } from '@trueloop/ground/numerics'
import { expect, it } from 'vitest'
import { release } from './index.ts'

/** Columns of this length that are lent now, until one is fresh. */
function lent(length: number): readonly Float64Array[] {
  const columns: Float64Array[] = []
  do columns.push(borrowColumn(length).fill(1))
  while (columns.length < 9)
  return columns
}

it('a released segment gives each of its columns once', () => {
  const [x, y, index] = [new Float64Array(1201), new Float64Array(1201), new Float64Array(1201)]
  release({ first: 0, channels: [{ x, y }], aux: { index, time: x } })
  const columns = lent(1201)
  for (const column of [x, y, index]) expect(columns.filter((one) => one === column).length).toBe(1)
})

it('a column that is part of something is not given away', () => {
  const whole = new Float64Array(2 * 1301)
  const [x, y] = [whole.subarray(0, 1301), whole.subarray(1301)]
  release({ first: 0, channels: [{ x, y }], aux: {} })
  expect(lent(1301).some((column) => column.buffer === whole.buffer)).toBe(false)
  expect(whole.every((value) => value === 0)).toBe(true)
})
