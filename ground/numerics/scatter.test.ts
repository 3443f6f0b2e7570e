import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { randomFrom } from './random.ts'
import reference from './reference/scatter.json' with { type: 'json' }
import { scatterKernel } from './scatter.kernel.ts'
import { type Cloud, normalConsistency, principalAxes, robustScatter, type Scatter } from './scatter.ts'

function estimate(cloud: Cloud, dof: number): Scatter {
  const found = robustScatter(cloud, dof)
  if (isRefusal(found)) throw new Error(found.code)
  return found
}

interface Affine {
  readonly a: number
  readonly b: number
  readonly c: number
  readonly d: number
  readonly x: number
  readonly y: number
}

const turn = (angle: number, scale = 1, x = 0, y = 0): Affine => ({
  a: scale * Math.cos(angle),
  b: -scale * Math.sin(angle),
  c: scale * Math.sin(angle),
  d: scale * Math.cos(angle),
  x,
  y
})

const moved = (cloud: Cloud, m: Affine): Cloud => ({
  ...cloud,
  x: cloud.x.map((x, i) => m.a * x + m.b * cloud.y[i]! + m.x),
  y: cloud.x.map((x, i) => m.c * x + m.d * cloud.y[i]! + m.y)
})

function movedScatter(s: Scatter, m: Affine): Omit<Scatter, 'iterations'> {
  return {
    x: m.a * s.x + m.b * s.y + m.x,
    y: m.c * s.x + m.d * s.y + m.y,
    xx: m.a * m.a * s.xx + 2 * m.a * m.b * s.xy + m.b * m.b * s.yy,
    xy: m.a * m.c * s.xx + (m.a * m.d + m.b * m.c) * s.xy + m.b * m.d * s.yy,
    yy: m.c * m.c * s.xx + 2 * m.c * m.d * s.xy + m.d * m.d * s.yy
  }
}

/** Largest difference relative to the size of the scatter. */
function difference(a: Omit<Scatter, 'iterations'>, b: Omit<Scatter, 'iterations'>): number {
  const trace = a.xx + a.yy
  const second = Math.max(Math.abs(a.xx - b.xx), Math.abs(a.xy - b.xy), Math.abs(a.yy - b.yy)) / trace
  return Math.max(second, Math.hypot(a.x - b.x, a.y - b.y) / Math.sqrt(trace))
}

/** Correlated normal points, axis ratio about 5, with a share of outliers far away in one corner. */
function cloudOf(label: string, points: number, outliers = 0): Cloud {
  const random = randomFrom(label)
  const x = new Float64Array(points)
  const y = new Float64Array(points)
  for (let i = 0; i < points; i++) {
    const [u, v] = [random.normal(), random.normal()]
    const far = i < outliers * points
    x[i] = far ? 500 + u : 5 * u + v
    y[i] = far ? 800 + v : 5 * u - v
  }
  return { x, y }
}

