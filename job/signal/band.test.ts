/** Oracle: NumPy and SciPy (reference/band.py), and the figures that the trade uses for its high-pass corners. */
import { describe, expect, it } from 'vitest'
import { bandFromFootprint, bellWidth } from '../plan/index.ts'
import { bandGain, bandReach, bandSpectrum, knotSpacing, pulseLoss, UNIT } from './band.ts'
import { conditioner, slidingMean } from './condition.ts'
import reference from './reference/band.json' with { type: 'json' }
import { farthest, fixedColumns } from './testing/columns.ts'

const { x, y } = fixedColumns(2 * UNIT)
const at = (column: Float64Array) => reference.points.map((n) => column[n]!)
const two = { state: 'placed', axis: 'angle', first: 3 * UNIT, x, y } as const

describe('the band as a filter', () => {
  it.each(reference.convolved)('from $low to $high is the convolution of SciPy', (expected) => {
    const { signal } = conditioner<'angle'>(expected)(two)
    expect(farthest(at(signal.x), expected.x)).toBeLessThan(reference.tolerance)
    expect(farthest(at(signal.y), expected.y)).toBeLessThan(reference.tolerance)
  })

  it('lies half a unit after the beginning of its two units', () => {
    const { signal, mean } = conditioner<'angle'>({ low: 3, high: 12 })(two)
    expect(signal).toMatchObject({ state: 'conditioned', axis: 'angle', first: 3.5 * UNIT })
    expect(mean).toMatchObject({ state: 'placed', first: 3.5 * UNIT })
    expect(signal.x.length).toBe(UNIT)
  })

  it('needs two units', () => {
    const one = { ...two, x: x.slice(0, UNIT), y: y.slice(0, UNIT) }
    expect(() => conditioner<'angle'>({ low: 3, high: 12 })(one)).toThrow(RangeError)
  })

  it('has the sliding mean of SciPy under it', () => {
    expect(farthest(at(slidingMean(x)), reference.mean.x)).toBeLessThan(reference.tolerance)
    expect(farthest(at(slidingMean(y)), reference.mean.y)).toBeLessThan(reference.tolerance)
  })
})

describe('the gain', () => {
  it.each(reference.gains)('of $low to $high at $k', ({ low, high, k, gain }) => {
    expect(Math.abs(bandGain({ low, high }, k) - gain)).toBeLessThanOrEqual(1e-13 * Math.max(1, gain))
  })

  it('is 3 dB down at both corners, the placing kernel included', () => {
    const band = { low: 4, high: 24 }
    const placing = (k: number) => {
      const f = (Math.PI * knotSpacing(band) * k) / UNIT
      return (Math.sin(f) / f) ** 4
    }
    // the other corner is six times away: it costs less than exp(-0.5 ln2 / 6^4) and more than nothing
    expect(bandGain(band, 4) * placing(4)).toBeCloseTo(Math.SQRT1_2, 3)
    expect(bandGain(band, 24) * placing(24)).toBeCloseTo(Math.SQRT1_2, 12)
  })

  it('is exactly zero for what is constant, and for run-out and ovality below the corner', () => {
    const band = bandFromFootprint(6.35e-3, 1.3e-3)
    expect([0, 1, 2].map((k) => bandGain(band, k))).toEqual([0, 0, 0])
    expect(bandGain(band, 3)).toBeGreaterThan(0.5)
    expect([0, 1, 2].map((k) => bandGain({ low: 1.3, high: 9 }, k) === 0)).toEqual([true, true, false])
    expect(bandGain({ low: 0, high: 9 }, 0)).toBe(1)
  })

  it('ends at its reach', () => {
    const band = { low: 3, high: 12 }
    expect(bandReach(band)).toBe(24)
    expect(bandGain(band, 24)).toBeGreaterThan(0)
    expect(bandGain(band, 24.01)).toBe(0)
  })

  it('has a spectrum that is real, even and of the kernel ± half a unit', () => {
    const spectrum = bandSpectrum({ low: 3, high: 12 })
    expect(spectrum.length).toBe(2 * UNIT)
    expect(farthest(spectrum.slice(1), spectrum.slice(1).reverse())).toBeLessThan(1e-12)
  })
})

describe('the band from the footprint', () => {
  it.each(reference.bells)('lobes $spacing apart belong to a bell $width wide', ({ spacing, width }) => {
    expect(bellWidth(spacing)).toBeCloseTo(width, 10)
  })

  it.each(reference.footprints)(
    'Ø $diameter_mm mm, footprint $width_mm mm',
    ({ diameter_mm, width_mm, center, cycles }) => {
      const { low, high } = bandFromFootprint(diameter_mm * 1e-3, (width_mm * 1e-3) / bellWidth(1))
      expect(low).toBeCloseTo(0.2 * cycles, 9)
      // the rule rounds the peak of the spectrum, 0.3748 of the cycles, to 0.375
      expect(Math.abs(high / (3 * center) - 1)).toBeLessThan(1e-3)
    }
  )

  it('Ø 6.35 mm, footprint 1.5 mm: pulse center 5.0, high-pass at most 2.7, low-pass twice the center or more', () => {
    const { low, high } = bandFromFootprint(6.35e-3, 1.5e-3 / bellWidth(1))
    expect((high / 3).toFixed(1)).toBe('5.0')
    expect(low).toBeLessThan(2.7)
    expect(high).toBeGreaterThanOrEqual(2 * (high / 3))
  })
})

describe('what the band takes of a pulse', () => {
  it.each(reference.pulses)('Ø $diameter_mm mm, corner $share of the cycles', ({ low, high, spacing_points, loss }) => {
    // a lobe is looked for on whole points: half a point beside its top it is lower by (1/spacing)²
    expect(Math.abs(pulseLoss({ low, high }, spacing_points) - loss)).toBeLessThan(1e-4 + 1 / spacing_points ** 2)
  })

  // ranges of the trade for any usual high-pass at these shares of the cycles of the footprint
  it.each([
    [0.2, 0.04, 0.11],
    [0.375, 0.22, 0.36],
    [0.5, 0.33, 0.57]
  ])('with the corner at %f of the cycles it is %f to %f', (share, least, most) => {
    for (const { low, high, spacing_points } of reference.pulses.filter((one) => one.share === share)) {
      const loss = pulseLoss({ low, high }, spacing_points)
      expect(loss).toBeGreaterThan(least)
      expect(loss).toBeLessThan(most)
    }
  })
})
