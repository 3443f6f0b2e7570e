/** Oracle: reference/sizing.json, a twin by SciPy and NumPy with the exact distribution, continuous optima, finer grids. */
import { normalCumulative } from '@trueloop/ground/numerics'
import { describe, expect, it } from 'vitest'
import { valuesOf } from '../interpret/index.ts'
import type { ResponseRatio } from '../plan/index.ts'
import type { NotchReading } from '../standardize/index.ts'
import { bellCumulative } from './bell.kernel.ts'
import { depthOnCurve } from './curve.ts'
import { extentThrough, filledShare, rowsOf, seenAt, sizeOf, sizing } from './index.ts'
import { kindsFor } from './kinds.ts'
import reference from './reference/sizing.json' with { type: 'json' }
import { lessonsFor } from './teach.ts'
import { notch } from './testing/flaws.ts'
import { turnedAt } from './turn.ts'

const numbers = valuesOf(sizing)
const rowsIn = ({ z_mm, x, y }: { z_mm: number[]; x: number[]; y: number[] }) => ({
  z_m: z_mm.map((z) => z / 1000),
  x,
  y
})

const notches: readonly NotchReading[] = reference.notches.map(({ place, rows, amplitude, ...flaw }) =>
  notch(place, flaw, { rows: rowsIn(rows), amplitude })
)
const { noise } = reference

describe('the footprint', () => {
  it('table of the distribution: its slow twin, within 2e-6', () => {
    for (let u = -9; u < 9; u += 0.0137) expect(Math.abs(bellCumulative(u) - normalCumulative(u))).toBeLessThan(2e-6)
  })

  it.each(reference.footprint)('a flaw of $length mm through $width mm', ({ length, width, filled, extent, seen }) => {
    expect(filledShare(length, width)).toBeCloseTo(filled, 5)
    expect(extentThrough(length, width)).toBeCloseTo(extent, 4)
    for (const [i, z] of [0, 0.3, 0.9].entries()) expect(seenAt(z, { length, width })).toBeCloseTo(seen[i]!, 4)
  })
})

describe('what the notches teach', () => {
  const { of, footprints } = lessonsFor(kindsFor('mid-bore', notches, { noise, numbers }), {
    ...{ noise, numbers, faced: false }
  })
  if (of === undefined || 'refused' in of) throw new Error('no lessons')
  const { laws, turn } = of[0]!

  it('width of the footprint, to 1 %', () =>
    expect(footprints.get('mid-bore')!.width_mm / reference.width).toBeCloseTo(1, 2))

  it('laws of depth and length, for both kinds together, and what each weighs', () => {
    for (const [i, { law, weight }] of laws.entries()) {
      const expected = reference.laws[i]!
      expect(law.form.name).toContain(expected.form)
      expect(law.notches).toBe(8)
      expect(law.scatter).toBeCloseTo(expected.scatter, 9)
      expect(Math.abs(law.full / expected.full - 1)).toBeLessThan(0.01)
      expect(Math.abs(law.scale / expected.scale - 1)).toBeLessThan(0.02)
      expect(Math.abs(weight - expected.weight)).toBeLessThan(0.03)
    }
  })

  it('turn of the angle with depth', () => {
    expect(turn!.slope_per_mm).toBeCloseTo(reference.turn.slope, 2)
    expect(turnedAt(turn!, 0).ratio).toBeCloseTo(reference.turn.at0, 2)
  })
})

const documentOf = ([ratio, spread, cracks]: readonly number[]): ResponseRatio => ({
  trueloop: 'response-ratio/1',
  ...{ name: 'twin', kinds: ['corner', 'mid-bore'], metal: 'm', frequency_kHz: { least: 1, most: 2 } },
  ...{ probe_type: 'p', depth_mm: { least: 0.1, most: 2 }, source: 'twin' },
  approved: { by: 'twin', level: 'III', on: '2026-01-01' },
  ...{ ratio: ratio!, spread: spread!, cracks: cracks! }
})

describe('sizes of flaws', () => {
  it.each(reference.flaws)('$place, truth $truth', ({ place, rows, ratio, half, length_mm, interval }) => {
    const documents = {
      setup: { metal: 'm', frequency_kHz: 1, probe_type: 'p' },
      ratios: ratio === undefined ? [] : [documentOf(ratio)],
      studies: []
    }
    const measured = { amplitude: 1, place: place as 'corner', rows: rowsIn(rows), noise }
    const size = sizeOf(measured, notches, [], { noise, documents })
    const [lower, depth, upper] = interval as [number, number, number]
    expect(size.depth_mm! / depth).toBeGreaterThan(0.97)
    expect(size.depth_mm! / depth).toBeLessThan(1.03)
    if (lower >= 0.25) expect(Math.abs(size.lower_mm! / lower - 1)).toBeLessThan(0.05)
    else expect(size.lower_mm).toBe(0)
    if (upper <= 1.5) expect(Math.abs(size.upper_mm! / upper - 1)).toBeLessThan(0.05)
    expect(size.ratio?.name).toBe(ratio === undefined ? undefined : 'twin')
    const extent = rowsOf(measured.rows, noise)!.half
    expect([extent.from, extent.to]).toEqual([expect.closeTo(half[0]!, 9), expect.closeTo(half[1]!, 9)])
    if (size.length_mm !== undefined) expect(Math.abs(size.length_mm - length_mm)).toBeLessThan(0.05)
    else expect(size.length_upper_mm).toBeGreaterThan(length_mm)
  })
})

it('amplitude alone: a power law with its exact interval', () => {
  const { depth_mm, amplitude, asked, expected } = reference.curve
  const five = depth_mm.map((d, i) =>
    notch('mid-bore', { depth_mm: d, length_mm: 2 * d }, { amplitude: amplitude[i]! })
  )
  const told = depthOnCurve(asked, five, numbers)
  if ('refused' in told) throw new Error(told.code)
  expect([told.depth_mm, told.lower_mm, told.upper_mm]).toEqual(expected.map((value) => expect.closeTo(value, 9)))
})
