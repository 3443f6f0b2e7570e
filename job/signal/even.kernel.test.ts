/** Oracle: the definition, every sample at every element, with the spline of `ground/numerics` (tested against SciPy). */
import { cubicBSpline, randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { EVEN_MARGIN, evenWeight, LEAST_KNOT, placeEven } from './even.kernel.ts'
import { farthest } from './testing/columns.ts'

interface Case {
  readonly stride: number
  readonly knot: number
  readonly elements: number
  readonly fraction: number
}

/** Samples before the first element, so that all its neighbors are there. */
const lead = ({ knot }: Case) => Math.ceil(2 * knot) + EVEN_MARGIN

/** A wall that turns, an offset, noise, and a step from air to metal in the middle. */
function columnsFor(one: Case) {
  const random = randomFrom('even')
  const length = 2 * lead(one) + Math.ceil((one.elements - 1) * one.stride + one.fraction) + 1
  const value = (i: number) => 3 + 5 * Math.sin(0.006 * i) + (2 * i > length ? 4 : 0) + 0.1 * random.normal()
  return { x: Float64Array.from({ length }, (_, i) => value(i)), y: Float64Array.from({ length }, (_, i) => -value(i)) }
}

const originOf = (one: Case) => lead(one) + one.fraction

function slowTwin({ x, y }: ReturnType<typeof columnsFor>, one: Case) {
  const at = (n: number, column: Float64Array) => {
    let [sum, of] = [0, 0]
    column.forEach((value, i) => {
      const w = cubicBSpline((i - originOf(one) - n * one.stride) / one.knot)
      sum += w
      of += w * value
    })
    return of / sum
  }
  const all = (column: Float64Array) => Float64Array.from({ length: one.elements }, (_, n) => at(n, column))
  return { x: all(x), y: all(y) }
}

function placed(columns: ReturnType<typeof columnsFor>, one: Case, { start = 0, halves = 0 } = {}) {
  const out = { x: new Float64Array(one.elements), y: new Float64Array(one.elements) }
  const { stride, knot, elements } = one
  placeEven(columns, { start, origin: originOf(one), stride, knot, halves, from: 0, to: elements }, out)
  return out
}

const cases = fc.record({
  stride: fc.double({ min: 0.1, max: 12, noNaN: true }),
  knot: fc.double({ min: LEAST_KNOT, max: 40, noNaN: true }),
  elements: fc.integer({ min: 1, max: 130 }),
  fraction: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true })
})

describe('placeEven', () => {
  it('is the weighted mean by the definition, whatever the spacings', () => {
    let most = 0
    fc.assert(
      fc.property(cases, (one) => {
        const columns = columnsFor(one)
        const [fast, slow] = [placed(columns, one), slowTwin(columns, one)]
        most = Math.max(most, farthest(fast.x, slow.x), farthest(fast.y, slow.y))
      }),
      { numRuns: 60 }
    )
    // the values reach 12: 1e-10 of them, with room
    expect(most).toBeLessThan(1e-10)
  })

  it.each([0, 1, 0.5])('takes whole and half numbers of samples, from %f on', (fraction) => {
    const one = { stride: 2, knot: 4, elements: 64, fraction }
    const columns = columnsFor(one)
    expect(farthest(placed(columns, one).x, slowTwin(columns, one).x)).toBeLessThan(1e-11)
  })

  it.each([1, 2, 3, 4, 5, 9])('is the same with knots %i half strides apart, on one lattice', (halves) => {
    const one = { stride: 5.21, knot: (halves * 5.21) / 2, elements: 128, fraction: 0.77 }
    const columns = columnsFor(one)
    const fast = placed(columns, one, { halves })
    expect(farthest(fast.x, slowTwin(columns, one).x)).toBeLessThan(1e-10)
    expect(farthest(fast.y, slowTwin(columns, one).y)).toBeLessThan(1e-10)
  })

  it('keeps a constant exactly', () => {
    const one = { stride: 7.7, knot: 13.6, elements: 128, fraction: 0.3 }
    const column = columnsFor(one).x.fill(-2.7)
    expect(new Set(placed({ x: column, y: column }, one).x)).toEqual(new Set([-2.7]))
  })

  it('does not see where the columns begin, to the bit', () => {
    const one = { stride: 5.21, knot: 6.1, elements: 128, fraction: 0.123456789 }
    const columns = columnsFor(one)
    const after = (column: Float64Array) => Float64Array.from([...new Float64Array(99_991).fill(7), ...column])
    expect(placed({ x: after(columns.x), y: after(columns.y) }, one, { start: 99_991 })).toEqual(placed(columns, one))
  })
})

describe('evenWeight', () => {
  it('is the effective number of samples by the definition', () => {
    fc.assert(
      fc.property(cases, ({ knot, fraction }) => {
        const weights = Array.from({ length: 401 }, (_, i) => cubicBSpline((i - 200 - fraction) / knot))
        const sum = weights.reduce((total, w) => total + w, 0)
        const square = weights.reduce((total, w) => total + w * w, 0)
        expect(Math.abs(evenWeight(200 + fraction, knot) / ((sum * sum) / square) - 1)).toBeLessThan(1e-12)
      }),
      { numRuns: 60 }
    )
  })
})
