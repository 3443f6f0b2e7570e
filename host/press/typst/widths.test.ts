import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fonts } from './fonts.ts'
import { measured, pieces, widthOf, wordsOf } from './measure.ts'
import { columnWidths } from './widths.ts'

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0)
const need = fc
  .tuple(fc.double({ min: 5, max: 300, noNaN: true }), fc.double({ min: 0, max: 400, noNaN: true }))
  .map(([least, more]) => ({ least, most: least + more }))

describe('widths of columns', () => {
  it('are what is needed where all fits', () =>
    expect(
      columnWidths(
        [
          { least: 10, most: 30 },
          { least: 20, most: 40 }
        ],
        100
      )
    ).toEqual([30, 40]))

  it('never fill more than the room, and all of it where something has to wrap', () =>
    fc.assert(
      fc.property(fc.array(need, { minLength: 1, maxLength: 14 }), (needs) => {
        const widths = columnWidths(needs, 504)
        const most = sum(needs.map((one) => one.most))
        expect(sum(widths)).toBeLessThanOrEqual(504 + 1e-6)
        expect(sum(widths)).toBeCloseTo(Math.min(504, most), 3)
      })
    ))

  it('break no word where all words fit, and only the widest where they do not', () =>
    fc.assert(
      fc.property(fc.array(need, { minLength: 1, maxLength: 14 }), (needs) => {
        const widths = columnWidths(needs, 504)
        const isTight = sum(needs.map(({ least }) => least)) > 504
        const broken = needs.filter(({ least }, at) => widths[at]! < least - 1e-6)
        if (!isTight) expect(broken).toEqual([])
        const smallest = Math.min(...broken.map(({ least }) => least))
        for (const [at, { least }] of needs.entries())
          if (least < smallest) expect(widths[at]).toBeGreaterThanOrEqual(least - 1e-6)
      })
    ))
})

describe('texts in lines', () => {
  const { regular } = fonts()

  it('are measured by the font: figures of one width, a word and a line', () => {
    // Source Sans 3: 497 of 1000 units for each figure, as its glyph table says
    for (const figure of '0123456789') expect(widthOf(regular, figure)).toBeCloseTo(0.497, 9)
    expect(measured(regular, '00 000\n0')).toEqual({
      word: 3 * 0.497,
      line: expect.closeTo(5 * 0.497 + widthOf(regular, ' '), 9)
    })
  })

  it('end at spaces and hyphens, never before a closing sign or behind an opening one', () => {
    expect(wordsOf('mid-bore 0.5 mm (job sheet) , -3 ≤ x')).toEqual([
      'mid-',
      'bore ',
      '0.5 ',
      'mm ',
      '(job ',
      'sheet) , ',
      '-3 ',
      '≤ ',
      'x'
    ])
  })

  it('are cut behind the signs that join the parts of a name', () => {
    expect(pieces(regular, 'short', 10)).toBe('short')
    expect(pieces(regular, 'wing_left_row.2_hole.14', 5)).toEqual(['wing_', 'left_', 'row.', '2_hole.', '14'])
  })

  it('are the same text in pieces, each no wider than the room', () =>
    fc.assert(
      fc.property(fc.string({ maxLength: 200 }), fc.double({ min: 2, max: 30, noNaN: true }), (text, room) => {
        const cut = pieces(regular, text, room)
        const all = typeof cut === 'string' ? [cut] : cut
        expect(all.join('').replaceAll('\u200b', '')).toBe(text)
        if (typeof cut !== 'string')
          for (const one of cut) expect(widthOf(regular, one.trimEnd())).toBeLessThanOrEqual(room)
      })
    ))
})