describe('robustScatter', () => {
  for (const { name, dof, x, y, weights, location, xx, xy, yy } of reference.cases) {
    it(`agrees with an independent NumPy estimate: ${name}`, () => {
      const columns = { x: Float64Array.from(x), y: Float64Array.from(y) }
      const cloud: Cloud = weights === undefined ? columns : { ...columns, weights: Float64Array.from(weights) }
      const expected = { x: location[0]!, y: location[1]!, xx, xy, yy }
      expect(difference(estimate(cloud, dof), expected)).toBeLessThan(reference.tolerance)
    })
  }

  it('has the consistency factor that mpmath finds by quadrature', () => {
    for (const [dof, expected] of reference.consistency) expect(normalConsistency(dof!)).toBeCloseTo(expected!, 12)
  })

  it('turns, stretches and moves with the cloud, to 1e-10', () => {
    const angle = fc.double({ min: -7, max: 7, noNaN: true })
    const scale = fc.double({ min: 1e-6, max: 1e6, noNaN: true })
    const offset = fc.double({ min: -1000, max: 1000, noNaN: true })
    const cloud = cloudOf('equivariance', 300, 0.1)
    const still = estimate(cloud, 3)
    fc.assert(
      fc.property(angle, scale, offset, offset, (a, s, x, y) => {
        const m = turn(a, s, x * s, y * s)
        expect(difference(estimate(moved(cloud, m), 3), movedScatter(still, m))).toBeLessThan(1e-10)
      }),
      { numRuns: 50 }
    )
    const far = { a: 1, b: 0, c: 0, d: 1, x: 2 ** 30, y: -(2 ** 31) } // exact up to the last digits of the coordinates
    expect(difference(estimate(moved(cloud, far), 3), movedScatter(still, far))).toBeLessThan(1e-7)
    const shear: Affine = { a: 3, b: 1, c: 0.2, d: -0.5, x: 7, y: 8 }
    expect(difference(estimate(moved(cloud, shear), 3), movedScatter(still, shear))).toBeLessThan(1e-10)
  })

  it('stays bounded with 20 % of the points far away, where the plain covariance follows them; not with 40 %', () => {
    const axes = (outliers: number, dof: number) => principalAxes(estimate(cloudOf('breakdown', 500, outliers), dof))
    const degrees = (share: number, dof: number): number => Math.abs((axes(share, dof).angle_rad * 180) / Math.PI - 45)
    expect(degrees(0, 1)).toBeLessThan(1)
    expect(degrees(0.02, 1)).toBeLessThan(1.5)
    expect(degrees(0.2, 1)).toBeLessThan(10) // bent, as its influence function says, but bounded
    expect(axes(0.2, 1).major / axes(0, 1).major).toBeLessThan(3)
    const middle = estimate(cloudOf('breakdown', 500, 0.2), 1)
    expect(Math.hypot(middle.x, middle.y)).toBeLessThan(3)
    expect(axes(0.2, 1e9).major / axes(0, 1).major).toBeGreaterThan(1000)
    expect(degrees(0.2, 1e9)).toBeGreaterThan(12)
    expect(axes(0.4, 1).major / axes(0, 1).major).toBeGreaterThan(1000)
  })

  it('estimates the covariance of normal data', () => {
    const s = estimate(cloudOf('normal', 40_000), 3) // covariance of (5u + v, 5u - v): 26, 24, 26
    expect(Math.abs(s.xx / 26 - 1)).toBeLessThan(0.03)
    expect(Math.abs(s.yy / 26 - 1)).toBeLessThan(0.03)
    expect(Math.abs(s.xy / 24 - 1)).toBeLessThan(0.03)
  })

  it('takes a count of n as n equal points', () => {
    const cloud = cloudOf('counts', 60)
    const weights = Float64Array.from({ length: 60 }, (_, i) => i % 4)
    const repeated = (column: Float64Array): Float64Array =>
      Float64Array.from(Array.from(column).flatMap((value, i) => new Array<number>(weights[i]!).fill(value)))
    const counted = estimate({ ...cloud, weights }, 4)
    expect(difference(counted, estimate({ x: repeated(cloud.x), y: repeated(cloud.y) }, 4))).toBeLessThan(1e-12)
    expect(difference(counted, estimate({ ...cloud, weights: weights.map((w) => w * 1e9) }, 4))).toBeLessThan(1e-12)
  })

  it('weighs and sums as the plain formulas say', () => {
    const cloud = { ...cloudOf('kernel', 1300), weights: Float64Array.from({ length: 1300 }, (_, i) => i % 3) }
    const frame = { xOrigin: 0.1, yOrigin: -0.4, x: 0.2, y: 0.2, l11: 4, l21: 2, l22: 1.5 }
    const sums = [0, 0, 0, 0, 0, 0]
    for (let i = 0; i < 1300; i++) {
      const u = (cloud.x[i]! - 0.3) / frame.l11
      const v = (cloud.y[i]! + 0.2 - frame.l21 * u) / frame.l22
      const w = (cloud.weights[i]! * 5) / (3 + u * u + v * v)
      for (const [k, term] of [w, w * u, w * v, w * u * u, w * u * v, w * v * v].entries()) sums[k]! += term
    }
    const { w, u, v, uu, uv, vv } = scatterKernel(cloud, frame, 3)
    for (const [k, value] of [w, u, v, uu, uv, vv].entries()) expect(value).toBeCloseTo(sums[k]!, 9)
  })

  it('refuses too few points, points on a line or in one place, and mass in one place', () => {
    const code = (x: number[], y: number[], weights?: number[]): string => {
      const columns = { x: Float64Array.from(x), y: Float64Array.from(y) }
      const found = robustScatter(
        weights === undefined ? columns : { ...columns, weights: Float64Array.from(weights) },
        1
      )
      return isRefusal(found) ? found.code : 'estimated'
    }
    expect(code([1, 2], [3, 4])).toBe('numerics/too-few-points')
    expect(code([], [])).toBe('numerics/too-few-points')
    expect(code([1, 2, 3, 4], [0, 1, 5, 2], [1, 1, 0, 0])).toBe('numerics/too-few-points')
    expect(code([1, 2, 3, 4.7], [2.1, 4.2, 6.3, 9.87])).toBe('numerics/degenerate')
    expect(code([0.1, 0.2, 0.3, 0.7], [5, 5, 5, 5])).toBe('numerics/degenerate')
    expect(code([3, 3, 3, 3], [7, 7, 7, 7])).toBe('numerics/degenerate')
    expect(code([0, 0, 0, 0], [0, 0, 0, 0])).toBe('numerics/degenerate')
    expect(code([1, 1, 1, 1, 1, 1, 0, 2, 3], [1, 1, 1, 1, 1, 1, 2, 5, -1])).toBe('numerics/degenerate')
  })

  it('refuses what does not settle: exactly as much weight in one place as an estimate bears', () => {
    // One third of the weight in one place is the limit at dof = 1: the scatter shrinks ever more slowly (kent-tyler-1991).
    const found = robustScatter(
      {
        x: Float64Array.of(0, 1, -0.5, -0.5),
        y: Float64Array.of(0, 0, 0.8, -0.8),
        weights: Float64Array.of(1.5, 1, 1, 1)
      },
      1
    )
    expect(isRefusal(found) ? found.code : 'estimated').toBe('numerics/not-converged')
  })

  it('throws for columns of different length, values that are no numbers, negative weights and too few degrees', () => {
    const x = Float64Array.of(1, 2, 3)
    expect(() => robustScatter({ x, y: Float64Array.of(1, 2) }, 3)).toThrow(RangeError)
    expect(() => robustScatter({ x, y: Float64Array.of(1, 2, Number.NaN) }, 3)).toThrow(RangeError)
    expect(() => robustScatter({ x, y: x, weights: Float64Array.of(1, -1, 1) }, 3)).toThrow(RangeError)
    expect(() => robustScatter({ x, y: x }, 0.5)).toThrow(RangeError)
  })
})

