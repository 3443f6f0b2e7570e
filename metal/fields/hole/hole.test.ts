/**
 * Oracles: mpmath with 40 digits for Bessel functions and the reaction of the wall, SciPy on another grid for impedances
 * (reference/hole.py); finite elements for the coaxial coil; the coil over a plane for holes that grow; limits.
 */
import { hertz, meters, type Quantity, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type Coil, coaxialProbe, type Impedance, impedanceChange } from '../layers/index.ts'
import reference from '../reference/hole.json' with { type: 'json' }
import { coaxialInHole, holeImpedanceChange, radialProbe } from './index.ts'
import { ratiosOfI, scaledI0, scaledK01 } from './modified.kernel.ts'
import { wallSum } from './wall.kernel.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(value.code)
  return value
}
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')
const column = (row: readonly number[]) => row as [number, number, number, number, number, number]
const far = (re: number, im: number, toRe: number, toIm: number) =>
  Math.hypot(re - toRe, im - toIm) / Math.hypot(toRe, toIm)
const off = (got: Impedance, re: number, im: number) => far(got.resistance, got.reactance, re, im)

interface RawCoil {
  readonly r1: number
  readonly r2: number
  readonly length: number
  readonly turns: number
}
const coilOf = ({ r1, r2, length, turns }: RawCoil): Coil => ({
  innerRadius: meters(r1),
  outerRadius: meters(r2),
  length: meters(length),
  turns
})
const metal = (sigma: number, permeability: number) => ({ conductivity: siemensPerMeter(sigma), permeability })
const C = { r1: 0.3e-3, r2: 0.7e-3, length: 0.6e-3, turns: 60 }
const radial = (raw: RawCoil, diameter: number, liftOff: number) => ({
  coil: coilOf(raw),
  holeDiameter: meters(diameter),
  liftOff: meters(liftOff)
})

describe('modified Bessel functions', () => {
  const out = new Float64Array(4)
  it.each(reference.scaled_k)('K of %f + j %f', (...row) => {
    const [re, im, k0Re, k0Im, k1Re, k1Im] = column(row)
    scaledK01(re, im, out)
    expect(far(out[0]!, out[1]!, k0Re, k0Im)).toBeLessThan(3e-15)
    expect(far(out[2]!, out[3]!, k1Re, k1Im)).toBeLessThan(3e-15)
  })
  it.each(reference.i_ratios)('I of order %d + 1 by order %d at %f', (m, x, expected) => {
    const ratios = new Float64Array(m! + 4)
    ratiosOfI(x!, m! + 3, ratios)
    expect(Math.abs(ratios[m! + 1]! / expected! - 1)).toBeLessThan(2e-15)
  })
  it.each(reference.scaled_i0)('I0 of %f', (x, expected) =>
    expect(Math.abs(scaledI0(x!) / expected! - 1)).toBeLessThan(3e-15)
  )
  it.each(reference.k_ratios)('K upward to order %d at %f + j %f', (m, re, im, toRe, toIm) => {
    scaledK01(re!, im!, out)
    const size = re! * re! + im! * im!
    let h = divided([out[2]!, out[3]!], [out[0]!, out[1]!])
    for (let n = 1; n <= m!; n++) {
      const inverse = divided([1, 0], h)
      h = [(2 * n * re!) / size + inverse[0], (-2 * n * im!) / size + inverse[1]]
    }
    expect(far(h[0], h[1], toRe!, toIm!)).toBeLessThan(5e-15)
  })
})

type Complex = readonly [number, number]
const divided = ([a, b]: Complex, [c, d]: Complex): Complex => {
  const size = c * c + d * d
  return [(a * c + b * d) / size, (b * c - a * d) / size]
}

describe('reaction of the wall', () => {
  it.each(reference.wall)('b %f, f %f, sigma %f, mur %f, m %d, k %f', (...row) => {
    const [radius, f, sigma, permeability, m, k, re, im] = row as unknown as [
      ...Complex,
      ...Complex,
      ...Complex,
      ...Complex
    ]
    const out = new Float64Array(2)
    const only = new Float64Array(m + 1)
    only[m] = 1
    const diffusion = 2 * Math.PI * f * 4e-7 * Math.PI * permeability * sigma
    wallSum(k, only, { radius, diffusion, permeability }, out)
    // without metal nothing comes back; what rounding leaves is seen against the 0.5 that I K makes at most
    if (sigma === 0 && permeability === 1) expect(Math.hypot(out[0]!, out[1]!)).toBeLessThan(1e-13)
    else expect(far(out[0]!, out[1]!, re, im)).toBeLessThan(1e-12)
  })
})

