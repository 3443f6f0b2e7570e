import { describe, expect, it } from 'vitest'
import { gapsIn } from './gaps.ts'

/** Oracle: numbers counted by hand. */

describe('numbers that are missing', () => {
  it.each<[string, readonly string[], readonly string[]]>([
    ['none', ['P01', 'P02', 'P03'], []],
    ['one, as wide as the others', ['P01', 'P02', 'P04'], ['P03']],
    ['in any order, and where a name stands twice', ['W-12', 'W-9', 'W-10', 'W-9'], ['W-11']],
    ['of each series by itself', ['A1', 'B1', 'A3', 'B2'], ['A2']],
    ['before a word', ['hole 7 left', 'hole 9 left', 'hole 8 right'], ['hole 8 left']],
    ['where there are no numbers', ['left', 'right'], []],
    ['with the last number of a name', ['2026-03-recheck-1', '2026-03-recheck-3'], ['2026-03-recheck-2']]
  ])('%s', (_, names, missing) => expect(gapsIn(names)).toEqual(missing))

  it('are not written out where they are many', () => {
    const missing = gapsIn(['S1', 'S1000'])
    expect(missing.slice(0, 2)).toEqual(['S2', 'S3'])
    expect(missing.at(-1)).toBe('… (998 in all)')
    expect(missing).toHaveLength(51)
  })
})
