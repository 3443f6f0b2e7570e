/** Oracle: slots of a block that was written down here; depths and lengths by hand. */
import { describe, expect, it } from 'vitest'
import type { ShimResponse } from '../standardize/index.ts'
import { type TrackMeasured, trackSize } from './index.ts'

const size = (depth: number, coating: number) => (depth / (depth + 1.5) / (0.5 / 2)) * Math.exp(-coating / 1.3)
const shims: readonly ShimResponse[] = [0, 0.5, 1, 1.5, 2].map((shim_mm) => ({
  shim_mm,
  slots: [0.5, 1, 2].map((depth_mm) => ({
    id: `${depth_mm} mm`,
    depth_mm,
    amplitude: size(depth_mm, shim_mm),
    phase_rad: 1.2,
    scatter: 0.02
  }))
}))

const measured = (depth: number, coating_mm: number, change: Partial<TrackMeasured> = {}): TrackMeasured => ({
  level: size(depth, coating_mm) / size(0.5, coating_mm),
  named: '0.5 mm',
  length_mm: 12,
  field_mm: 2.4,
  coating_mm,
  ...change
})

const codesOf = ({ why = [] }: ReturnType<typeof trackSize>) => why.map(({ code }) => code)

describe('a size along a track', () => {
  it('is that of the slot itself at the depth of a slot, under any coating', () => {
    for (const coating of [0, 0.3, 1, 1.7, 2])
      for (const depth of [0.5, 1])
        expect(trackSize(measured(depth, coating), shims, []).depth_mm).toBeCloseTo(depth, 2)
  })

  it('is interpolated between two slots, and compared with slots, by its own words', () => {
    for (const depth of [0.7, 1.4, 1.8]) {
      const told = trackSize(measured(depth, 1.2), shims, [])
      expect(Math.abs(told.depth_mm! - depth)).toBeLessThan(0.05)
      expect(told.basis).toBe('comparison with slots')
      expect([told.lower_mm, told.upper_mm, told.level]).toEqual([undefined, undefined, undefined])
    }
  })

  it('is a bound beyond the slots, never more', () => {
    const deep = trackSize(measured(3, 1), shims, [])
    expect(deep).toMatchObject({ lower_mm: 2 })
    expect(deep.depth).toContain('≥ 2.00 mm')
    expect(deep.depth_mm).toBeUndefined()
    const shallow = trackSize(measured(0.3, 1), shims, [])
    expect(shallow).toMatchObject({ upper_mm: 0.5 })
    expect(shallow.depth_mm).toBeUndefined()
    // what differs from the smallest slot by less than that is known is the smallest slot
    expect(trackSize(measured(0.49, 1), shims, []).depth_mm).toBe(0.5)
  })

  it('has a length as measured and one with the field taken out', () => {
    const long = trackSize(measured(1, 1), shims, [])
    expect(long.extent_mm).toBe(12)
    expect(long.length_mm).toBeCloseTo(12, 2)
    const point = trackSize(measured(1, 1, { length_mm: 2.45 }), shims, [])
    expect(point).toMatchObject({ extent_mm: 2.45, length_upper_mm: 2.4 })
    expect(point.length_mm).toBeUndefined()
    const short = trackSize(measured(1, 1, { length_mm: 3.1 }), shims, [])
    expect(short.length_mm).toBeGreaterThan(2)
    expect(short.length_mm).toBeLessThan(3.1)
    expect(trackSize(measured(1, 1, { length_mm: undefined as unknown as number }), shims, []).extent).toContain(
      'one end'
    )
  })

  it('evaluate/below-footprint: shorter than the field is a lower bound', () => {
    const told = trackSize(measured(1, 1, { length_mm: 2.5 }), shims, [])
    expect(codesOf(told)).toEqual(['evaluate/below-footprint'])
    expect(told.lower_mm).toBeCloseTo(1, 1)
    expect(told.depth_mm).toBeUndefined()
  })

  it('evaluate/coating-unsure: a lower bound under the thinnest coating that it may be', () => {
    const told = trackSize(measured(1.5, 1.4, { thinnest_mm: 1 }), shims, [])
    expect(codesOf(told)).toEqual(['evaluate/coating-unsure'])
    expect(told.lower_mm).toBeLessThan(1.5)
    expect(told.lower_mm).toBeGreaterThan(0.5)
    const shallow = trackSize(measured(0.6, 1.8, { thinnest_mm: 0 }), shims, [])
    expect(shallow).toMatchObject({ depth: 'not told: answers less than the smallest slot' })
  })

  it('evaluate/coating-outside-slots: nothing is extrapolated over the coating either', () => {
    expect(codesOf(trackSize(measured(1, 2.3), shims, []))).toEqual(['evaluate/coating-outside-slots'])
  })

  it('has an interval only by a named study, and no end beyond the slots', () => {
    const study = { name: 'made study', scatter: 0.1 }
    const told = trackSize(measured(1, 1), shims, [], study)
    expect(told.depth_mm).toBeCloseTo(1, 2)
    expect(told).toMatchObject({ level: 0.95, basis: 'comparison with slots, interval by made study' })
    // amplitude of a slot is d/(d + 1.5): 1.96 deviations of 0.1 either way
    const depthAt = (share: number) => (1.5 * share) / (1 - share)
    expect(told.lower_mm).toBeCloseTo(depthAt(0.4 * Math.exp(-0.196)), 1)
    expect(Math.abs(told.upper_mm! - depthAt(0.4 * Math.exp(0.196)))).toBeLessThan(0.05)
    expect(trackSize(measured(1.9, 1), shims, [], study).upper_mm).toBeUndefined()
    expect(trackSize(measured(3, 1), shims, [], study)).toMatchObject({ lower_mm: 2, basis: 'comparison with slots' })
  })

  it('is withheld as a whole where the set-up is not known', () => {
    expect(trackSize(measured(1, 1), shims, ['gain'])).toEqual({
      depth: 'withheld',
      extent: 'withheld',
      withheld: ['gain']
    })
  })
})
