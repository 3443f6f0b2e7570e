import fc from 'fast-check'
import { expect, it } from 'vitest'
import { held, panned, type View, wholeView, zoomed } from './view.ts'

const whole = wholeView({ from: -1, to: 10 })
const part = fc
  .tuple(
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.double({ min: 1, max: 50, noNaN: true })
  )
  .map(([across, down, factor]) => {
    const turn = whole.turnFrom + across * (whole.turnTo - whole.turnFrom)
    const depth = whole.depthFrom + down * (whole.depthTo - whole.depthFrom)
    return zoomed(whole, whole, factor, { turn, depth })
  })

const isInside = (view: View): boolean =>
  view.turnFrom >= whole.turnFrom - 1e-9 &&
  view.turnTo <= whole.turnTo + 1e-9 &&
  view.depthFrom >= whole.depthFrom - 1e-9 &&
  view.depthTo <= whole.depthTo + 1e-9 &&
  view.turnTo > view.turnFrom &&
  view.depthTo > view.depthFrom

it('never shows what is not there, however it is zoomed and shifted', () => {
  fc.assert(
    fc.property(
      part,
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.double({ min: 0.01, max: 90, noNaN: true }),
      (view, by, factor) => {
        expect(isInside(view)).toBe(true)
        expect(isInside(panned(view, whole, by, -by))).toBe(true)
        expect(isInside(zoomed(view, whole, factor, { turn: 0.4, depth: 3 }))).toBe(true)
      }
    )
  )
})

it('zooms about the spot: it stays where it was', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.3, max: 0.7, noNaN: true }),
      fc.double({ min: 1.01, max: 8, noNaN: true }),
      (share, factor) => {
        const spot = {
          turn: whole.turnFrom + share * (whole.turnTo - whole.turnFrom),
          depth: whole.depthFrom + share * (whole.depthTo - whole.depthFrom)
        }
        const near = zoomed(whole, whole, factor, spot)
        expect((spot.turn - near.turnFrom) / (near.turnTo - near.turnFrom)).toBeCloseTo(share, 9)
        expect((spot.depth - near.depthFrom) / (near.depthTo - near.depthFrom)).toBeCloseTo(share, 9)
        expect((near.turnTo - near.turnFrom) * factor).toBeCloseTo(whole.turnTo - whole.turnFrom, 9)
      }
    )
  )
})

it('leaves the whole whole', () => {
  expect(held(whole, whole)).toEqual(whole)
  expect(panned(whole, whole, 0.5, 0.5)).toEqual(whole)
})
