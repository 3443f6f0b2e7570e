/** Oracle: columns whose clipped samples are counted by hand. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ClipWatch } from './clipping.ts'

const wave = (n: number, limit: number, of: (x: number) => number = Math.sin) =>
  Float64Array.from({ length: n }, (_, i) => Math.max(-limit, Math.min(limit, of(0.02 * i + 0.005))))

const samples = (x: Float64Array, y: Float64Array) => {
  const watch = new ClipWatch()
  watch.take(x, y)
  return watch.samples()
}

describe('ClipWatch', () => {
  it('counts what stands at a limit, in either channel, at either end', () => {
    const clipped = wave(1000, 0.8)
    const atLimit = clipped.filter((v) => Math.abs(v) === 0.8).length
    expect(atLimit).toBeGreaterThan(100)
    expect(samples(clipped, wave(1000, 2, Math.cos))).toBe(atLimit)
    expect(samples(wave(1000, 2, Math.cos), clipped)).toBe(atLimit)
  })

  it('lets a signal pass through its extreme', () => {
    expect(samples(wave(1000, 2), wave(1000, 2, Math.cos))).toBe(0)
    // three equal samples at the top are not a limit yet, four are
    expect(samples(Float64Array.of(0, 1, 1, 1, 0, -1, 0), wave(7, 2))).toBe(0)
    expect(samples(Float64Array.of(0, 1, 1, 1, 1, 0, -1), wave(7, 2))).toBe(4)
    expect(samples(Float64Array.of(-1, 0, 1, 1, 1, 1), wave(6, 2))).toBe(4)
  })

  it('forgets a lower limit when a higher value comes', () => {
    expect(samples(Float64Array.of(0, 1, 1, 1, 1, 1, 0, 2, 0, -1), wave(10, 2))).toBe(0)
  })

  it('takes a constant channel for dead, not for clipped', () => {
    expect(samples(new Float64Array(500).fill(0.3), wave(500, 2))).toBe(0)
  })

  it('takes no notice of what cannot be read', () => {
    expect(samples(Float64Array.of(0, 1, 1, Number.NaN, 1, 1, 0, -1), wave(8, 2))).toBe(0)
  })

  it('counts the same for any cutting', () => {
    const x = wave(600, 0.7)
    const y = wave(600, 0.9, Math.cos)
    const whole = samples(x, y)
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 1 }), (lengths) => {
        const watch = new ClipWatch()
        for (let at = 0, k = 0; at < x.length; k++) {
          const to = at + lengths[k % lengths.length]!
          watch.take(x.slice(at, to), y.slice(at, to))
          at = to
        }
        return watch.samples() === whole
      }),
      { numRuns: 30 }
    )
  })
})
