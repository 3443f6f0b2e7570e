/** Each code of the room is provoked; each comes with a statement of what is said instead. */
import { describe, expect, it } from 'vitest'
import type { ResponseRatio, ResponseStudy } from '../plan/index.ts'
import type { NotchReading } from '../standardize/index.ts'
import { sizeCodes } from './codes.ts'
import { type Documents, type Measured, observedRatio, type SizedUnder, sizeOf } from './index.ts'
import { bores, corners, measured, noise, notch, notches, rowsFor } from './testing/flaws.ts'

const setup = { metal: 'aluminum', frequency_kHz: 500, probe_type: 'differential' }

const common = {
  name: 'made',
  kinds: ['corner', 'mid-bore'] as ('corner' | 'mid-bore')[],
  metal: 'aluminum',
  frequency_kHz: { least: 400, most: 600 },
  probe_type: 'differential',
  depth_mm: { least: 0.2, most: 1.4 },
  cracks: 12,
  source: 'made',
  approved: { by: 'nobody', level: 'III' as const, on: '2026-01-01' }
}

const ratio: ResponseRatio = { trueloop: 'response-ratio/1', ...common, ratio: 0.75, spread: 0.05 }
const study: ResponseStudy = { trueloop: 'response-study/1', ...common, scatter: 0.08 }

const withDocuments = (change: Partial<Documents>): SizedUnder => ({
  noise,
  documents: { setup, ratios: [], studies: [], ...change }
})

const flaw = measured({ depth_mm: 0.7, length_mm: 1.6 })
const short: Measured = { amplitude: flaw.amplitude, place: 'mid-bore' }

const sized = (one: Measured, by: readonly NotchReading[] = notches, under: SizedUnder = { noise }) =>
  sizeOf(one, by, [], under)
const codesOf = ({ why }: ReturnType<typeof sizeOf>) => (why ?? []).map(({ code }) => code)
const seen = new Set<string>()
const expectCode = (size: ReturnType<typeof sizeOf>, code: (typeof sizeCodes)[number]) => {
  expect(codesOf(size)).toContain(code)
  for (const { found, needed, remedy } of size.why!)
    expect([found, needed, remedy].every((text) => text !== '')).toBe(true)
  seen.add(code)
}

/** Whatever is stated without a law has to hold, and says between which notches it answers. */
function expectBound({ depth, depth_mm, lower_mm = 0, upper_mm = 9 }: ReturnType<typeof sizeOf>): void {
  expect(depth).toContain('answers between notches mid-bore 0.5 and mid-bore 1')
  expect([depth_mm, lower_mm <= 0.7, upper_mm >= 0.7]).toEqual([undefined, true, true])
}

/** Readings of one kind with these answers, not followed along the axis. */
const plain = (depths: readonly number[], amplitudes: readonly number[]): readonly NotchReading[] =>
  depths.map((depth_mm, i) => {
    const { rows: _, ...rest } = notch('mid-bore', { depth_mm, length_mm: 2 * depth_mm }, { amplitude: amplitudes[i]! })
    return rest
  })

describe('notches', () => {
  it('of another kind only: withheld', () => {
    const size = sized({ ...flaw, place: 'corner' }, bores)
    expectCode(size, 'evaluate/no-notch-of-kind')
    expect(size).toMatchObject({ depth: 'withheld', withheld: ['no corner notch in the reference standard'] })
    expect(size).not.toHaveProperty('lower_mm')
  })

  it('weaker than the noise bear nothing', () => {
    const weak = bores.map((one, i) => (i === 0 ? { ...one, amplitude: 0.05 } : one))
    const size = sized(flaw, weak)
    expectCode(size, 'evaluate/notch-below-noise')
    expect(codesOf(size)).toContain('evaluate/too-few-notches')
    expectBound(size)
    const none = sized(
      flaw,
      bores.map((one) => ({ ...one, amplitude: 0.05 }))
    )
    expect(none).toMatchObject({ depth: 'withheld' })
  })

  it('fewer than four: bounds, and the length all the same', () => {
    const size = sized(flaw, bores.slice(1))
    expectCode(size, 'evaluate/too-few-notches')
    expectBound(size)
    expect(size).not.toHaveProperty('depth_mm')
    expect(size.length_mm).toBeCloseTo(1.6, 1)
    expect(sized(short, plain([0.5, 1, 1.5], [1, 2, 3])).why).toHaveLength(1)
  })

  it('a deeper one that answers weaker: withheld', () => {
    const swapped = bores.map((one, i) => ({ ...one, amplitude: bores[[0, 2, 1, 3][i]!]!.amplitude }))
    const size = sized(flaw, swapped)
    expectCode(size, 'evaluate/curve-not-monotone')
    expect(size.depth).toBe('withheld')
    expect(size).not.toHaveProperty('lower_mm')
    const asGood = bores.map((one, i) => (i === 1 ? { ...one, amplitude: bores[2]!.amplitude + 0.01 } : one))
    expect(codesOf(sized(flaw, asGood))).not.toContain('evaluate/curve-not-monotone')
  })

  it('that no law of depth and length fits: bounds', () => {
    const factors = [1, 0.3, 0.3, 1]
    const wrong = bores.map((one, i) => {
      const bent = { depth_mm: one.depth_mm, length_mm: one.length_mm, factor: factors[i]! }
      return { ...one, rows: rowsFor(bent) }
    })
    const size = sized(flaw, wrong)
    expectCode(size, 'evaluate/law-does-not-fit')
    expectBound(size)
    expect(observedRatio(flaw, wrong, { known: { depth_mm: 0.7, length_mm: 1.6 }, under: { noise } })).toBeUndefined()
  })
})

