/**
 * Oracle: constructed truth. Sheets painted from first principles (testing/paint.ts) with a known angle, width, run and
 * place; laws that hold whatever is on the sheet.
 */
import { cos, exp, PI, sin } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Features } from '../features.ts'
import type { Sheet } from '../sheet.ts'
import { type FeatureContext, featuresOf } from './index.ts'
import {
  contextOf,
  formAt,
  lobe,
  mark,
  noise,
  type Painter,
  PITCH,
  painted,
  stack,
  UNIT,
  wave
} from './testing/paint.ts'

const DEG = PI / 180
const AT = 6 * UNIT + 200
const turns = 13

const of = (
  painters: readonly Painter[],
  more: { at?: number; step?: number; context?: Partial<FeatureContext> } = {}
) =>
  featuresOf(
    painted(painters, { turns, step: more.step ?? 1 }),
    { at: more.at ?? AT, sign: 1, statistic: 0 },
    contextOf(more.context)
  )

describe('the angle', () => {
  it('is that of the painted pulse, at every step and for a place between elements', () => {
    for (const step of [1, 2, 4, 8])
      for (const direction of [2, 40, 90, 135, 178]) {
        const at = AT + 0.37
        const { features } = of([mark({ at, direction, size: 0.3 })], { at, step })
        expect(features.phase_rad / DEG).toBeCloseTo(direction, 9)
        expect(features.fromLiftOff_rad / DEG).toBeCloseTo(Math.min(direction, 180 - direction), 9)
      }
  })

  it('lies among the notches, or beside the nearest of them', () => {
    const from = (direction: number) => of([mark({ at: AT, direction, size: 1 })]).features.fromNotches_rad / DEG
    expect(from(80)).toBe(0)
    expect(from(70)).toBeCloseTo(5, 9)
    expect(from(120)).toBeCloseTo(25, 9)
    expect(from(175)).toBeCloseTo(80, 9)
  })

  it('is as doubtful as the noise across it makes it: checked by painting the noise', () => {
    const deviation = 0.05
    const context = { noise: { xx: deviation * deviation, xy: 0, yy: deviation * deviation } }
    const off: number[] = []
    let doubt = 0
    for (let k = 0; k < 60; k++) {
      const painters = [mark({ at: AT, direction: 90, size: 1, reach: 1, fall: 0.5 }), noise(`angle ${k}`, deviation)]
      const { features } = of(painters, { step: 4, context })
      off.push(features.phase_rad - PI / 2)
      doubt += features.phaseNoise_rad / 60
    }
    const found = Math.sqrt(off.reduce((sum, value) => sum + value * value, 0) / off.length)
    // 60 draws know a deviation to 9 %
    expect(found / doubt).toBeGreaterThan(0.7)
    expect(found / doubt).toBeLessThan(1.35)
  })
})

describe('the loop', () => {
  it('of the notch itself is 1, wholly alike, in its order, symmetric, as wide as it', () => {
    const { features } = of([mark({ at: AT, direction: 85, size: 1 })])
    for (const name of ['matched', 'amplitude', 'likeness', 'symmetry', 'width', 'repeat'] as const)
      expect(features[name], name).toBeCloseTo(1, 6)
    expect(features).toMatchObject({ lobeOrder: 1, sharpness: 0 })
    expect(features.roundness).toBeLessThan(1e-3)
  })

  it('has the order of its lobes by the way it is passed, and the spacing that was painted', () => {
    expect(of([mark({ at: AT, direction: 265, size: 1 })]).features.lobeOrder).toBe(-1)
    for (const width of [0.6, 0.9, 1.2])
      expect(of([mark({ at: AT, direction: 85, size: 1, width })]).features.width).toBeCloseTo(width, 3)
  })

  it('is round for two marks across each other a quarter of the pulse apart, and one-sided for one lobe', () => {
    const context = { noise: { xx: 0, xy: 0, yy: 0 } }
    const round = [mark({ at: AT - 9, direction: 90, size: 1 }), mark({ at: AT + 9, direction: 0, size: 1 })]
    expect(of(round, { context }).features.roundness).toBeGreaterThan(0.6)
    const uneven = [mark({ at: AT, direction: 85, size: 1 }), lobe({ at: AT - 16, direction: 85, size: 0.5 })]
    // lobes of 1/2 + 1/2 and 1/2 − 1/2·exp(−2)
    expect(of(uneven).features.symmetry).toBeCloseTo((0.5 - 0.5 * exp(-2)) / 1, 1)
  })

  it('is sharp where it is far narrower than the coil makes it', () => {
    expect(of([mark({ at: AT, direction: 85, size: 1, width: 0.25 })]).features.sharpness).toBeGreaterThan(0.4)
    expect(of([mark({ at: AT, direction: 85, size: 1, width: 1.6 })]).features.sharpness).toBe(0)
  })
})

