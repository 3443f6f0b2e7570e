/** Oracles: plain slow twins written from the formulas, with complex numbers as pairs and other quadratures. */
import { meters } from '@trueloop/ground/quantity'
import { describe, expect, it } from 'vitest'
import { besselJ01 } from '../bessel.kernel.ts'
import { gaussLegendre, onPanels } from '../gauss.ts'
import { type CellGrid, complexTable, dipoleTable } from './dipole.kernel.ts'
import { expandPair, factorSymmetric, reducePair } from './factor.kernel.ts'
import { interpolation, POINTS, pieceRadii, potentialTable } from './incident.kernel.ts'
import { gradientSum } from './opening.kernel.ts'
import { surfaceTable } from './surface.kernel.ts'

type Complex = readonly [number, number]
const add = ([a, b]: Complex, [c, d]: Complex): Complex => [a + c, b + d]
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c]
const over = ([a, b]: Complex, [c, d]: Complex): Complex => times([a, b], [c / (c * c + d * d), -d / (c * c + d * d)])
const expOf = ([a, b]: Complex): Complex => [Math.exp(a) * Math.cos(b), Math.exp(a) * Math.sin(b)]
const rootOf = ([a, b]: Complex): Complex => {
  const re = Math.sqrt((Math.hypot(a, b) + a) / 2)
  return [re, b / (2 * re)]
}
const scaled = (k: number, [a, b]: Complex): Complex => [k * a, k * b]
const apart = (a: Complex, b: Complex) => Math.hypot(a[0] - b[0], a[1] - b[1])
const MU0 = 4e-7 * Math.PI
const j = new Float64Array(2)
const j1 = (x: number): number => {
  besselJ01(Math.abs(x), j)
  return Math.sign(x) * j[1]!
}

const grid: CellGrid = { along: 6, deep: 4, width: 0.2e-3, height: 0.15e-3 }
const steel = { omega: 2 * Math.PI * 5e4, permeability: 3, conductivity: 5e6 }
const gammaOf = (k: number): Complex => rootOf([k * k, steel.omega * MU0 * steel.permeability * steel.conductivity])

describe('dipoleTable', () => {
  // What 16 points leave of the value of a cell on itself grows with its aspect.
  it.each([
    [0.2e-3, 1e-11],
    [0.15e-3, 1e-8],
    [0.08e-3, 3e-5],
    [0.2e-3 / 3, 2e-4]
  ])('is the flux of grad G through the four sides of a cell %f m high', (height, allowed) => {
    const delta = 0.3e-3
    const cell = { ...grid, height }
    const { nodes, weights } = gaussLegendre(80)
    const slope = (y: number, z: number): Complex => {
      const r = Math.hypot(y, z)
      const x: Complex = [r / delta, r / delta]
      return scaled(-1 / (4 * Math.PI * r ** 3), times(add([1, 0], x), expOf(scaled(-1, x))))
    }
    const table = dipoleTable(cell, delta)
    for (const [m, n] of [
      [0, 0],
      [1, 0],
      [0, 1],
      [3, 2],
      [5, 8],
      [0, 8]
    ] as const) {
      let sum: Complex = [0, 0]
      for (let i = 0; i < 80; i++)
        for (const side of [0.5, -0.5]) {
          const y = (m + side) * grid.width
          const z = (n + 0.5 * nodes[i]!) * cell.height
          sum = add(sum, scaled(Math.sign(side) * y * weights[i]! * 0.5 * cell.height, slope(y, z)))
          const yy = (m + 0.5 * nodes[i]!) * grid.width
          const zz = (n + side) * cell.height
          sum = add(sum, scaled(Math.sign(side) * zz * weights[i]! * 0.5 * grid.width, slope(yy, zz)))
        }
      const at = m * (2 * grid.deep + 1) + n
      // Sides shared by two cells are subtracted: what is left of far cells has lost digits of the near ones.
      expect(apart([table.re[at]!, table.im[at]!], sum)).toBeLessThan(allowed * Math.hypot(table.re[0]!, table.im[0]!))
    }
  })
})

describe('surfaceTable', () => {
  it('is its integral over wave numbers', () => {
    const table = surfaceTable(grid, steel)
    const edges = [0, ...Array.from({ length: 401 }, (_, i) => 10 * 1.0285 ** i)]
    const { nodes, weights } = onPanels(edges, gaussLegendre(20))
    for (const [m, q] of [
      [0, 0],
      [2, 0],
      [5, 6],
      [0, 3]
    ] as const) {
      let sum: Complex = [0, 0]
      nodes.forEach((k, i) => {
        const g = gammaOf(k)
        const below = times(times(g, g), add(scaled(1 / steel.permeability, g), [k, 0]))
        const steps = j1(k * (m + 0.5) * grid.width) - j1(k * (m - 0.5) * grid.width)
        const fall = (rows: number) => expOf(scaled(-rows * grid.height, g))
        const difference = add(fall(q + 0.5), scaled(-1, fall(q + 1.5)))
        sum = add(sum, scaled(weights[i]! * k * steps, over(difference, below)))
      })
      const expected = times([0, (steel.omega * MU0 * steel.permeability) / (2 * Math.PI)], sum)
      const at = q * grid.along + m
      expect(apart([table.re[at]!, table.im[at]!], expected)).toBeLessThan(1e-10 * Math.abs(table.im[0]!))
    }
  })
})

