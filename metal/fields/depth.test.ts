/**
 * Oracles: depths of penetration as printed (reference/depth.json); mpmath by other definitions (reference/depth.py),
 * beside them the digits that tables of the trade print; identities, and values by hand.
 */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { characteristicFrequency, phaseLag, standardDepth } from './index.ts'
import reference from './reference/depth.json' with { type: 'json' }
import computed from './reference/depth-computed.json' with { type: 'json' }

const metal = (sigma: number, permeability = 1) => ({ conductivity: siemensPerMeter(sigma), permeability })
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

describe('standardDepth', () => {
  const inMillimeters = ({ sigma, rho, permeability, f }: (typeof reference.cases)[number]) =>
    1e3 * Number(standardDepth(hertz(f), metal(sigma ?? 1 / rho!, permeability)))

  it.each(reference.cases.filter(({ off }) => off === undefined))('of $case at $f Hz is as printed', (row) =>
    expect(Math.abs(inMillimeters(row) - row.depth_mm)).toBeLessThanOrEqual(row.within_mm)
  )
  it.each(reference.cases.flatMap((row) => (row.off === undefined ? [] : [{ ...row, off: row.off }])))(
    'of $case is off the printed one by what is said there, no less and no more',
    ({ off, ...row }) => {
      const depth = inMillimeters(row)
      expect(Math.abs(depth - row.depth_mm)).toBeGreaterThan(row.within_mm)
      expect(Math.abs(row.depth_mm / depth - off.printed_over_computed)).toBeLessThan(off.within)
    }
  )
  it.each(computed.depths)('of $case at $f Hz is that of mpmath, and rounds to what tables print', (row) => {
    const depth = 1e3 * Number(standardDepth(hertz(row.f), metal(row.sigma, row.permeability)))
    expect(Math.abs(depth / row.depth_mm - 1)).toBeLessThan(computed.tolerance)
    expect(Math.abs(depth - row.three_digits_mm)).toBeLessThanOrEqual(0.0005)
  })
  it('is 660.849 mm over the root of f mur and %IACS (constant by hand)', () => {
    expect(Number(standardDepth(hertz(1e4), metal(32 * 0.58001e6, 4))) * 1e3).toBeCloseTo(
      660.849 / Math.sqrt(1e4 * 4 * 32),
      4
    )
  })
})

describe('phaseLag and characteristicFrequency', () => {
  it('give one radian a depth', () => {
    const delta = standardDepth(hertz(1e4), metal(1e7, 3))
    expect(phaseLag(meters(2 * Number(delta)), hertz(1e4), metal(1e7, 3))).toBeCloseTo(2, 14)
  })
  it('give 291.153 Hz for a bar of 10 mm and 17.4 MS/m (5066.06 / (17.4 cm^2 MS/m) by hand)', () => {
    expect(characteristicFrequency(meters(0.01), metal(17.4e6))).toBeCloseTo(291.153, 3)
  })
  it.each(computed.bars)('give that of mpmath for a bar of $diameter m, where its radius is 0.70711 depths', (bar) => {
    const frequency = Number(characteristicFrequency(meters(bar.diameter), metal(bar.sigma, bar.permeability)))
    expect(Math.abs(frequency / bar.f - 1)).toBeLessThan(computed.tolerance)
    const delta = Number(standardDepth(hertz(frequency), metal(bar.sigma, bar.permeability)))
    expect(bar.diameter / 2 / delta).toBeCloseTo(bar.radius_over_depth, 12)
  })
})

describe('refusals', () => {
  it('say what is no metal, frequency, depth or bar', () => {
    expect(code(standardDepth(hertz(0), metal(1e6)))).toBe('fields/bad-frequency')
    expect(code(standardDepth(hertz(1), metal(0)))).toBe('fields/bad-conductivity')
    expect(code(standardDepth(hertz(1), metal(1e6, 0.5)))).toBe('fields/bad-permeability')
    expect(code(phaseLag(meters(-1), hertz(1), metal(1e6)))).toBe('fields/bad-depth')
    expect(code(phaseLag(meters(1), hertz(-1), metal(1e6)))).toBe('fields/bad-frequency')
    expect(code(characteristicFrequency(meters(0), metal(1e6)))).toBe('fields/bad-diameter')
    expect(code(characteristicFrequency(meters(1), metal(-1)))).toBe('fields/bad-conductivity')
  })
})
