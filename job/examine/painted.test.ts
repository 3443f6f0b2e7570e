/** Oracle: the truth of tracks that were generated: paint, flaws, what else makes signals. Invented throughout. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { TrackNuisance, TrackPaint, TrackScene } from '../rehearse/index.ts'
import type { ParentReading } from '../standardize/index.ts'
import { evenPaint, examinePainted, parentOf, parentRun, shimmedStandardization, track } from './testing/weld.ts'

const paint: TrackPaint = { ...evenPaint(1.1), swing: { mm: 0.3, every_m: 0.35 } }
const parent = parentOf(parentRun(paint))
const scene = (change: Partial<TrackScene> = {}, seed = 3) => track({ length_m: 0.4, paint, ...change }, seed)
const examined = (change: Partial<TrackScene> = {}, more: Parameters<typeof examinePainted>[1] = {}) =>
  examinePainted(scene(change), { length_mm: 400, parent, ...more }).examination

const flawAt = (mm: number, length_mm: number, depth_mm: number) => ({
  depth_m: depth_mm * 1e-3,
  from_m: mm * 1e-3,
  to_m: (mm + length_mm) * 1e-3
})

describe('a painted track', () => {
  it('depths come back under whatever paint lies over them', () => {
    for (const mean_mm of [0.4, 1, 1.6]) {
      const over: TrackPaint = { ...evenPaint(mean_mm), swing: { mm: 0.3, every_m: 0.35 } }
      const flaws = [0.6, 1, 1.7].map((depth, k) => flawAt(60 + 110 * k, 15, depth))
      const { indications } = examinePainted(scene({ paint: over, flaws }), {
        length_mm: 400,
        parent: parentOf(parentRun(over))
      }).examination
      expect(indications.map(({ class: is }) => is)).toEqual(['relevant', 'relevant', 'relevant'])
      indications.forEach(({ size, z0_m, z1_m }, k) => {
        expect(Math.abs(size.depth_mm! - [0.6, 1, 1.7][k]!)).toBeLessThan(0.1)
        expect(Math.abs((z0_m as number) - flaws[k]!.from_m)).toBeLessThan(5e-4)
        expect(Math.abs((z1_m as number) - flaws[k]!.to_m)).toBeLessThan(5e-4)
      })
    }
  })

  it('tells the paint that was met', () => {
    const { apparent } = examinePainted(scene(), { length_mm: 400, parent }).examination.coating!
    expect(Math.abs(apparent!.least_mm! - 0.8)).toBeLessThan(0.05)
    expect(Math.abs(apparent!.greatest_mm! - 1.4)).toBeLessThan(0.05)
  })

  it('a large slow change of the material is taken off, and eats no flaw, however long', () => {
    const nuisances: readonly TrackNuisance[] = [
      { kind: 'permeability change', at_m: 0.2, width_m: 0.025, size: 0.5, direction_rad: 2.9 }
    ]
    for (const length of [8, 30, 120]) {
      const { indications } = examined({ nuisances, flaws: [flawAt(230, length, 1)] })
      const [found, ...more] = indications
      expect(more.map(({ z0_m, z1_m, amplitude }) => [z0_m, z1_m, amplitude])).toEqual([])
      expect(Math.abs((found!.z0_m as number) - 0.23)).toBeLessThan(1.5e-3)
      expect(Math.abs((found!.z1_m as number) - 0.23 - length * 1e-3)).toBeLessThan(1.5e-3)
      expect(Math.abs(found!.size.depth_mm! - 1)).toBeLessThan(0.15)
    }
    expect(examined({ nuisances }).indications).toEqual([])
  })

  it('paint above the thickest shim is not examined, with the reason; the rest is', () => {
    const runs = [{ at_m: 0.3, width_m: 0.05, mm: 1.6 }]
    const { zones, coating } = examined({ paint: { ...paint, runs } })
    expect(zones.map(({ state }) => state)).toEqual(['examined', 'not examined', 'examined'])
    expect(zones[1]!.why.join()).toContain('coating or lift-off above 2.00 mm')
    expect(coating!.apparent!.greatest_mm).toBeUndefined()
    expect(coating!.apparent!.aboveShims).toBeGreaterThan(0)
  })

  it('a technique may allow less than the shims reach', () => {
    const { zones } = examined({}, { technique: { largest_coating_mm: 1.2 } })
    expect(zones.some(({ state, why }) => state === 'not examined' && why.join().includes('above 1.20 mm'))).toBe(true)
  })

  it('an apparent coating that parent metal does not confirm corrects no depth: a lower bound, and it is true', () => {
    const absolute = { ...paint.absolute, permeability: [{ from_m: 0.1, to_m: 0.2, level: 0.45 }] }
    const { indications } = examined({ paint: { ...paint, absolute }, flaws: [flawAt(140, 15, 1)] })
    const [found] = indications
    expect(found!.coating).toMatchObject({ basis: 'measured', confirmed: false })
    expect(found!.size.depth_mm).toBeUndefined()
    expect(found!.size.lower_mm).toBeLessThan(1.05)
    expect(found!.size.why!.map(({ code }) => code)).toContain('evaluate/coating-unsure')
  })

  it('without parent metal no depth is a value', () => {
    const { indications } = examinePainted(scene({ flaws: [flawAt(140, 15, 1)] }), { length_mm: 400 }).examination
    expect(indications[0]!.size.depth_mm).toBeUndefined()
    // under no paint it would be one that answers less than the smallest slot
    expect(indications[0]!.size.lower_mm ?? 0).toBeLessThan(1.05)
    expect(indications[0]!.size.why!.map(({ code }) => code)).toContain('evaluate/coating-unsure')
  })

  it('a flaw shorter than the field has a lower bound', () => {
    const { indications } = examined({ flaws: [flawAt(140, 1, 1)] })
    expect(indications[0]!.size.depth_mm).toBeUndefined()
    expect(indications[0]!.size.why!.map(({ code }) => code)).toContain('evaluate/below-footprint')
  })

  it('a flaw across the track points the other way and is found too', () => {
    const turned = { half_depth_m: 1e-3, direction_rad: 1.9 + Math.PI, turn_rad_per_m: -80 }
    const standardization = shimmedStandardization()
    const { indications } = examinePainted(scene({ flaw: turned, flaws: [flawAt(140, 12, 1)] }), {
      length_mm: 400,
      parent,
      standardization
    }).examination
    expect(indications.map(({ lobeOrder, class: is }) => [lobeOrder, is])).toEqual([[-1, 'relevant']])
    expect(indications[0]!.evidence.some(({ sentence }) => sentence.includes('across the track'))).toBe(true)
  })
})

describe('parent metal', () => {
  it('tells its coating and how far its lift-off lies from the block’s', () => {
    expect(isRefusal(parent)).toBe(false)
    const { coating, liftOff } = parent as ParentReading
    expect(Math.abs(coating!.greatest_mm - 1.4)).toBeLessThan(0.05)
    expect(Math.abs(liftOff.off_rad)).toBeLessThan(0.05)
  })
})
