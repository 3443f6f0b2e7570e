import { describe, expect, it } from 'vitest'
import { cells, withoutRepeats } from './blocks.ts'
import { plain } from './testing/index.ts'

const columns = ['Place', 'Metal', 'Depth'].map((label) => ({ label }))
const table = (rows: readonly (readonly string[])[]) => ({
  caption: 'Holes',
  columns,
  rows: rows.map((row) => cells(...row))
})

describe('a table of many rows', () => {
  it('says once what all its rows say, and keeps the rest', () =>
    expect(
      plain(
        withoutRepeats(
          table([
            ['a', 'Al', '1'],
            ['b', 'Al', '2'],
            ['c', 'Al', '1']
          ]),
          1,
          'none'
        )
      )
    ).toBe('Holes: the same in all 3 rows.\nMetal: Al\nHoles\n  Place | Depth\n  a | 1\n  b | 2\n  c | 1\n'))

  it('keeps a column in which one row differs', () =>
    expect(
      plain(
        withoutRepeats(
          table([
            ['a', 'Al', '1'],
            ['b', 'Al', '2'],
            ['c', 'Ti', '3']
          ]),
          1,
          'none'
        )
      )
    ).toContain('c | Ti | 3'))

  it('stays as it is where it is short, and says that it is empty', () => {
    expect(
      plain(
        withoutRepeats(
          table([
            ['a', 'Al', '1'],
            ['b', 'Al', '1']
          ]),
          1,
          'none'
        )
      )
    ).toContain('b | Al | 1')
    expect(plain(withoutRepeats(table([]), 1, 'none'))).toBe('none\n')
  })

  it('is left out where nothing but the names of its rows would stand in it', () =>
    expect(
      plain(
        withoutRepeats(
          table([
            ['a', 'Al', '1'],
            ['b', 'Al', '1'],
            ['c', 'Al', '1']
          ]),
          1,
          'none'
        )
      )
    ).toBe('Holes: the same in all 3 rows.\nMetal: Al\nDepth: 1\n'))
})