describe('the ridge', () => {
  const sizes = (reach: number, fall: number, k: number) => {
    const u = Math.max(0, Math.abs(k) - reach) / fall
    return exp(-0.5 * u * u)
  }

  it('holds each revolution at its place and size; its ends are linear between revolutions', () => {
    for (const [reach, fall] of [
      [0, 1],
      [1, 1.5],
      [2, 0.8]
    ] as const) {
      const { ridge, features } = of([mark({ at: AT, direction: 88, size: 0.6, reach, fall })], {
        context: stack(UNIT)
      })
      for (const [i, { at, size }] of ridge.rows.entries()) {
        expect(at).toBeCloseTo(AT + (i - ridge.peak) * UNIT, 5)
        expect(size).toBeCloseTo(0.6 * sizes(reach, fall, i - ridge.peak), 5)
      }
      // the first revolution below half, and where the straight line to it passes half
      let k = 0
      while (sizes(reach, fall, k) >= 0.5) k++
      const [strong, weak] = [sizes(reach, fall, k - 1), sizes(reach, fall, k)]
      const end = k - 1 + (strong - 0.5) / (strong - weak)
      expect(features.rows).toBe(2 * k - 1)
      expect(ridge.to - AT).toBeCloseTo(end * UNIT, 2)
      expect(AT - ridge.from).toBeCloseTo(end * UNIT, 2)
      expect(features.extent_m).toBeCloseTo(2 * end * PITCH, 7)
      expect(ridge.cutBefore || ridge.cutAfter).toBe(false)
    }
  })

  it('begins from the strongest revolution nearby, whatever revolution it was told', () => {
    const painters = [mark({ at: AT, direction: 88, size: 1, reach: 0, fall: 2 })]
    for (const away of [-2, -1, 1, 2]) {
      const { ridge, features } = of(painters, { at: AT + away * UNIT + 3 })
      expect(ridge.rows[ridge.peak]!.at).toBeCloseTo(AT, 5)
      expect(features.matched).toBeCloseTo(1, 5)
    }
  })

  it('follows a helix, tells its steady part, and does not step over to a neighbor', () => {
    const helix = 0.006
    const { features } = of([mark({ at: AT, direction: 88, size: 1, reach: 9, helix })])
    expect(features.helix_turn).toBeCloseTo(helix, 4)
    expect(features.wander_turn).toBeCloseTo(helix, 3)
    expect(features.unsteady_turn).toBeLessThan(1e-3)
    const two = [
      mark({ at: AT, direction: 170, size: 0.5, reach: 9 }),
      mark({ at: AT + 2 * UNIT + 34, direction: 85, size: 2, reach: 1, fall: 0.5 })
    ]
    expect(of(two).features.wander_turn).toBeLessThan(0.012)
  })

  it('says that it is cut where the pass begins or ends before it falls to half', () => {
    const long = of([mark({ at: AT, direction: 88, size: 1, reach: 40 })])
    expect(long.ridge).toMatchObject({ cutBefore: true, cutAfter: true, from: 200, to: 12 * UNIT + 200 })
    expect(long.features).toMatchObject({ cut: true, rows: 13 })
    const first = of([mark({ at: 200, direction: 88, size: 1, reach: 1 })], { at: 200 })
    expect(first.ridge).toMatchObject({ cutBefore: true, cutAfter: false, from: 200 })
    expect(first.ridge.to).toBeGreaterThan(200 + UNIT)
  })

  it('of nothing is nothing', () => {
    const { features } = of([])
    expect(features).toMatchObject({ matched: 0, amplitude: 0, likeness: 0, around: 0, rows: 1 })
    expect(Object.values(features).every((value) => typeof value !== 'number' || !Number.isNaN(value))).toBe(true)
  })
})