describe('amplitude alone', () => {
  const depths = [0.25, 0.5, 1, 1.5]

  it('four notches on a line: a depth with its interval, in their proportions', () => {
    const size = sized({ ...short, amplitude: 1.5 }, plain(depths, [0.5, 1.02, 2, 2.99]))
    expect(size.depth_mm).toBeCloseTo(0.75, 1)
    expect(size.basis).toContain('amplitude alone')
    expect(size.depth).toContain('notch-equivalent')
  })

  it('on no scale straight: bounds', () => {
    const size = sized({ ...short, amplitude: 1.95 }, plain(depths, [0.1, 1.9, 2, 2.05]))
    expectCode(size, 'evaluate/curve-not-straight')
    expect(size).toMatchObject({ lower_mm: 0.25 })
    expect(size).not.toHaveProperty('upper_mm')
  })

  it('near the level where depth hardly changes it: bounds', () => {
    const curve = (d: number) => d / (0.1 + d)
    const size = sized({ ...short, amplitude: curve(1.2) }, plain(depths, depths.map(curve)))
    expectCode(size, 'evaluate/plateau')
    expect(size.depth).toBe('answers between notches mid-bore 1 and mid-bore 1.5')
    for (const figure of ['depth_mm', 'lower_mm', 'upper_mm']) expect(size).not.toHaveProperty(figure)
  })

  it('scatter that leaves the depth open: bounds', () => {
    const near = plain([0.5, 0.55, 0.6, 0.65], [1, 1.22, 1.23, 1.24])
    const size = sized({ ...short, amplitude: 1.1 }, near)
    expectCode(size, 'evaluate/size-undetermined')
    expect(size.depth).toBe('answers between notches mid-bore 0.5 and mid-bore 0.55')
  })

  it('above all notches: a lower bound, nothing extrapolated', () => {
    const size = sized({ ...short, amplitude: 4 }, plain(depths, [0.5, 1, 2, 3]))
    expectCode(size, 'evaluate/beyond-notches')
    // 4 is more than 2.2 times the answer of the notch of 0.5 mm, and less than that of the others (see evaluate.test)
    expect(size).toMatchObject({ lower_mm: 0.5 })
    expect(size).not.toHaveProperty('upper_mm')
  })
})

describe('a flaw followed along the axis', () => {
  it('deeper or smaller than all notches: a bound', () => {
    const deep = sized(measured({ depth_mm: 2.6, length_mm: 4 }))
    expectCode(deep, 'evaluate/beyond-notches')
    expect(deep.lower_mm).toBeLessThanOrEqual(1.5)
    expect(deep).not.toHaveProperty('upper_mm')
    const small = sized(measured({ depth_mm: 0.12, length_mm: 0.24 }))
    expectCode(small, 'evaluate/beyond-notches')
    expect(small.upper_mm).toBeGreaterThanOrEqual(0.25)
    expect(small).not.toHaveProperty('lower_mm')
  })

  it('with an angle of another depth: the amplitude alone, and said', () => {
    const { rows } = flaw
    const size = sized({ ...flaw, rows: { ...rows!, x: rows!.x.map((x, i) => x + 0.6 * rows!.y[i]!) } })
    expectCode(size, 'evaluate/turn-disagrees')
    expect(size.basis).not.toContain('angle')
    expect(Math.abs(size.depth_mm! - 0.7)).toBeLessThan(0.1)
  })

  it('shorter than the footprint hides: "≤"', () => {
    const size = sized(measured({ depth_mm: 0.5, length_mm: 0.3 }))
    expectCode(size, 'evaluate/below-footprint')
    expect(size.length).toContain('≤')
    expect(size).not.toHaveProperty('length_mm')
    expect(size.length_upper_mm).toBeGreaterThan(0.3)
  })

  it('across a joint: the length is cut there, and said', () => {
    const through = measured({ depth_mm: 0.7, length_mm: 2, z_mm: 5 }, { faces: { from_mm: 4.5, to_mm: 9 } })
    const size = sized(through)
    expectCode(size, 'evaluate/runs-into-face')
    expect(size.length_mm).toBeCloseTo(1.5, 1)
    const clear = sized({ ...through, faces: { from_mm: 2, to_mm: 9 } })
    expect(codesOf(clear)).not.toContain('evaluate/runs-into-face')
    expect(clear.length_mm).toBeCloseTo(2, 1)
  })
})

