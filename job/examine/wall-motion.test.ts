/** The fast count against its definition, value by value, by the histograms of ground/numerics. */
import { countMagnitudes, magnitudeHistogram } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { countMotion } from './wall-motion.kernel.ts'

const column = (length: number) =>
  fc
    .array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: length, maxLength: length })
    .map((values) => Float64Array.from(values))

it('counts sizes and magnitudes along four directions', () => {
  const columns = fc.tuple(column(24), column(24), column(24), column(24))
  fc.assert(
    fc.property(columns, fc.constantFrom(1, 2, 4, 8), ([x, y, meanX, meanY], stride) => {
      const turn = { x: 0.6, y: -1.1 }
      const spec = { max: 4, bins: 16 }
      const fresh = () => magnitudeHistogram(spec)
      const [sizes, xs, ys, plus, minus] = [fresh(), fresh(), fresh(), fresh(), fresh()]
      const along = [xs.counts, ys.counts, plus.counts, minus.counts] as const
      const counts = { stride, scale: spec.bins / spec.max, sizes: sizes.counts, along }
      const counted = countMotion({ x, y }, { x: meanX, y: meanY }, turn, counts)
      const turned = Array.from(x, (value, i) => {
        const [dx, dy] = [value - meanX[i]!, y[i]! - meanY[i]!]
        return [dx * turn.x - dy * turn.y, dx * turn.y + dy * turn.x] as const
      }).filter((_, i) => i % stride === 0)
      const plain = (of: (point: readonly [number, number]) => number) => {
        const histogram = fresh()
        countMagnitudes(histogram, turned.map(of))
        return histogram.counts
      }
      expect(counted).toBe(turned.length)
      expect(sizes.counts).toEqual(plain(([a, b]) => Math.sqrt(a * a + b * b)))
      expect(xs.counts).toEqual(plain(([a]) => a))
      expect(ys.counts).toEqual(plain(([, b]) => b))
      expect(plus.counts).toEqual(plain(([a, b]) => a + b))
      expect(minus.counts).toEqual(plain(([a, b]) => a - b))
    })
  )
})