describe('a place on a side lobe', () => {
  const crack = mark({ at: AT, direction: 88, size: 1, reach: 1 })

  it('is judged where the whole thing is', () => {
    for (const away of [-27, 27]) {
      const { ridge, features } = of([crack, noise('side', 0.01)], { at: AT + away })
      expect(
        Math.abs(ridge.rows[ridge.peak]!.at - (AT + Math.round((ridge.rows[ridge.peak]!.at - AT) / UNIT) * UNIT))
      ).toBeLessThan(2)
      expect(features).toMatchObject({ lobeOrder: 1, rows: 5 })
      expect(features.opposite).toBeGreaterThan(0.4)
      expect(features.opposite).toBeLessThan(0.6)
    }
  })

  it('stays where it is when it is more than a side lobe', () => {
    const chip = mark({ at: AT + 45, direction: 268, size: 1.6, reach: 1 })
    const { ridge, features } = of([crack, chip])
    expect(Math.abs(ridge.rows[ridge.peak]!.at - AT)).toBeLessThan(8)
    expect(features.lobeOrder).toBe(1)
    expect(features.opposite).toBeGreaterThan(1)
  })
})

describe('the place', () => {
  const context = stack(UNIT)
  const at = (z: number) => Math.round(UNIT + (z / PITCH) * UNIT)
  const place = (z: number) =>
    of([mark({ at: at(z), direction: 88, size: 1, reach: 0, fall: 1 })], { at: at(z), context }).features

  it('is told by the nearest face, and by the share of its layer', () => {
    const entry = place(0.5e-3)
    expect(entry.face).toBe('entry')
    expect(entry.toFace_m).toBeCloseTo(0.5e-3, 6)
    expect(entry.layerShare).toBeCloseTo((entry.extent_m as number) / 4e-3, 6)
    expect(of([], { context: {} }).features).toMatchObject({
      extent_m: 'unknown',
      layerShare: 'unknown',
      face: 'unknown'
    })
  })

  it('is at a joint from either layer, also of a pass that goes out', () => {
    const long = { turns: 40, step: 4 }
    const sheet = painted([mark({ at: at(3.75e-3), direction: 88, size: 1 })], long)
    const into = featuresOf(sheet, { at: at(3.75e-3), sign: 1, statistic: 0 }, contextOf(context)).features
    expect(into).toMatchObject({ face: 'joint' })
    expect(into.toFace_m).toBeCloseTo(0.25e-3, 6)
    const out = { ...context, depth: (point: number) => 8e-3 - context.depth!(point) }
    const back = featuresOf(sheet, { at: at(3.75e-3), sign: 1, statistic: 0 }, contextOf(out)).features
    expect(back).toMatchObject({ face: 'joint' })
    expect(back.extent_m).toBeCloseTo(into.extent_m as number, 12)
  })
})

describe('what is around', () => {
  it('is nothing for a lone mark, all for a line around, half for half of it', () => {
    expect(of([mark({ at: AT, direction: 88, size: 1 })]).features.around).toBe(0)
    const line = wave({ perTurn: 7, direction: 88, size: 1 })
    expect(of([line], { at: AT }).features.around).toBe(1)
    const half: Painter = (point) => (point % UNIT >= 100 && point % UNIT < 356 ? line(point) : { x: 0, y: 0 })
    expect(Math.abs(of([half], { at: AT }).features.around - 0.5)).toBeLessThan(0.12)
  })

  it('does not count what lies across, where the noise of the wall lies', () => {
    const restless = [mark({ at: AT, direction: 90, size: 0.5 }), wave({ perTurn: 7, direction: 0, size: 0.6 })]
    const context = { noise: { xx: 0.04, xy: 0, yy: 1e-4 } }
    expect(of(restless, { context }).features.around).toBe(0)
  })

  it('is a comb with its lines a revolution, its share and its size', () => {
    const { comb } = of([wave({ perTurn: 7, direction: 30, size: 0.8 })]).features
    expect(comb.perTurn).toBe(7)
    expect(comb.share).toBeGreaterThan(0.999)
    // size fitted to a line k: Σ s·sin / Σ s² with s the pulse, summed here term by term
    let [gain, square] = [0, 0]
    for (const [k, s] of formAt(0).x.entries()) {
      gain += s * sin((2 * PI * 7 * (k - 40)) / UNIT)
      square += s * s
    }
    expect(comb.size).toBeCloseTo((0.4 * Math.abs(gain)) / square, 6)
  })
})