describe('potentialTable', () => {
  const winding = { innerRadius: meters(0.3e-3), outerRadius: meters(0.7e-3), length: meters(0.6e-3), turns: 60 }
  const coil = { coil: winding, liftOff: meters(0.15e-3) }

  it('is its integral over wave numbers and turns', () => {
    const radii = Float64Array.of(0, 0.4e-3, 1.7e-3)
    const table = potentialTable(coil, radii, grid, steel)
    const { nodes, weights } = onPanels(
      Array.from({ length: 401 }, (_, i) => i * 1000),
      gaussLegendre(8)
    )
    const turns = onPanels([0.3e-3, 0.7e-3], gaussLegendre(60))
    const moment = (a: number) => turns.nodes.reduce((sum, s, i) => sum + turns.weights[i]! * s * j1(a * s), 0)
    const density = 60 / (0.4e-3 * 0.6e-3)
    const plain = nodes.map((a, i) => {
      const height = Math.exp(-a * 0.15e-3) - Math.exp(-a * 0.75e-3)
      return MU0 * weights[i]! * density * moment(a) * height
    })
    const largest = Math.hypot(table.re[4]!, table.im[4]!)
    for (let r = 0; r < 3; r++)
      for (let k = 0; k < grid.deep; k++) {
        let sum: Complex = [0, 0]
        nodes.forEach((a, i) => {
          const g = gammaOf(a)
          const wave = expOf(scaled(-(k + 0.5) * grid.height, g))
          sum = add(sum, scaled(plain[i]! * j1(a * radii[r]!), over(wave, add(scaled(1 / 3, g), [a, 0]))))
        })
        const at = r * grid.deep + k
        expect(apart([table.re[at]!, table.im[at]!], sum)).toBeLessThan(1e-9 * largest)
      }
  })

  it('is smooth enough over the radius for its interpolation', () => {
    const piece = 2 * coil.liftOff + grid.height
    const radii = pieceRadii(2e-3, piece)
    const wanted = Float64Array.from({ length: 41 }, (_, i) => i * 0.05e-3)
    const [table, direct] = [radii, wanted].map((r) => potentialTable(coil, r, grid, steel))
    const weights = new Float64Array(POINTS)
    const largest = direct!.re.reduce((most, re, i) => Math.max(most, Math.hypot(re, direct!.im[i]!)), 0)
    wanted.forEach((radius, r) => {
      const start = interpolation(radius, radii, piece, weights)
      for (let k = 0; k < grid.deep; k++) {
        let sum: Complex = [0, 0]
        weights.forEach((w, i) => {
          const at = (start + i) * grid.deep + k
          sum = add(sum, scaled(w, [table!.re[at]!, table!.im[at]!]))
        })
        const at = r * grid.deep + k
        expect(apart(sum, [direct!.re[at]!, direct!.im[at]!])).toBeLessThan(1e-8 * largest)
      }
    })
  })
})

describe('factorSymmetric', () => {
  // Any numbers with a heavy diagonal; no source of random numbers is needed for them.
  const valueAt = (i: number, k: number): Complex => [
    Math.sin(3 * i * k + i + k) + (i === k ? 14 : 0),
    Math.cos(5 * i * k + i + k)
  ]
  it.each([1, 2, 5, 8, 13])('with the two solutions gives back the right side, %i rows', (size) => {
    const factor = { size, ...complexTable(size * size) }
    for (let i = 0; i < size; i++)
      for (let k = 0; k <= i; k++)
        [factor.re[i * size + k], factor.im[i * size + k]] = valueAt(i, k) as [number, number]
    factorSymmetric(factor)
    const x = complexTable(2 * size)
    const right = (row: number, i: number): Complex => [Math.cos(7 * i + row), Math.sin(4 * i + 2 * row)]
    for (let row = 0; row < 2; row++)
      for (let i = 0; i < size; i++) [x.re[row * size + i], x.im[row * size + i]] = right(row, i) as [number, number]
    reducePair(factor, x, 0, size, size)
    expandPair(factor, x, 0, size)
    for (let row = 0; row < 2; row++)
      for (let i = 0; i < size; i++) {
        let sum: Complex = [0, 0]
        for (let k = 0; k < size; k++)
          sum = add(sum, times(valueAt(Math.max(i, k), Math.min(i, k)), [x.re[row * size + k]!, x.im[row * size + k]!]))
        expect(apart(sum, right(row, i))).toBeLessThan(1e-13)
      }
  })
})

describe('gradientSum', () => {
  it('of a plane is its slope squared times the area between the middles of the cells', () => {
    const p = complexTable(grid.along * grid.deep)
    const slope: Complex = [2, -1]
    p.re.forEach((_, at) => {
      const y = Math.floor(at / grid.deep) * grid.width
      p.re[at] = slope[0] * y
      p.im[at] = slope[1] * y
    })
    const out = new Float64Array(2)
    gradientSum({ p, q: p, inside: new Uint8Array(p.re.length).fill(1) }, grid, out)
    const area = 5 * grid.width * 4 * grid.height
    expect(out[0]! / (3 * area)).toBeCloseTo(1, 12)
    expect(out[1]! / (-4 * area)).toBeCloseTo(1, 12)
  })
  it('leaves out what lies outside the crack', () => {
    const p = { re: Float64Array.of(1, 5, 2, 9), im: Float64Array.of(0, 0, 0, 0) }
    const out = new Float64Array(2)
    gradientSum({ p, q: p, inside: Uint8Array.of(1, 1, 1, 0) }, { along: 2, deep: 2, width: 1, height: 1 }, out)
    expect(out[0]).toBe(16 + 1)
  })
})
