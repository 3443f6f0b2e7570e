import { exp } from '@trueloop/ground/numerics'
import { expect, test } from 'vitest'
import { sumsAgainst } from './behind.kernel.ts'
import { bellCumulative, bellsBetween } from './bell.kernel.ts'
import { steadily } from './fits.kernel.ts'

// Slow twins: the same by its definition, a value at a time.

test('a column between anchors is the cubic through the four nearest', () => {
  const anchors = [7, ...Array.from({ length: 8 }, (_, k) => Math.sqrt(1 + k * k))]
  const every = 5
  const cubic = (first: number, t: number) =>
    [0, 1, 2, 3].reduce((sum, k) => {
      const others = [0, 1, 2, 3].filter((m) => m !== k)
      return sum + anchors[first + k]! * others.reduce((all, m) => (all * (t - first - m)) / (k - m), 1)
    }, 0)
  const column = steadily(anchors, every)
  expect(column.length).toBe(2 + every * 7)
  expect(column[0]).toBe(7)
  for (let j = 1; j < column.length; j++) {
    const t = 1 + (j - 1) / every
    const first = Math.max(1, Math.min(Math.floor(t) - 1, anchors.length - 4))
    expect(column[j]).toBeCloseTo(cubic(first, t), 12)
  }
})

test('bells between are differences of the distribution, beyond the table too', () => {
  const u = Float64Array.from({ length: 60 }, (_, i) => 0.7 * i - 21)
  const into = new Float64Array(u.length)
  bellsBetween({ u, count: u.length, into }, 0.3, 1.7)
  for (const [i, place] of u.entries()) {
    const off = place - 0.3
    expect(into[i]).toBeCloseTo(bellCumulative(off + 1.7) - bellCumulative(off - 1.7), 13)
  }
})

test('sums against a shape are sums over the rows in use', () => {
  const [count, most] = [9, 12]
  const of = (value: (i: number) => number) => Float64Array.from({ length: most }, (_, i) => value(i))
  const columns = {
    count,
    u: of((i) => 0.4 * i - 1.5),
    x: of((i) => 1 - 0.2 * i),
    y: of((i) => i * i),
    shape: of(() => 0)
  }
  const room = () => new Float64Array(3)
  const left = Float64Array.from({ length: 3 * count }, (_, i) => 1 / (1 + i))
  for (const stride of [0, count]) {
    for (const half of [0, 0.8]) {
      const places = { at: Float64Array.of(-0.5, 0, 0.5), tt: room(), tx: room(), ty: room(), left, stride }
      sumsAgainst(columns, places, { half, ahead: 0.2, from: 1, to: 2 })
      expect(places.tt[0]).toBe(0)
      for (const k of [1, 2]) {
        let [tt, tx, ty] = [0, 0, 0]
        for (let i = 0; i < count; i++) {
          const off = columns.u[i]! - places.at[k]! - 0.2
          const bell = half > 0 ? bellCumulative(off + half) - bellCumulative(off - half) : exp(-0.5 * off * off)
          const t = bell * left[k * stride + i]!
          tt += t * t
          tx += t * columns.x[i]!
          ty += t * columns.y[i]!
        }
        expect(places.tt[k]).toBeCloseTo(tt, 12)
        expect(places.tx[k]).toBeCloseTo(tx, 12)
        expect(places.ty[k]).toBeCloseTo(ty, 10)
      }
    }
  }
})