describe('something on a long run', () => {
  const run = (more: readonly Painter[], turnsOf = 40) => {
    const sheet = painted([mark({ at: AT, direction: 168, size: 0.6, reach: 60 }), ...more, noise('run', 0.01)], {
      turns: turnsOf,
      step: 4
    })
    return featuresOf(sheet, { at: AT, sign: 1, statistic: 0 }, contextOf()).features.overRun
  }

  it('is found with its size along the notch, and nothing where there is nothing', () => {
    const found = run([mark({ at: AT + 20 * UNIT, direction: 85, size: 0.3, reach: 1, fall: 0.5 })])
    expect(found).not.toBe('unknown')
    if (found === 'unknown') return
    expect(Math.abs(found.size - 0.3)).toBeLessThan(0.03)
    expect(found.signalToNoise).toBeGreaterThan(20)
    const none = run([])
    expect(none !== 'unknown' && none.signalToNoise < 4).toBe(true)
  })

  it('is no change of size along the run itself', () => {
    const stronger = run([mark({ at: AT + 20 * UNIT, direction: 168, size: 0.6, reach: 1, fall: 0.5 })])
    expect(stronger !== 'unknown' && stronger.signalToNoise < 4).toBe(true)
  })

  it('is unknown for a run too short to have a direction of its own', () => expect(run([], 11)).toBe('unknown'))
})

/** Any scene: some marks and noise; a place on one of them. */
const scene = fc.record({
  seed: fc.integer({ min: 0, max: 1000 }),
  direction: fc.integer({ min: 0, max: 359 }),
  reach: fc.integer({ min: 0, max: 4 }),
  step: fc.constantFrom(2, 4, 8)
})
type Drawn = { readonly seed: number; readonly direction: number; readonly reach: number; readonly step: number }
const sheetOf = ({ seed, direction, reach, step }: Drawn) =>
  painted(
    [
      mark({ at: AT, direction, size: 0.5, reach }),
      mark({ at: AT + 130, direction: 90, size: 0.3, reach: 1 }),
      noise(`law ${seed}`, 0.02)
    ],
    { turns, step, harmonics: [0.3, 0.2, 0.1] }
  )
const context = contextOf({ ...stack(UNIT), noise: { xx: 9e-4, xy: 1e-4, yy: 4e-4 } })
const mapped = (sheet: Sheet, by: (x: number, y: number) => readonly [number, number]): Sheet => {
  const both = (a: Float64Array, b: Float64Array) => [
    Float64Array.from(a, (x, i) => by(x, b[i]!)[0]),
    Float64Array.from(a, (x, i) => by(x, b[i]!)[1])
  ]
  const [x, y] = both(sheet.x, sheet.y)
  const [cx, cy] = both(sheet.cx, sheet.cy)
  return { ...sheet, x: x!, y: y!, cx: cx!, cy: cy! }
}
const sized = ({ amplitude, matched, comb, overRun, ...rest }: Features) => ({
  rest: { ...rest, comb: { ...comb, size: 0 }, overRun: overRun === 'unknown' ? overRun : { ...overRun, size: 0 } },
  sizes: [amplitude, matched, comb.size]
})
/** Leaves of two features that differ by more than rounding. */
const differing = (a: object, b: object): readonly string[] =>
  Object.entries(a).flatMap(([name, value]) => {
    const other = (b as Record<string, unknown>)[name]
    if (typeof value === 'object') return differing(value as object, other as object)
    if (typeof value !== 'number') return value === other ? [] : [name]
    return Math.abs(value - (other as number)) <= 1e-9 * Math.max(1, Math.abs(value)) ? [] : [name]
  })

