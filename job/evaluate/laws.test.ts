/** Laws that hold whatever the numbers; and how often intervals hold, on flaws made here with noise of known size. */
import { randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { ResponseRatio } from '../plan/index.ts'
import type { FittedRows, NotchReading } from '../standardize/index.ts'
import { type Measured, seenAt, sizeOf } from './index.ts'
import { type Flaw, measured, noise, notch, notches, rowsFor, WIDTH } from './testing/flaws.ts'

const setup = { metal: 'm', frequency_kHz: 1, probe_type: 'p' }

const ratioOf = (ratio: number, spread: number): ResponseRatio => ({
  trueloop: 'response-ratio/1',
  ...{ name: 'made', kinds: ['corner', 'mid-bore'], metal: 'm', frequency_kHz: { least: 1, most: 1 } },
  ...{ probe_type: 'p', depth_mm: { least: 0.05, most: 5 }, source: 'made', cracks: 9, ratio, spread },
  approved: { by: 'nobody', level: 'III', on: '2026-01-01' }
})

const sized = (flaw: Measured, ratio?: ResponseRatio, by: readonly NotchReading[] = notches) =>
  sizeOf(flaw, by, [], { noise, documents: { setup, ratios: ratio === undefined ? [] : [ratio], studies: [] } })

const within = fc.record({
  depth_mm: fc.double({ min: 0.35, max: 1.2, noNaN: true }),
  aspect: fc.double({ min: 1, max: 2.2, noNaN: true })
})
const flawOf = ({ depth_mm, aspect }: { depth_mm: number; aspect: number }): Flaw => ({
  depth_mm,
  length_mm: depth_mm * aspect
})

describe('a flaw without noise', () => {
  it('longer than the footprint: its depth and length come back, whatever its proportions', () => {
    for (const [depth_mm, length_mm] of [
      [0.5, 1.8],
      [0.8, 1.6],
      [1, 2.5],
      [1.3, 2]
    ] as const) {
      const size = sized(measured({ depth_mm, length_mm }))
      expect(Math.abs(size.depth_mm! / depth_mm - 1)).toBeLessThan(0.05)
      expect(Math.abs(size.length_mm! - length_mm)).toBeLessThan(0.05)
      expect(Math.abs(size.footprint_mm! / WIDTH - 1)).toBeLessThan(0.02)
      expect(size.basis).toContain('angle')
    }
  })

  it('the point lies in its interval, the interval in the notches', () => {
    fc.assert(
      fc.property(within, (one) => {
        const size = sized(measured(flawOf(one)))
        const { depth_mm = one.depth_mm, lower_mm = 0.25, upper_mm = 1.5 } = size
        // below the smallest notch nothing is told but that a depth is above 0
        if (size.depth_mm !== undefined)
          expect([lower_mm >= 0.25 || lower_mm === 0, upper_mm <= 1.5]).toEqual([true, true])
        expect(depth_mm).toBeGreaterThanOrEqual(size.lower_mm ?? 0)
        expect(depth_mm).toBeLessThanOrEqual(size.upper_mm ?? 9)
        expect(size.length_upper_mm).toBeGreaterThanOrEqual(size.length_mm ?? 0)
      }),
      { numRuns: 30 }
    )
  })

  it('a stronger answer is never a smaller depth, where the angle tells nothing', () => {
    const level = (flaw: Flaw): Flaw => ({ ...flaw, turned: -0.22 * flaw.depth_mm })
    const flat = notches.map((one) => ({ ...one, rows: rowsFor(level(one)) }))
    const sizes = Array.from({ length: 22 }, (_, k) =>
      sized(measured(level({ depth_mm: 0.6, length_mm: 1.2, factor: 0.5 + 0.05 * k })), undefined, flat)
    )
    const depths = sizes.flatMap(({ depth_mm }) => depth_mm ?? [])
    const ends = sizes.map(({ lower_mm = 0 }) => lower_mm)
    expect(depths.length).toBeGreaterThan(10)
    // read off a grid of depths: to 0.2 %
    for (const list of [depths, ends])
      for (const [i, one] of list.entries()) expect(one).toBeGreaterThanOrEqual(0.998 * (list[i - 1] ?? 0))
    for (const { basis } of sizes) expect(basis).not.toContain('angle')
  })
})

describe('units and gain', () => {
  const stretched = (rows: FittedRows, by: number): FittedRows => ({ ...rows, z_m: rows.z_m.map((z) => by * z) })
  const louder = (rows: FittedRows, by: number): FittedRows => ({
    ...rows,
    x: rows.x.map((x) => by * x),
    y: rows.y.map((y) => by * y)
  })

  it('everything a quarter as long: a quarter of the size', () => {
    const by = 4
    const large = notches.map((one) => ({
      ...one,
      depth_mm: by * one.depth_mm,
      length_mm: by * one.length_mm,
      rows: stretched(one.rows!, by)
    }))
    const flaw = measured({ depth_mm: 0.7, length_mm: 1.5 })
    const [size, other] = [sized(flaw), sized({ ...flaw, rows: stretched(flaw.rows!, by) }, undefined, large)]
    for (const key of ['depth_mm', 'lower_mm', 'upper_mm', 'length_mm', 'length_upper_mm'] as const)
      expect(Math.abs(other[key]! - by * size[key]!)).toBeLessThanOrEqual(0.0005 * (by + 1) + 1e-9)
  })

  it('another notch named as 1 changes nothing', () => {
    const by = 0.4
    const quieter = notches.map((one) => ({ ...one, amplitude: by * one.amplitude, rows: louder(one.rows!, by) }))
    const flaw = measured({ depth_mm: 0.7, length_mm: 1.5 })
    const other = { ...flaw, amplitude: by * flaw.amplitude, rows: louder(flaw.rows!, by) }
    const less = { noise: { xx: by * by * noise.xx, yy: by * by * noise.yy } }
    const { depth_mm, lower_mm, upper_mm, length_mm } = sized(flaw)
    const again = sizeOf(other, quieter, [], less)
    expect(again).toMatchObject({ length_mm: expect.closeTo(length_mm!, 2) })
    for (const [a, b] of [
      [again.depth_mm, depth_mm],
      [again.lower_mm, lower_mm],
      [again.upper_mm, upper_mm]
    ])
      expect(Math.abs(a! - b!)).toBeLessThanOrEqual(0.0011)
  })
})

describe('a response ratio', () => {
  it('turns a weaker answer into the depth of the crack', () => {
    const crack = measured({ depth_mm: 0.9, length_mm: 1.8, factor: 0.75 })
    const size = sized(crack, ratioOf(0.75, 0.03))
    expect(size.depth_mm).toBeGreaterThan(0.85)
    expect(size.depth_mm).toBeLessThan(0.95)
    expect(size.equivalent!.depth_mm).toBeLessThan(size.depth_mm!)
    expect(size.ratio).toMatchObject({ name: 'made', approved: 'nobody, level III, 2026-01-01' })
    expect(size.depth).toContain('notch-equivalent')
  })

  it('never lowers a size, and a larger spread widens the interval', () => {
    fc.assert(
      fc.property(within, fc.double({ min: 0.5, max: 1.6, noNaN: true }), (one, ratio) => {
        const flaw = measured(flawOf(one))
        const plain = sized(flaw)
        const size = sized(flaw, ratioOf(ratio, 0.05))
        if (size.ratio === undefined || plain.depth_mm === undefined) return
        expect(size.depth_mm ?? size.lower_mm).toBeGreaterThanOrEqual(
          size.depth_mm === undefined ? (plain.lower_mm ?? 0) : plain.depth_mm
        )
        expect(size.lower_mm ?? 0).toBeGreaterThanOrEqual(Math.min(plain.lower_mm ?? 0, size.depth_mm ?? 9))
      }),
      { numRuns: 40 }
    )
    const crack = measured({ depth_mm: 0.6, length_mm: 1.2, factor: 0.75 })
    const [narrow, wide] = [sized(crack, ratioOf(0.75, 0.02)), sized(crack, ratioOf(0.75, 0.12))]
    expect(wide.upper_mm! - wide.lower_mm!).toBeGreaterThan(narrow.upper_mm! - narrow.lower_mm!)
  })
})

describe('intervals on notch-like flaws in noise', () => {
  /** area over area and a constant: not the law that is fitted */
  const byArea = ({ depth_mm, length_mm }: Flaw) => (3.6 * depth_mm * length_mm) / (depth_mm * length_mm + 1.3)
  const random = randomFrom('evaluate/intervals')

  function noisy(flaw: Flaw): FittedRows {
    const ratio = 0.05 + 0.22 * flaw.depth_mm
    const size = (byArea(flaw) * (1 + 0.03 * random.normal())) / Math.sqrt(1 + ratio * ratio)
    let [x, y] = [random.normal(), random.normal()]
    const rows = { z_m: [] as number[], x: [] as number[], y: [] as number[] }
    for (let k = -12; k <= 12; k++) {
      x = 0.3 * x + Math.sqrt(1 - 0.09) * random.normal()
      y = 0.6 * y + Math.sqrt(1 - 0.36) * random.normal()
      const z = 0.25 * k + 0.1
      const seen = size * seenAt(z, { length: flaw.length_mm, width: WIDTH })
      rows.z_m.push((5 + z) / 1000)
      rows.x.push(seen * ratio + Math.sqrt(noise.xx) * x)
      rows.y.push(seen + Math.sqrt(noise.yy) * y)
    }
    return rows
  }

  it('hold for 90 to 99 of 100 over ten standards, and are narrower than 0.5 mm in the middle', () => {
    const [held, widths, lengths] = [[] as boolean[], [] as number[], [] as boolean[]]
    for (let standard = 0; standard < 10; standard++) {
      const taught = notches.map((one) =>
        notch(one.place, one, { amplitude: byArea(one), rows: noisy(one), id: `${one.id} ${standard}` })
      )
      for (let k = 0; k < 40; k++) {
        const depth_mm = 0.3 + 1.2 * random.uniform()
        const corner = k % 2 === 0
        const flaw = { depth_mm, length_mm: corner ? depth_mm : 2 * depth_mm }
        const size = sizeOf(
          { amplitude: byArea(flaw), place: corner ? 'corner' : 'mid-bore', rows: noisy(flaw), noise },
          taught,
          [],
          { noise }
        )
        held.push((size.lower_mm ?? 0) <= depth_mm && depth_mm <= (size.upper_mm ?? 99))
        widths.push((size.upper_mm ?? 1.5) - (size.lower_mm ?? 0.25))
        lengths.push((size.length_lower_mm ?? 0) <= flaw.length_mm && flaw.length_mm <= size.length_upper_mm!)
      }
    }
    const share = (list: readonly boolean[]) => list.filter((is) => is).length / list.length
    expect(share(held)).toBeGreaterThan(0.9)
    expect(share(held)).toBeLessThan(0.995)
    expect(share(lengths)).toBeGreaterThan(0.9)
    expect(widths.sort((a, b) => a - b)[200]).toBeLessThan(0.5)
  })
})