describe('holeImpedanceChange', () => {
  const probes = new Map([3.96, 6.35, 12.7].map((d) => [d, must(radialProbe(radial(C, d * 1e-3, 0.15e-3)))]))
  it.each(reference.radial)('radial coil, hole $diameter m, $sigma S/m, mur $mur, $f Hz', (one) => {
    const probe = probes.get(Math.round(one.diameter * 1e5) / 100)!
    const got = must(holeImpedanceChange(probe, hertz(one.f), metal(one.sigma, one.mur)))
    expect(off(got, one.dR, one.dX)).toBeLessThan(1e-11)
    expect(reference.tolerance).toBe(1e-10)
  })

  it.each(reference.coaxial)('coaxial coil, mur $mur, as SciPy and as finite elements', (one) => {
    const probe = must(coaxialInHole({ coil: coilOf(one), holeDiameter: meters(one.diameter) }))
    const got = must(holeImpedanceChange(probe, hertz(one.f), metal(one.sigma, one.mur)))
    expect(off(got, one.dR, one.dX)).toBeLessThan(1e-11)
    // the finite air of the elements moves the reactance by 5e-4 ohm; their resistance has six digits
    expect(Math.abs(got.resistance - one.finite_elements[0]!)).toBeLessThan(1e-6)
    expect(Math.abs(got.reactance - one.finite_elements[1]!)).toBeLessThan(7e-4)
  })

  const wide = { r1: 0.5e-3, r2: 1.5e-3, length: 1e-3, turns: 100 }
  const wider = new Map([20, 40].map((d) => [d, must(radialProbe(radial(wide, d * 1e-3, 0.5e-3)))]))
  it.each(reference.flat_limit)('coil in a wide hole, $diameter m, mur $mur', (one) => {
    const probe = wider.get(Math.round(one.diameter * 1e3))!
    const got = must(holeImpedanceChange(probe, hertz(one.f), metal(one.sigma, one.mur)))
    expect(off(got, one.dR, one.dX)).toBeLessThan(1e-11)
  })
  it.each([1, 100])('goes to the coil over a plane as the hole grows, mur %d', (permeability) => {
    const flat = must(coaxialProbe({ coil: coilOf(wide), liftOff: meters(0.5e-3) }))
    const layer = { ...metal(18.7e6, permeability), thickness: 'infinite' } as const
    const plane = must(impedanceChange(flat, hertz(1e5), [layer]))
    const [near, next] = [20, 40].map((diameter) => {
      const got = must(holeImpedanceChange(wider.get(diameter)!, hertz(1e5), metal(18.7e6, permeability)))
      return Math.hypot(got.resistance, got.reactance) / Math.hypot(plane.resistance, plane.reactance) - 1
    })
    // the rest falls like 1 / b: half of it at twice the diameter, but for the next order
    expect(near!).toBeLessThan(0.13)
    expect(Math.abs(2 * next! - near!)).toBeLessThan(0.006)
  })

  it('is nothing in air, an image in a perfect conductor, and knows f and sigma by their product', () => {
    const probe = probes.get(6.35)!
    const air = must(holeImpedanceChange(probe, hertz(5e5), metal(0, 1)))
    expect(air.resistance).toBeCloseTo(0, 13)
    expect(air.reactance).toBeCloseTo(0, 12)
    const perfect = must(holeImpedanceChange(probe, hertz(5e5), metal(1e30, 1)))
    expect(perfect.resistance / -perfect.reactance).toBeLessThan(1e-9)
    const here = must(holeImpedanceChange(probe, hertz(2e5), metal(1e7, 1)))
    const there = must(holeImpedanceChange(probe, hertz(4e5), metal(5e6, 1)))
    expect(off(here, there.resistance / 2, there.reactance / 2)).toBeLessThan(1e-13)
  })

  it('does not ask which end of a long coil faces which wall', () => {
    const near = must(radialProbe(radial({ ...C, length: 4e-3 }, 6.35e-3, 0.35e-3)))
    const turned = must(radialProbe(radial({ ...C, length: 4e-3 }, 6.35e-3, 2e-3)))
    const [a, b] = [near, turned].map((probe) => must(holeImpedanceChange(probe, hertz(5e5), metal(1.9e7, 1))))
    expect(off(a!, b!.resistance, b!.reactance)).toBeLessThan(1e-12)
  })

  describe('refuses', () => {
    const at = (raw: Partial<RawCoil>, diameter = 6.35e-3, liftOff = 0.15e-3) =>
      code(radialProbe(radial({ ...C, ...raw }, diameter, liftOff)))
    const of = (f: number, sigma: number, mur: number) =>
      code(holeImpedanceChange(probes.get(6.35)!, hertz(f), metal(sigma, mur)))
    const around = (r2: number, diameter: Quantity<'m'>) =>
      code(coaxialInHole({ coil: coilOf({ r1: 1e-3, r2, length: 1e-3, turns: 10 }), holeDiameter: diameter }))

    it('a coil that is none, or lies in the wall', () => {
      expect(at({ length: -1e-3 })).toBe('fields/bad-coil')
      expect(at({ r2: 0.301e-3 })).toBe('fields/coil-too-thin')
      expect(at({}, -1)).toBe('fields/bad-diameter')
      expect(at({}, 6.35e-3, -1e-4)).toBe('fields/coil-through-wall')
      expect(at({ r2: 1.5e-3 })).toBe('fields/coil-through-wall')
      expect(at({ length: 6.3e-3 })).toBe('fields/coil-through-wall')
      expect(at({}, 6.35e-3, 0.08e-3)).toBe('fields/lift-off-too-small')
    })
    it('a coil around the axis that is wider than the hole', () => {
      expect(around(2e-3, meters(3e-3))).toBe('fields/coil-through-wall')
      expect(around(2e-3, meters(4.01e-3))).toBe('fields/lift-off-too-small')
      expect(around(2e-3, meters(0))).toBe('fields/bad-diameter')
    })
    it('what is no metal or no frequency of this model', () => {
      expect(of(0, 1e7, 1)).toBe('fields/bad-frequency')
      expect(of(1e9, 1e7, 1)).toBe('fields/frequency-too-high')
      expect(of(1e5, -1, 1)).toBe('fields/bad-conductivity')
      expect(of(1e5, 1e7, 0.9)).toBe('fields/bad-permeability')
    })
  })
})