describe('principalAxes', () => {
  it('gives back axes and direction', () => {
    const value = fc.double({ min: 0.1, max: 100, noNaN: true })
    fc.assert(
      fc.property(value, value, fc.double({ min: -1.57, max: 1.57, noNaN: true }), (p, q, angle) => {
        const [major, minor] = [Math.max(p, q) * 1.01, Math.min(p, q)]
        const [c, s] = [Math.cos(angle), Math.sin(angle)]
        const axes = principalAxes({
          xx: major * c * c + minor * s * s,
          xy: (major - minor) * c * s,
          yy: major * s * s + minor * c * c
        })
        expect(axes.major / major).toBeCloseTo(1, 12)
        expect(axes.minor / minor).toBeCloseTo(1, 9)
        expect(Math.abs(Math.sin(axes.angle_rad - angle))).toBeLessThan(1e-11)
      })
    )
    expect(principalAxes({ xx: 2, xy: 0, yy: 2 })).toEqual({ major: 2, minor: 2, angle_rad: 0 })
    expect(principalAxes({ xx: 1, xy: -0, yy: 4 })).toEqual({ major: 4, minor: 1, angle_rad: Math.PI / 2 })
    expect(principalAxes({ xx: 0, xy: 0, yy: 0 })).toEqual({ major: 0, minor: 0, angle_rad: 0 })
  })
})
