/** The way of the data, as the compiler sees it: each `@ts-expect-error` is a test that `tsc` runs. */
import { describe, expect, it } from 'vitest'
import { UNIT } from './band.ts'
import { conditioner } from './condition.ts'
import { type Signal, standardized } from './signal.ts'

const column = () => new Float64Array(2 * UNIT)
const recorded: Signal<'recorded', 'time'> = { state: 'recorded', axis: 'time', first: 0, x: column(), y: column() }
const placed: Signal<'placed', 'angle'> = { state: 'placed', axis: 'angle', first: 0, x: column(), y: column() }
const condition = conditioner<'angle'>({ low: 3, high: 12 })

describe('what does not compile', () => {
  it('conditioning a recorded time signal', () => {
    // @ts-expect-error a time signal has no band in cycles per revolution
    condition(recorded)
    expect(condition(placed).signal.state).toBe('conditioned')
  })

  it('standardizing what is not conditioned', () => {
    // @ts-expect-error a placed signal still has its mean
    standardized(placed, { x: 1, y: 0 })
    expect(standardized(condition(placed).signal, { x: 1, y: 0 }).state).toBe('standardized')
  })

  it('an angle signal on the ruler of a track', () => {
    // @ts-expect-error the axes differ
    conditioner<'position'>({ low: 0, high: 12 })(placed)
    expect(placed.axis).toBe('angle')
  })
})

describe('standardized', () => {
  it('multiplies as complex numbers do', () => {
    const { signal } = condition({
      ...placed,
      x: column().map((_, i) => Math.cos(0.04 * i)),
      y: column().map((_, i) => Math.sin(0.06 * i))
    })
    const out = standardized(signal, { x: 0.6, y: -1.7 })
    for (const i of [0, 100, 511]) {
      expect(out.x[i]).toBeCloseTo(0.6 * signal.x[i]! + 1.7 * signal.y[i]!, 14)
      expect(out.y[i]).toBeCloseTo(0.6 * signal.y[i]! - 1.7 * signal.x[i]!, 14)
    }
    expect(out.first).toBe(signal.first)
  })
})
