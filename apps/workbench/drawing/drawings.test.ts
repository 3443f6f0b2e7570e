import { describe, expect, it } from 'vitest'
import type { PlaceRow } from '../asking/client.ts'
import type { Waiting } from '../outbox/waiting.ts'
import { type Drawing, drawnNow, marksOn, nextToPlace } from './drawings.ts'

/** Oracle: the statements as they were made, in their order. */

const on = (name: string, x: number, page = 1) => ({ of: 'hole' as const, name, x, y: 0.5, page })
const drawing = { sha256: 'a', places: [on('1', 0.1), on('2', 0.2)] } as unknown as Drawing
const rows = ['1', '2', '3', '4'].map((name) => ({ of: 'hole', name }) as PlaceRow)

const waiting = (marks: readonly object[], more: object = {}): Waiting =>
  ({ statement: { what: 'place on a drawing', drawing: 'a', marks }, ...more }) as unknown as Waiting
const moved = (place: string, x: number) => ({ place, at: { x, y: 0.5, page: 1 } })

describe('places on a drawing', () => {
  it('lie where the record has them, then where it was stated last, then where they are being put', () => {
    const drafts = new Map([['3', { x: 0.9, y: 0.5, page: 1 }]])
    const stated = [waiting([moved('2', 0.5), { place: '1' }]), waiting([moved('2', 0.6)])]
    expect(drawnNow(drawing, stated, drafts).map(({ name, x }) => [name, x])).toEqual([
      ['2', 0.6],
      ['3', 0.9]
    ])
  })

  it('are not moved by what was refused, nor by what is of another drawing', () => {
    const refused = waiting([moved('2', 0.5)], { refused: [] })
    const other = waiting([moved('2', 0.5)])
    const elsewhere = { ...other, statement: { ...other.statement, drawing: 'b' } } as Waiting
    expect(drawnNow(drawing, [refused, elsewhere], new Map())).toEqual(drawing.places)
  })

  it('are marks of their own page, and only where the job has them', () => {
    const drawn = [on('1', 0.1), on('2', 0.2, 2), on('9', 0.3)]
    expect(marksOn(drawn, 1, rows).map(({ name }) => name)).toEqual(['1'])
    expect(marksOn(drawn, 2, rows).map(({ name }) => name)).toEqual(['2'])
  })

  it('are put one after the other in the order of the list, from the one that was put last', () => {
    expect(nextToPlace(rows, drawing.places, undefined)).toBe('3')
    expect(nextToPlace(rows, drawing.places, '3')).toBe('4')
    expect(nextToPlace(rows, [...drawing.places, on('4', 0.4)], '4')).toBe('3')
    expect(
      nextToPlace(
        rows,
        rows.map(({ name }) => on(name, 0.1)),
        '4'
      )
    ).toBeUndefined()
  })
})
