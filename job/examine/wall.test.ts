import { expect, it } from 'vitest'
import { UNIT } from '../signal/index.ts'
import { wallOf } from './wall.ts'

/** Oracle: the columns of the sheet themselves, looked up element by element. */
it('lays every element in the row of its revolution, and fills both ends up with what is no number', () => {
  const [step, perTurn] = [4, UNIT / 4]
  const length = 2 * perTurn + 30
  const x = Float64Array.from({ length: length + 9 }, (_, at) => at)
  const first = 5 * UNIT + 100 * step
  const none = new Float64Array(0)
  const y = x.map((value) => -value)
  const wall = wallOf({ first, step, perTurn, length, x, y, cx: none, cy: none, harmonics: none })
  expect({ rows: wall.rows, columns: wall.columns, rowFrom: wall.rowFrom }).toEqual({
    rows: 4,
    columns: 128,
    rowFrom: 5
  })
  for (let at = 0; at < wall.x.length; at++) {
    const element = ((wall.rowFrom + Math.floor(at / perTurn)) * UNIT + (at % perTurn) * step - first) / step
    const isThere = element >= 0 && element < length
    expect(wall.x[at]).toBe(isThere ? x[element] : Number.NaN)
    expect(wall.y[at]).toBe(isThere ? y[element] : Number.NaN)
  }
})

it('of nothing is nothing', () => {
  const none = new Float64Array(0)
  const wall = wallOf({
    first: 0,
    step: 4,
    perTurn: 128,
    length: 0,
    x: none,
    y: none,
    cx: none,
    cy: none,
    harmonics: none
  })
  expect(wall).toMatchObject({ rows: 0, columns: 128, rowFrom: 0 })
  expect(wall.x).toHaveLength(0)
})
