/**
 * The first 20 holes of each of the 20 set-ups of `npm run long -- blanks`, by the same code. What is stated is checked
 * from above and from below: at the method's own number 400 holes can only show that it is not much too low, with the
 * number moved up they show both.
 */
import { beforeAll, describe, expect, it } from 'vitest'
import { trials } from '../../../job/rehearse/index.ts'
import { type BlankRow, blankFigures, blankRows, compared } from './blanks.ts'

const patience_ms = 180_000
let rows: readonly BlankRow[] = []

beforeAll(() => {
  rows = [...trials('blanks', { holes: 20 })].flatMap((part) => [...blankRows(part)])
}, patience_ms)

describe('400 holes without a flaw', () => {
  it('are all there and nearly all examined', () => {
    expect(rows).toHaveLength(400)
    expect(rows.filter(({ own }) => own !== undefined).length).toBeGreaterThan(390)
  })
  it('bring up no more by noise than is stated, to 99 %', () => {
    const { own } = blankFigures(rows)
    expect(own.seen['what noise explains']).toBeLessThanOrEqual(own.interval.most)
  })
  it('bring up no more than is stated where more is asked for, to 99 %, and at least a quarter of it', () => {
    const { moved } = blankFigures(rows)
    expect(moved.interval.least).toBeGreaterThan(0)
    expect(moved.seen['what noise explains']).toBeGreaterThanOrEqual(moved.statedHoles! / 4)
    expect(moved.seen['what noise explains']).toBeLessThanOrEqual(moved.interval.most)
  })
  it('could tell a rate of three times, and the mean of a third, of what is stated', () => {
    const { moved } = blankFigures(rows)
    expect(moved.interval.most).toBeLessThan(3 * moved.statedHoles!)
    expect(moved.interval.least).toBeGreaterThan(moved.statedHoles! / 3)
  })
  it.each([
    ['three times as much', 3],
    ['a tenth', 0.1]
  ])('would not pass if %s were stated', (_, by) => {
    const blanks = rows.flatMap(({ moved }) => (moved === undefined ? [] : [moved]))
    expect(compared(blanks.map((one) => ({ ...one, stated: by * one.stated }))).within).toBe(false)
  })
})
