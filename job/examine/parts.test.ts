import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { UNIT } from '../signal/index.ts'
import { findEdges } from '../standardize/index.ts'
import { proveContact } from './contact.ts'
import { coverageOf } from './coverage.ts'
import type { Depth } from './depth.ts'
import { Extent, stillOf } from './extent.ts'
import { zonesOf } from './index.ts'
import { MeanTraceBuilder, MOST_TRACED } from './mean-trace.ts'
import { pictureOf } from './picture.ts'
import { demoStandardization, hole } from './testing/hole.ts'
import { zoneAt } from './zones.ts'

describe('zones', () => {
  const zones = zonesOf({ ...hole, grip_mm: 9, interfaces_mm: [1.5, 6] }, 1.1e-3)

  it('are corner, mid-bore, corner of every layer; a corner at most a third of it', () => {
    const mm = zones.map(({ name, z0_m, z1_m }) => [name, Math.round(z0_m * 1e5) / 100, Math.round(z1_m * 1e5) / 100])
    expect(mm).toEqual([
      ['layer 1 entry corner', 0, 0.5],
      ['layer 1 mid-bore', 0.5, 1],
      ['layer 1 exit corner', 1, 1.5],
      ['layer 2 entry corner', 1.5, 2.6],
      ['layer 2 mid-bore', 2.6, 4.9],
      ['layer 2 exit corner', 4.9, 6],
      ['layer 3 entry corner', 6, 7],
      ['layer 3 mid-bore', 7, 8],
      ['layer 3 exit corner', 8, 9]
    ])
  })

  it('leave no depth without a zone, beyond the faces either', () => {
    for (const z_mm of [-1, 0, 0.7, 1.5, 3, 8.99, 9, 12]) {
      const zone = zoneAt(zones, z_mm * 1e-3)
      const inside = Math.min(8.999, Math.max(0, z_mm)) * 1e-3
      expect(zone.z0_m <= inside && inside < zone.z1_m).toBe(true)
    }
  })
})

describe('coverage of a zone', () => {
  // one revolution a pitch of 0.2 mm, entry at revolution 10
  const pitch_m = 2e-4
  const depth: Depth = {
    basis: 'made up',
    uncertainty_m: 0,
    pitch_m,
    at: (point) => (point / UNIT - 10) * pitch_m,
    pointAt: (z_m) => (z_m / pitch_m + 10) * UNIT
  }
  const zone = zonesOf({ ...hole, grip_mm: 6, interfaces_mm: [] }, 1e-3)[1]!
  const range = { from: 0, to: 60 * UNIT }
  const of = (unusable: readonly { from: number; to: number; reason: string }[], maxPitch_m: number) =>
    coverageOf(zone, { depth, unusable, range, maxPitch_m })

  it('is whole where nothing is wrong', () => {
    expect(of([], 3.8e-4)).toMatchObject({ covered: 1, why: [] })
  })

  it('one lost revolution leaves two pitches between its neighbors: allowed or not by the largest pitch', () => {
    const lost = [{ from: 20, to: 21, reason: 'index marks lost' }]
    expect(of(lost, 4.1e-4).why).toEqual([])
    expect(of(lost, 3.8e-4).why).toEqual(['index marks lost, over 0.20 mm'])
    expect(of(lost, 3.8e-4).covered).toBeCloseTo(1 - 1 / 20, 12)
  })

  it('neighboring losses are one gap with all reasons; what lies elsewhere does not count', () => {
    const { why, covered } = of(
      [
        { from: 22, to: 24, reason: 'samples missing' },
        { from: 20, to: 22, reason: 'index marks lost' },
        { from: 2, to: 9, reason: 'elsewhere' }
      ],
      3.8e-4
    )
    expect(why).toEqual(['index marks lost; samples missing, over 0.80 mm'])
    expect(covered).toBeCloseTo(1 - 4 / 20, 12)
  })

  it('a recording that does not reach over it', () => {
    const { why, covered } = coverageOf(zone, {
      depth,
      unusable: [],
      range: { from: 0, to: 25 * UNIT },
      maxPitch_m: 3.8e-4
    })
    expect(why).toEqual(['the recording does not reach over it'])
    expect(covered).toBeCloseTo(0.5, 12)
  })
})