describe('whatever is on the sheet, features do not change', () => {
  it('when the sheet lies elsewhere on the ruler', () =>
    fc.assert(
      fc.property(scene, fc.integer({ min: -100_000, max: 100_000 }), (drawn, elements) => {
        const sheet = sheetOf(drawn)
        const by = elements * sheet.step
        const depth = (point: number) => context.depth!(point - by)
        const there = featuresOf(
          { ...sheet, first: sheet.first + by },
          { at: AT + by, sign: 1, statistic: 0 },
          { ...context, depth }
        )
        expect(
          differing(there.features, featuresOf(sheet, { at: AT, sign: 1, statistic: 0 }, context).features)
        ).toEqual([])
      }),
      { numRuns: 20 }
    ))

  it('when its beginning is cut off by any number of elements far from the place', () =>
    fc.assert(
      fc.property(scene, fc.integer({ min: 1, max: 2 * UNIT }), (drawn, cut) => {
        const sheet = sheetOf({ ...drawn, reach: 0 })
        const n = Math.floor(cut / sheet.step)
        const column = (values: Float64Array) => values.subarray(n)
        const shorter = {
          ...sheet,
          first: sheet.first + n * sheet.step,
          length: sheet.length - n,
          x: column(sheet.x),
          y: column(sheet.y),
          cx: column(sheet.cx),
          cy: column(sheet.cy)
        }
        const [a, b] = [sheet, shorter].map(
          (one) => featuresOf(one, { at: AT, sign: 1, statistic: 0 }, context).features
        )
        expect(differing(a!, b!)).toEqual([])
      }),
      { numRuns: 20 }
    ))

  it('but for sizes, when all is scaled', () =>
    fc.assert(
      fc.property(scene, fc.double({ min: 0.01, max: 100, noNaN: true }), (drawn, by) => {
        const sheet = sheetOf(drawn)
        const { xx, xy, yy } = context.noise
        const noisy = { ...context, noise: { xx: by * by * xx, xy: by * by * xy, yy: by * by * yy } }
        const larger = mapped(sheet, (x, y) => [by * x, by * y])
        const one = sized(featuresOf(sheet, { at: AT, sign: 1, statistic: 0 }, context).features)
        const other = sized(featuresOf(larger, { at: AT, sign: 1, statistic: 0 }, noisy).features)
        expect(differing(one.rest, other.rest)).toEqual([])
        for (const [i, size] of one.sizes.entries()) expect(other.sizes[i]! / by).toBeCloseTo(size, 9)
      }),
      { numRuns: 20 }
    ))

  it('but for the angle and what is made of it, when the plane is turned', () =>
    fc.assert(
      fc.property(scene, fc.integer({ min: 1, max: 359 }), (drawn, turn_deg) => {
        const sheet = sheetOf(drawn)
        const [c, s] = [cos(turn_deg * DEG), sin(turn_deg * DEG)]
        const round = { ...context, noise: { xx: 4e-4, xy: 0, yy: 4e-4 } }
        const turned = mapped(sheet, (x, y) => [c * x - s * y, s * x + c * y])
        const [one, other] = [sheet, turned].map(
          (of) => featuresOf(of, { at: AT, sign: 1, statistic: 0 }, round).features
        )
        for (const name of ['amplitude', 'matched', 'roundness', 'likeness', 'width', 'symmetry', 'repeat'] as const)
          expect(other![name], name).toBeCloseTo(one![name], 8)
        const expected = one!.phase_rad / DEG + turn_deg
        const off = (other!.phase_rad / DEG - expected) / 180
        expect(Math.abs(off - Math.round(off))).toBeLessThan(1e-9)
      }),
      { numRuns: 20 }
    ))

  it('but for the order of the lobes, when the hole is passed in the other sense', () => {
    for (const direction of [60, 90, 120]) {
      const sheet = sheetOf({ seed: 1, direction, reach: 1, step: 4 })
      const back = (values: Float64Array, sign = 1) => Float64Array.from(values, (v) => sign * v).reverse()
      const mirrored = { ...sheet, x: back(sheet.x), y: back(sheet.y), cx: back(sheet.cx, -1), cy: back(sheet.cy, -1) }
      const at = sheet.first + (sheet.length - 1) * sheet.step - AT
      const depth = (point: number) => context.depth!((sheet.length - 1) * sheet.step - point)
      const one = featuresOf(sheet, { at: AT, sign: 1, statistic: 0 }, context).features
      const other = featuresOf(mirrored, { at, sign: -1, statistic: 0 }, { ...context, depth }).features
      expect([one.lobeOrder, other.lobeOrder]).toEqual([1, -1])
      const same = ['phase_rad', 'matched', 'amplitude', 'width', 'symmetry', 'rows', 'likeness', 'extent_m'] as const
      for (const name of same) expect(other[name] as number, name).toBeCloseTo(one[name] as number, 6)
    }
  })
})

it('takes a bounded time', () => {
  const sheet = painted([mark({ at: AT, direction: 168, size: 0.6, reach: 9 }), noise('time', 0.01)], {
    turns: 40,
    step: 2
  })
  const once = () => featuresOf(sheet, { at: AT, sign: 1, statistic: 0 }, contextOf(stack(UNIT)))
  for (let k = 0; k < 200; k++) once()
  const before = performance.now()
  for (let k = 0; k < 200; k++) once()
  // about 0.1 ms on a quiet machine; the bound is for a busy one
  const each = (performance.now() - before) / 200
  expect(each).toBeLessThan(2)
})
