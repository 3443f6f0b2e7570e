/**
 * Oracle: plane geometry by sampling, which knows nothing of the formula. A crack is a row of points from the wall
 * outward; a cut is a circle; what lies outside the circle is left.
 */
import { isRefusal } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { reamFigure } from './index.ts'
import { asked, type Change, rules, upTo } from './testing/asked.ts'

const turn = 2 * Math.PI

interface Scene {
  /** half axes of the hole before the cut, the first along angle 0 */
  readonly halves: readonly [number, number]
  readonly depth: number
  readonly clock: number
  readonly cut: number
  readonly moved: number
  readonly toward: number
}

/** How much of the crack is left, as the longest distance of its points beyond the cut. */
function left({ halves: [a, b], depth, clock, cut, moved, toward }: Scene): number {
  const [cx, cy] = [moved * Math.cos(toward), moved * Math.sin(toward)]
  const wall = (a * b) / Math.hypot(b * Math.cos(clock), a * Math.sin(clock))
  const beyond = Array.from({ length: 9 }, (_, i) => wall + (depth * i) / 8).map(
    (r) => Math.hypot(r * Math.cos(clock) - cx, r * Math.sin(clock) - cy) - cut / 2
  )
  return Math.max(...beyond)
}

const angles = Array.from({ length: 24 }, (_, i) => (turn * i) / 24)

/** The most that is left over all clock angles and all directions in which the axis may move. */
const worst = (scene: Omit<Scene, 'clock' | 'toward'>): number =>
  Math.max(...angles.flatMap((clock) => angles.map((toward) => left({ ...scene, clock, toward }))))

const mm = (min: number, max: number) => fc.integer({ min: 1000 * min, max: 1000 * max }).map((one) => one / 1000)

/** From 5 to 10.9 mm by 0.1 mm. */
const fine = Array.from({ length: 60 }, (_, i) => ({ diameter_mm: (50 + i) / 10 }))

const scenes = fc.record({
  upper: mm(0.05, 1.5),
  allowance: mm(0, 0.5),
  eccentricity: mm(0, 0.3),
  largest: mm(5.5, 6.5),
  oval: mm(0, 0.1)
})

const figureOf = (scene: { readonly [key in 'upper' | 'allowance' | 'eccentricity' | 'largest' | 'oval']: number }) => {
  const { upper, allowance, eccentricity, largest, oval } = scene
  const change: Change = {
    rules: {
      ...{ permitted_sizes_mm: fine, max_diameter_mm: 50, min_edge_margin: 0.5 },
      ...{ depth_allowance_mm: allowance, eccentricity_mm: eccentricity }
    },
    hole: { edge_distance_mm: 500 },
    measured_mm: [[largest, largest - oval]]
  }
  const figure = reamFigure(asked(change), [upTo(upper)])
  if (isRefusal(figure)) throw new Error(figure.found)
  return figure
}

describe('a cut to the diameter needed', () => {
  it('leaves nothing of a crack, however it lies and however the axis moved', () => {
    let sizes = 0
    fc.assert(
      fc.property(scenes, fc.double({ min: 0, max: 1, noNaN: true }), (scene, share) => {
        const { next, terms } = figureOf(scene)
        if (next !== undefined) sizes++
        expect(next?.least_mm ?? 99).toBeGreaterThanOrEqual(terms.required_mm)
        const halves = [scene.largest / 2, (scene.largest - scene.oval) / 2] as const
        const depth = scene.upper + scene.allowance
        const moved = share * scene.eccentricity
        expect(worst({ halves, depth, cut: terms.required_mm, moved })).toBeLessThanOrEqual(1e-9)
      }),
      { numRuns: 100 }
    )
    expect(sizes).toBeGreaterThan(50)
  })

  it('is needed: at a micrometer less than the diameter needed something can be left', () => {
    fc.assert(
      fc.property(scenes, (scene) => {
        const { required_mm } = figureOf(scene).terms
        const halves = [scene.largest / 2, (scene.largest - scene.oval) / 2] as const
        const depth = scene.upper + scene.allowance
        expect(worst({ halves, depth, cut: required_mm - 0.001, moved: scene.eccentricity })).toBeGreaterThan(0)
      }),
      { numRuns: 60 }
    )
  })

  it('counts from the largest diameter: from the smallest something would be left', () => {
    // 6.40 by 6.20 mm, depth 0.50 mm in all, axis moved by 0.05: needed 6.40 + 1.10; from the smallest 6.20 + 1.10
    const scene = { halves: [3.2, 3.1], depth: 0.5, moved: 0.05 } as const
    expect(worst({ ...scene, cut: 7.5 })).toBeCloseTo(0, 9)
    expect(worst({ ...scene, cut: 7.3 })).toBeCloseTo(0.1, 9)
  })
})