describe('documents of how cracks answer', () => {
  const crack = measured({ depth_mm: 0.7, length_mm: 1.6, factor: 0.75 })

  it('a ratio that holds is used', () => {
    const size = sized(crack, notches, withDocuments({ ratios: [ratio] }))
    expect(size.ratio?.name).toBe('made')
    expect(Math.abs(size.depth_mm! - 0.7)).toBeLessThan(0.07)
  })

  it.each<[string, Partial<ResponseRatio>]>([
    ['metal', { metal: 'titanium' }],
    ['400 kHz', { frequency_kHz: { least: 100, most: 400 } }],
    ['probe type', { probe_type: 'absolute' }],
    ['may be mid-bore', { kinds: ['corner'] }],
    ['a depth of', { depth_mm: { least: 0.2, most: 0.6 } }]
  ])('a ratio out of its range is not applied: %s', (word, change) => {
    const size = sized(crack, notches, withDocuments({ ratios: [{ ...ratio, ...change }] }))
    expectCode(size, 'evaluate/ratio-out-of-range')
    expect(size.why!.find(({ code }) => code === 'evaluate/ratio-out-of-range')?.found).toContain(word)
    expect(size).not.toHaveProperty('ratio')
    expect(size.depth).toContain('notch-equivalent')
  })

  it('of several the first that holds is used, and of the others it is said', () => {
    const other = { ...ratio, name: 'other', metal: 'titanium' }
    const size = sized(crack, notches, withDocuments({ ratios: [other, ratio] }))
    expectCode(size, 'evaluate/ratio-out-of-range')
    expect(size.ratio?.name).toBe('made')
  })

  it('a ratio on bounds alone is not applied', () => {
    const size = sized(crack, bores.slice(1), withDocuments({ ratios: [ratio] }))
    expectCode(size, 'evaluate/ratio-without-value')
    expect(size).not.toHaveProperty('ratio')
  })

  it('a study lets corner notches stand for missing mid-bore ones; its scatter widens the interval', () => {
    const few = [...bores.slice(2), ...corners]
    const by = (scatter: number) => sized(flaw, few, withDocuments({ studies: [{ ...study, scatter }] }))
    const size = by(0.08)
    expect(Math.abs(size.depth_mm! - 0.7)).toBeLessThan(0.1)
    expect(size.basis).toContain('response study "made"')
    const wide = by(0.25)
    expect((wide.upper_mm ?? 1.5) - (wide.lower_mm ?? 0.25)).toBeGreaterThan(
      (size.upper_mm ?? 1.5) - (size.lower_mm ?? 0.25)
    )
    expect(sized(flaw, few)).not.toHaveProperty('depth_mm')
  })

  it('a study out of its range is not applied', () => {
    const few = [...bores.slice(2), ...corners]
    const foreign = sized(flaw, few, withDocuments({ studies: [{ ...study, metal: 'titanium' }] }))
    expectCode(foreign, 'evaluate/study-out-of-range')
    expect(foreign).not.toHaveProperty('depth_mm')
    const small = { ...study, depth_mm: { least: 0.2, most: 0.4 } }
    const deeper = sized(flaw, few, withDocuments({ studies: [small] }))
    expectCode(deeper, 'evaluate/study-out-of-range')
    expect(deeper).not.toHaveProperty('depth_mm')
  })

  it('the ratio of a crack of known size is its answer over that of a notch of that size', () => {
    const known = { depth_mm: 0.7, length_mm: 1.6 }
    expect(observedRatio(crack, notches, { known, under: { noise } })).toBeCloseTo(0.75, 1)
    expect(observedRatio(short, notches, { known, under: { noise } })).toBeUndefined()
  })
})

it('every code of a size was provoked', () => expect([...seen].sort()).toEqual([...sizeCodes].sort()))
