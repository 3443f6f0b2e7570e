/** Oracle: mpmath with 40 digits (reference/bessel.py, reference/d_pair.py); nodes and weights of Gauss by what they integrate exactly. */
import { describe, expect, it } from 'vitest'
import { besselJ01 } from './bessel.kernel.ts'
import { besselOrders } from './bessel-orders.kernel.ts'
import { gaussLegendre, onPanels } from './gauss.ts'
import { radialMoments } from './layers/moment.kernel.ts'
import reference from './reference/bessel.json' with { type: 'json' }
import pair from './reference/d_pair.json' with { type: 'json' }

const out = new Float64Array(2)

describe('besselJ01', () => {
  // sqrt(2 / (pi x)) is the size of the oscillation; x 2^-53 of it is what the rounding of x itself does.
  it.each(reference.bessel)('at %f', (x, j0, j1) => {
    const size = Math.min(1, Math.sqrt(2 / (Math.PI * x!)))
    const allowed = (1e-15 + x! * 1.2e-16) * size
    besselJ01(x!, out)
    expect(Math.abs(out[0]! - j0!)).toBeLessThanOrEqual(allowed)
    expect(Math.abs(out[1]! - j1!)).toBeLessThanOrEqual(Math.min(allowed, x! < 1 ? 1e-15 * j1! : allowed))
  })
})

describe('besselOrders', () => {
  const orders = new Float64Array(19)
  // as above; where J_n has not begun to oscillate it is good relative to itself
  it.each(pair.bessel)('at %f', (...row) => {
    const [x, ...expected] = row as number[]
    besselOrders(x!, 18, orders)
    const allowed = (2e-15 + x! * 1.2e-16) * Math.min(1, Math.sqrt(2 / (Math.PI * x!)))
    for (const [n, value] of expected.entries()) {
      expect(Math.abs(orders[n]! - value)).toBeLessThanOrEqual(allowed)
      if (x! < 0.5 * n) expect(Math.abs(orders[n]! - value)).toBeLessThanOrEqual(5e-15 * Math.abs(value))
    }
  })
})

describe('radialMoments', () => {
  // Allowed: 1e-14 of the size of the moment, sqrt(2 r2 / (pi a)) / a, or of the area where that is smaller; beside it
  // what the rounding of the argument a r2 alone does (2^-52 a r2 in the phase).
  it.each(reference.moments)('at alpha %f for radii %f and %f', (a, r1, r2, expected) => {
    const size = Math.min(Math.sqrt((2 * r2!) / (Math.PI * a!)) / a!, (r2! - r1!) * r2!)
    const got = radialMoments(Float64Array.of(a!), r1!, r2!)[0]!
    expect(Math.abs(got - expected!)).toBeLessThanOrEqual((1e-14 + a! * r2! * 2.3e-16) * size)
  })
})

describe('gaussLegendre', () => {
  it.each([1, 2, 5, 16, 24])('with %d points integrates what it must', (count) => {
    const { nodes, weights } = gaussLegendre(count)
    for (let power = 0; power < 2 * count; power++) {
      const sum = nodes.reduce((total, x, i) => total + weights[i]! * x ** power, 0)
      expect(Math.abs(sum - (power % 2 === 0 ? 2 / (power + 1) : 0))).toBeLessThan(3e-15)
    }
  })
  it('goes on from panel to panel', () => {
    const { nodes, weights } = onPanels([0, 1, 3], gaussLegendre(3))
    expect(nodes.reduce((total, x, i) => total + weights[i]! * x ** 5, 0)).toBeCloseTo(3 ** 6 / 6, 12)
  })
})
