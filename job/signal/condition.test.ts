/** Oracles: a plain slow mean; laws of linear zero-phase filters. The filter against SciPy is in band.test.ts. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { UNIT } from './band.ts'
import { conditioner, slidingMean } from './condition.ts'
import { farthest, fixedColumns } from './testing/columns.ts'

const band = { low: 2.66, high: 14.96 }
const condition = conditioner<'angle'>(band)
const columns = fixedColumns(4 * UNIT)

const from = (first: number, x = columns.x, y = columns.y) =>
  condition({
    state: 'placed',
    axis: 'angle',
    first,
    x: x.slice(first, first + 2 * UNIT),
    y: y.slice(first, first + 2 * UNIT)
  })

/** The definition, point by point. */
function slowMean(two: Float64Array): Float64Array {
  return Float64Array.from({ length: UNIT }, (_, n) => {
    let sum = 0
    for (let k = 0; k <= UNIT; k++) sum += (k === 0 || k === UNIT ? 0.5 : 1) * two[n + k]!
    return sum / UNIT
  })
}

describe('slidingMean', () => {
  it('is the mean of its definition', () => {
    const two = columns.x.slice(100, 100 + 2 * UNIT)
    expect(farthest(slidingMean(two), slowMean(two))).toBeLessThan(1e-14)
  })
})

describe('conditioner', () => {
  it('does not depend on where the units begin', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: UNIT - 1 }), (shift) => {
        const a = from(0).signal
        const b = from(shift).signal
        expect(farthest(a.x.slice(shift), b.x.slice(0, UNIT - shift))).toBeLessThan(1e-12)
        expect(farthest(a.y.slice(shift), b.y.slice(0, UNIT - shift))).toBeLessThan(1e-12)
      }),
      { numRuns: 20 }
    )
  })

  it('is linear, and treats x and y alike', () => {
    const a = from(0)
    const b = from(700)
    const sum = condition({
      state: 'placed',
      axis: 'angle',
      first: 0,
      x: columns.x.slice(0, 2 * UNIT).map((v, i) => 2 * v - 3 * columns.y[700 + i]!),
      y: columns.y.slice(0, 2 * UNIT).map((v, i) => 2 * v - 3 * columns.x[700 + i]!)
    })
    expect(
      farthest(
        sum.signal.x,
        a.signal.x.map((v, i) => 2 * v - 3 * b.signal.y[i]!)
      )
    ).toBeLessThan(1e-12)
    expect(
      farthest(
        sum.signal.y,
        a.signal.y.map((v, i) => 2 * v - 3 * b.signal.x[i]!)
      )
    ).toBeLessThan(1e-12)
  })

  it('has zero phase: reversed in, reversed out', () => {
    const back = (column: Float64Array) => column.slice(0, 2 * UNIT).reverse()
    const { signal } = condition({ state: 'placed', axis: 'angle', first: 0, x: back(columns.x), y: back(columns.y) })
    // element 0 of the middle has no partner: reversing maps point n to 1023 - n, the middle 256…767 onto itself
    expect(farthest(signal.x, from(0).signal.x.slice().reverse())).toBeLessThan(1e-12)
    expect(farthest(signal.y, from(0).signal.y.slice().reverse())).toBeLessThan(1e-12)
  })

  it('removes what is constant, once and twice a turn, and a straight drift', () => {
    const turn = (i: number) => (2 * Math.PI * i) / UNIT
    const slow = Float64Array.from(
      { length: 2 * UNIT },
      (_, i) => 7 + 3 * Math.cos(turn(i)) + 2 * Math.sin(2 * turn(i))
    )
    const { signal, mean } = condition({ state: 'placed', axis: 'angle', first: 0, x: slow, y: slow })
    expect(farthest(signal.x, new Float64Array(UNIT))).toBeLessThan(1e-12)
    expect(farthest(mean.x, new Float64Array(UNIT).fill(7))).toBeLessThan(1e-12)
    const drift = Float64Array.from({ length: 2 * UNIT }, (_, i) => i / UNIT)
    const drifting = condition({ state: 'placed', axis: 'angle', first: 0, x: drift, y: drift })
    expect(farthest(drifting.signal.x, new Float64Array(UNIT))).toBeLessThan(1e-12)
  })
})