describe('proof of contact at its limits', () => {
  const standardization = {
    ...demoStandardization(),
    turn: { x: 1, y: 0 },
    airStep: { x: -2, y: 0, spread: 0.01 },
    wallMotion: 0.1
  }
  const lively = {
    motion: { median: 0.1, counted: 5000, axis: () => ({ angle_rad: 0, ratio: 5 }) },
    channels: { x: 1, y: 1 }
  }
  const stepped = (share: number, deg: number, also: Partial<typeof lively> = {}) => {
    const rad = (deg * Math.PI) / 180
    const step = { x: -2 * share * Math.cos(rad), y: -2 * share * Math.sin(rad) }
    const edges = { entry: 0, exit: 1, entryStep: step, exitStep: step, step, metal: { x: 0, y: 0 } }
    return proveContact(edges, standardization, { ...lively, ...also }).refused.map(({ code }) => code)
  }

  it.each([
    [1, 0, true],
    [0.86, 0, true],
    [0.84, 0, false],
    [1.14, 0, true],
    [1.16, 0, false],
    [1, 9.9, true],
    [1, -9.9, true],
    [1, 10.1, false],
    [1, 180, false]
  ])('a step of %d of the reference at %d°: met %s', (share, deg, met) => {
    const differs = 'examine/contact-differs'
    expect(stepped(share, deg)).toEqual(met ? [] : [differs, differs])
  })

  it('steps under a tenth at both faces are air, and nothing else is said', () => {
    expect(stepped(0.09, 170)).toEqual(['examine/no-contact'])
  })

  it('a wall at less than a fifth of the reference is no wall; a channel that stands still is dead', () => {
    const motion = { ...lively.motion, median: 0.019 }
    expect(stepped(1, 0, { motion })).toEqual(['examine/dead-signal'])
    expect(stepped(1, 0, { motion: { ...lively.motion, median: 0.021 } })).toEqual([])
    expect(stepped(1, 0, { channels: { x: 0, y: 1 } })).toEqual(['examine/dead-signal'])
    // a dead channel is never taken for air
    expect(stepped(0.05, 0, { channels: { x: 0, y: 1 } })).toContain('examine/dead-signal')
    expect(stepped(0.05, 0, { channels: { x: 0, y: 1 } })).not.toContain('examine/no-contact')
  })

  it('the direction of the wall motion counts only where it has one', () => {
    const along = (deg: number, ratio: number) => ({
      motion: { ...lively.motion, axis: () => ({ angle_rad: (deg * Math.PI) / 180, ratio }) }
    })
    expect(stepped(1, 0, along(14, 5))).toEqual([])
    expect(stepped(1, 0, along(-16, 5))).toEqual(['examine/contact-differs'])
    expect(stepped(1, 0, along(60, 2.9))).toEqual([])
  })
})

describe('mean trace', () => {
  it('gives edges at the places where the mean is half way, to the point', () => {
    const builder = new MeanTraceBuilder()
    const level = (at: number) =>
      at < 2000 ? 0 : at < 2400 ? (at - 2000) / 400 : at < 7000 ? 1 : at < 7200 ? (7200 - at) / 200 : 0
    for (let first = 256; first < 256 + 20 * UNIT; first += UNIT) {
      const x = Float64Array.from({ length: UNIT }, (_, i) => level(first + i))
      builder.add(first, 1, { x, y: new Float64Array(UNIT) })
    }
    const edges = findEdges(builder.build())
    if (isRefusal(edges)) throw new Error(edges.found)
    expect(edges.entry).toBeCloseTo(2200, 9)
    expect(edges.exit).toBeCloseTo(7100, 9)
  })

  it('of more revolutions than are kept nothing is said, rather than a part', () => {
    const builder = new MeanTraceBuilder()
    const column = new Float64Array(UNIT)
    for (let k = 0; k <= MOST_TRACED; k++) {
      expect(builder.overflow).toBe(false)
      builder.add(k * UNIT, 1, { x: column, y: column })
    }
    expect(builder.overflow).toBe(true)
    expect(builder.build().at.length).toBe(0)
  })
})

describe('picture', () => {
  const sheetOf = (units: number, step: number) => {
    const perTurn = UNIT / step
    const columns = () => new Float64Array(units * perTurn)
    const sheet = { first: 3 * UNIT, step, perTurn, length: units * perTurn, x: columns(), y: columns() }
    const made = { ...sheet, cx: columns(), cy: columns(), harmonics: new Float64Array(3 * units) }
    for (let unit = 0; unit < units; unit++) made.cy[unit * perTurn + 100 / step] = 0.001 * (unit + 3)
    return made
  }
  const up = { x: 0, y: 1 }

  it.each([1, 2, 4])('holds the largest size of each cell at a step of %i', (step) => {
    const small = pictureOf(sheetOf(7, step), up)
    expect({ rows: small.rows, columns: small.columns, rowFrom: small.rowFrom, rowStep: small.rowStep }).toEqual({
      rows: 7,
      columns: 128,
      rowFrom: 3,
      rowStep: 1
    })
    expect(small.values[2 * 128 + 25]).toBe(0.005)
    expect(small.values.filter((value) => value !== 0).length).toBe(7)
  })

  it('joins rows by their maximum when there are too many', () => {
    const many = sheetOf(800, 4)
    many.cy[497 * 128 + 25] = -2
    const large = pictureOf(many, up)
    expect(large.rowStep).toBe(3)
    expect(large.rows).toBe(267)
    expect(large.values[Math.floor(497 / 3) * 128 + 25]).toBe(2)
    expect(large.values[266 * 128 + 25]).toBe(0.802)
  })
})

describe('extent', () => {
  it('tells a channel that stands still beside one that moves', () => {
    const extent = new Extent()
    expect(extent.width).toBe(0)
    extent.take(Float64Array.of(3, 1))
    extent.take(Float64Array.of(2, 5))
    expect(extent.width).toBe(4)
    expect(stillOf({ x: 0, y: 0 })).toEqual(['x', 'y'])
    expect(stillOf({ x: 1e-5, y: 1 })).toEqual(['x'])
    expect(stillOf({ x: 1, y: 1e-3 })).toEqual([])
  })
})
