import { describe, expect, it } from 'vitest'
import { borrowColumn, giveBack, outgrown, workColumn } from './spare-columns.ts'

describe('spare columns', () => {
  it('are lent again, to one borrower at a time', () => {
    const column = borrowColumn(771)
    expect(column.length).toBe(771)
    giveBack(column)
    expect(borrowColumn(771)).toBe(column)
    expect(borrowColumn(771)).not.toBe(column)
  })

  it('are lent by their length alone', () => {
    const column = borrowColumn(773)
    giveBack(column)
    expect(borrowColumn(774)).not.toBe(column)
  })

  it('keep what is in them when they are outgrown', () => {
    const column = borrowColumn(3)
    column.set([1, 2, 3])
    const longer = outgrown(column, 5)
    expect(longer.length).toBe(5)
    expect([...longer.subarray(0, 3)]).toEqual([1, 2, 3])
  })

  it('are not kept without end', () => {
    const large = Array.from({ length: 6 }, () => new Float64Array(1 << 20))
    for (const column of large) giveBack(column)
    const again = Array.from({ length: 6 }, () => borrowColumn(1 << 20))
    expect(again.filter((column) => large.includes(column)).length).toBeLessThanOrEqual(4)
  })
})

describe('a column for work', () => {
  it('is the same one again, and another for each place that works', () => {
    const [here, there] = [workColumn(), workColumn()]
    const first = here(100)
    expect(first.length).toBe(100)
    expect(here(60).buffer).toBe(first.buffer)
    expect(here(60).length).toBe(60)
    expect(there(100).buffer).not.toBe(first.buffer)
    expect(here(1000).length).toBe(1000)
  })

  it('is not kept where it is very long', () => {
    const here = workColumn()
    const long = here((1 << 18) + 1)
    expect(long.length).toBe((1 << 18) + 1)
    expect(here((1 << 18) + 1).buffer).not.toBe(long.buffer)
  })
})
