/** Oracle: reference/faces.json, forward models by SciPy and NumPy: what goes in has to come out. */
import { describe, expect, it } from 'vitest'
import { valuesOf } from '../interpret/index.ts'
import type { NotchReading } from '../standardize/index.ts'
import { clearNotches, sizeOf, sizing } from './index.ts'
import { kindsFor, proportionsOf } from './kinds.ts'
import reference from './reference/faces.json' with { type: 'json' }
import { teacherFor } from './teach.ts'
import { notch } from './testing/flaws.ts'

const numbers = valuesOf(sizing)
const noise = { xx: 0.02 * 0.02, yy: 0.01 * 0.01 }
const meters = ({ z_mm, x, y }: { z_mm: number[]; x: number[]; y: number[] }) => ({
  z_m: z_mm.map((z) => z / 1000),
  x,
  y
})
const DEG = Math.PI / 180

describe.each(reference.faces)('corner notches, $name', ({ notches: certified, flaws, bore, corner, fade }) => {
  const notches: readonly NotchReading[] = certified.map(({ place, depth_mm, length_mm, middle_mm, rows }) =>
    notch(place, { depth_mm, length_mm }, { rows: meters(rows), amplitude: Math.max(...rows.y), z_m: middle_mm / 1000 })
  )
  const { footprints } = teacherFor(kindsFor('corner', notches, { noise, numbers }), { noise, numbers, faced: true })

  it('show the footprint of each kind, and whether a face takes from it', () => {
    expect(footprints.get('mid-bore')!.width_mm / bore).toBeCloseTo(1, 1)
    expect(footprints.get('corner')!.width_mm / corner).toBeCloseTo(1, 1)
    if (fade === undefined) expect(footprints.get('corner')!.fade_mm).toBeUndefined()
    else expect(Math.abs(footprints.get('corner')!.fade_mm! / fade - 1)).toBeLessThan(0.15)
  })

  it.each(flaws)(
    'a flaw of $place, $depth_mm mm deep, whatever it is taken for',
    ({ depth_mm, length_mm, place, rows }) => {
      for (const taken of ['corner', 'mid-bore'] as const) {
        const size = sizeOf(
          { amplitude: Math.max(...rows.y), place: taken, rows: meters(rows), noise, faces: { from_mm: 0, to_mm: 10 } },
          notches,
          [],
          { noise }
        )
        expect(Math.abs(size.depth_mm! / depth_mm - 1)).toBeLessThan(0.06)
        expect([size.lower_mm! <= depth_mm, (size.upper_mm ?? 9) >= depth_mm]).toEqual([true, true])
        if (size.length_mm !== undefined) expect(Math.abs(size.length_mm - length_mm)).toBeLessThan(0.12)
        expect(size.length_upper_mm).toBeGreaterThan(length_mm - 0.02)
        if (place === 'mid-bore' && taken === 'mid-bore') expect(size.basis).not.toContain('corner')
      }
    }
  )
})

describe('notches in the tails of others', () => {
  const { form, band, notches: met } = reference.tails
  const notches = met.map(({ id, angle_deg, depth_mm, length_mm, rows }) => {
    const most = Math.max(...rows.x.map((x, i) => Math.sqrt(x * x + rows.y[i]! * rows.y[i]!)))
    const more = { id, rows: meters(rows), amplitude: most, angle_rad: angle_deg * DEG, z_m: 0.005 }
    return notch('mid-bore', { depth_mm, length_mm }, more)
  })
  const shaped = { form, band: { ...band, unit: 'cycles per revolution' as const }, named: '0.5 mm', notches }

  it('answer up to a third too much or too little, and alone when they are cleared', () => {
    const cleared = clearNotches(shaped)
    const off = (all: readonly NotchReading[]) => all.map(({ amplitude }, i) => Math.abs(amplitude / met[i]!.alone - 1))
    expect(Math.max(...off(notches))).toBeGreaterThan(0.3)
    expect(Math.max(...off(cleared))).toBeLessThan(0.02)
  })

  it('stay as they are where the named one is no pulse of two lobes, or on a track', () => {
    const bump = { ...form, y: form.y.map((_, k) => Math.exp(-((k - form.half) ** 2) / 200)), x: form.x.map(() => 0) }
    for (const other of [
      { ...shaped, form: bump },
      { ...shaped, band: { ...band, unit: 'cycles per mm' as const } }
    ])
      expect(clearNotches(other).map(({ amplitude }) => amplitude)).toEqual(notches.map(({ amplitude }) => amplitude))
  })

  it('the named one by what the others show to be its own noise', () => {
    const noisy = notches.map((one) => (one.id === '0.5 mm' ? one : { ...one, amplitude: one.amplitude / 0.9 }))
    const rows = (all: readonly NotchReading[]) => all.find(({ id }) => id === '0.5 mm')!.rows!.y[12]!
    const other = { ...shaped, band: { ...band, unit: 'cycles per mm' as const }, notches: noisy }
    expect(rows(clearNotches(other)) / rows(notches)).toBeCloseTo(0.9, 3)
  })
})

it.each(reference.proportions)('proportions of one more notch like $aspects', ({ aspects, aspect, spread }) => {
  const like = aspects.map((one) => notch('mid-bore', { depth_mm: 1, length_mm: one }))
  expect(proportionsOf(like, numbers).aspect).toBeCloseTo(aspect, 9)
  expect(proportionsOf(like, numbers).aspectSpread).toBeCloseTo(spread, 6)
  expect(proportionsOf(like.slice(0, 1), numbers).aspectSpread).toBe(numbers.notchAspect)
})