const anyRules = fc
  .record({
    steps: fc.uniqueArray(fc.integer({ min: 600, max: 900 }), { minLength: 1, maxLength: 12 }),
    over: fc.integer({ min: 0, max: 5 }),
    under: fc.integer({ min: 0, max: 5 }),
    most: fc.integer({ min: 650, max: 900 }),
    margin: fc.constantFrom(1, 1.5, 1.75, 2),
    further: fc.option(fc.integer({ min: 1, max: 60 }), { nil: undefined }),
    edge: fc.integer({ min: 900, max: 1800 })
  })
  .map(({ steps, over, under, most, margin, further, edge }) => ({
    ...{ over, under, most, margin, further, edge },
    steps: [...steps].sort((a, b) => a - b)
  }))

type AnyRules = typeof anyRules extends fc.Arbitrary<infer One> ? One : never

const nextBy = ({ steps, over, under, most, margin, further, edge }: AnyRules, upper: number): number | undefined => {
  const change: Change = {
    rules: {
      ...rules,
      permitted_sizes_mm: steps.map((one) => ({
        diameter_mm: one / 100,
        over_mm: over / 100,
        under_mm: under / 100
      })),
      max_diameter_mm: most / 100,
      min_edge_margin: margin,
      ...(further === undefined ? {} : { further_cut_mm: further / 100 })
    },
    hole: { edge_distance_mm: edge / 100 },
    measured_mm: [[6, 6.02]]
  }
  const figure = reamFigure(asked(change), [upTo(upper / 100)])
  if (isRefusal(figure)) throw new Error(figure.found)
  return figure.next?.diameter_mm
}

/** Hundredths of a millimeter in whole numbers: 6.02 + 2 (u + 0.20 + 0.05), tolerance ends, 0.05 for every cut. */
function bySearch({ steps, over, under, most, margin, further, edge }: AnyRules, upper: number): number | undefined {
  const allowed = (size: number, needed: number, cuts: number) =>
    size - under >= needed && size + over <= most && 4 * (edge - 5 * cuts) >= 4 * margin * (size + over)
  const fits = steps.filter((size) => {
    if (!allowed(size, 602 + 2 * (upper + 25), 1)) return false
    return further === undefined || steps.some((later) => allowed(later, size + over + further, 2))
  })
  return fits.length === 0 ? undefined : Math.min(...fits) / 100
}

describe('the size proposed', () => {
  const bounds = fc.integer({ min: 0, max: 120 })

  it('is the smallest permitted one that suffices and is allowed', () => {
    const met = { found: 0, none: 0 }
    fc.assert(
      fc.property(anyRules, bounds, (some, upper) => {
        const expected = bySearch(some, upper)
        met[expected === undefined ? 'none' : 'found']++
        expect(nextBy(some, upper)).toBe(expected)
      }),
      { numRuns: 1000 }
    )
    expect(Math.min(met.found, met.none)).toBeGreaterThan(50)
  })

  it('never is smaller for a larger bound; none is beyond all', () => {
    fc.assert(
      fc.property(anyRules, bounds, bounds, (some, a, b) => {
        const [small, large] = [Math.min(a, b), Math.max(a, b)].map((upper) => nextBy(some, upper) ?? 99)
        expect(small).toBeLessThanOrEqual(large!)
      }),
      { numRuns: 500 }
    )
  })
})
