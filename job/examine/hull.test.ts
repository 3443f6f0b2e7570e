import { describe, expect, it } from 'vitest'
import { farthestPair, Hull } from './hull.ts'
import reference from './reference/hull.json' with { type: 'json' }

function hullOf({ count, a, b }: { readonly count: number; readonly a: number; readonly b: number }): Hull {
  const hull = new Hull()
  for (let k = 0; k < count; k++) {
    hull.add({ x: (a * k * k + 3 * k) % 101, y: (b * k * k + 11 * k) % 97, sample: k })
  }
  return hull
}

// oracle: scipy.spatial.ConvexHull and every pair of points (reference/hull.py)
describe('convex hull of a growing set', () => {
  it.each(reference.cases)('$count points by $a and $b', (one) => {
    const corners = hullOf(one).corners()
    const sorted = corners.map(({ x, y }) => [x, y]).sort((p, q) => p[0]! - q[0]! || p[1]! - q[1]!)
    expect(sorted).toEqual(one.corners)
    const pair = farthestPair(corners)!
    expect(Math.hypot(pair[0].x - pair[1].x, pair[0].y - pair[1].y)).toBeCloseTo(one.farthest, 12)
    expect(pair[0].sample).toBeLessThan(pair[1].sample)
  })

  it('has no farthest pair of one point, and takes the earliest sample of a place', () => {
    const hull = new Hull()
    for (const sample of [5, 2, 9]) hull.add({ x: 1, y: 1, sample })
    expect(farthestPair(hull.corners())).toBe(undefined)
    expect(hull.corners().map(({ sample }) => sample)).toEqual([2])
  })
})
