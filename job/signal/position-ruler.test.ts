/** Oracles: tracks whose values are known functions of the position; bitwise equality for any cutting. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Segment } from '../scan/index.ts'
import { type Band, knotSpacing, UNIT } from './band.ts'
import { Conditioning } from './conditioned.ts'
import { DropLog, type Dropped } from './drops.ts'
import { PositionRuler, type TrackUnit, type Travel } from './position-ruler.ts'
import { farthest } from './testing/columns.ts'
import { type Columns, segmentsOf } from './testing/recording.ts'

const band: Band = { low: 0, high: 20 }
const step_m = 0.1e-3
const source = { rate_Hz: 1000, step_m, band }

interface Tracked {
  readonly travel: Travel
  readonly units: readonly TrackUnit[]
  readonly dropped: readonly Dropped[]
}

function tracked(segments: Iterable<Segment>): Result<Tracked> {
  const drops = new DropLog()
  const units: TrackUnit[] = []
  const ruler = new PositionRuler(source, drops, (unit) => void units.push(unit))
  for (const segment of segments) {
    const taken = ruler.take(segment)
    if (isRefusal(taken)) return taken
  }
  const travel = ruler.end()
  return isRefusal(travel) ? travel : { travel, units, dropped: drops.entries() }
}

function sound(columns: Columns, lengths: readonly number[] = [500]): Tracked {
  const out = tracked(segmentsOf(columns, lengths))
  if (isRefusal(out)) throw new Error(`${out.code}: ${out.found}`)
  return out
}

/** Cycles a unit of 512 points: within the band, so that placing and conditioning give it back. */
const CYCLES = [2, 5, 9]
const value = (point: number, of: (angle: number) => number) =>
  CYCLES.reduce((sum, k) => sum + of((2 * Math.PI * k * point) / UNIT + k), 0)

/** 60 mm/s with a swing of a third, from 13 mm on: about 0.6 points a sample. */
const positionAt = (i: number) => 13e-3 + 60e-6 * (i + 20 * Math.sin(i / 60))
const along = (samples: number, sense = 1, offset = 0): Required<Pick<Columns, 'x' | 'y' | 'position'>> => {
  const position = Float64Array.from({ length: samples }, (_, i) => offset + sense * positionAt(i))
  const of = (f: (angle: number) => number) => position.map((p) => value((p * sense) / step_m, f))
  return { x: of(Math.cos), y: of(Math.sin), position }
}

const base = along(5000)

describe('the ruler of a track', () => {
  const { travel, units, dropped } = sound(base)

  it('gives units in order, and where the track begins and ends', () => {
    expect(units.map(({ number }) => number)).toEqual(units.map((_, k) => k))
    expect(travel).toMatchObject({ samples: 5000, sense: 1, clipped: 0 })
    expect(travel.from).toBeCloseTo(positionAt(0) / step_m, 9)
    expect(travel.to).toBeCloseTo(positionAt(4999) / step_m, 9)
    expect(units.at(-1)!.number).toBe(Math.floor(travel.to / UNIT))
    expect(dropped).toEqual([])
  })

  it('names the points that no sample reached: those beside the track', () => {
    const empty = units.flatMap((unit) => [...unit.empty])
    const reach = 2 * knotSpacing(band)
    const beside = Array.from({ length: units.length * UNIT }, (_, n) => n).filter(
      (n) => n <= travel.from - reach || n >= travel.to + reach
    )
    expect(empty).toEqual(beside)
    expect(beside.length).toBeGreaterThan(100)
  })

  it('knows the mean speed of each unit', () => {
    for (const { speed } of units.slice(1, -1)) expect(Math.abs(speed / 60e-3 - 1)).toBeLessThan(0.1)
  })

  it('gives back what lies along the track, whatever the speed does', () => {
    const conditioned: { first: number; x: Float64Array; y: Float64Array }[] = []
    const conditioning = new Conditioning<'position', TrackUnit>(band, ({ signal }) => void conditioned.push(signal))
    for (const unit of units) conditioning.take(unit)
    const law = (k: number) => Math.exp(-0.5 * Math.LN2 * (k / band.high) ** 4)
    for (const { first, x, y } of conditioned.filter((one) => one.first > 600 && one.first < 2000)) {
      const expected = (of: (angle: number) => number) =>
        x.map((_, i) => CYCLES.reduce((sum, k) => sum + law(k) * of((2 * Math.PI * k * (first + i)) / UNIT + k), 0))
      expect(farthest(x, expected(Math.cos)) / 3).toBeLessThan(0.01)
      expect(farthest(y, expected(Math.sin)) / 3).toBeLessThan(0.01)
    }
    expect(conditioned.length).toBeGreaterThan(4)
  })

  it('runs in the sense of travel, backward and below zero too', () => {
    const back = sound(along(5000, -1, -40e-3))
    expect(back.travel.sense).toBe(-1)
    expect(back.travel.from).toBeCloseTo((40e-3 + positionAt(0)) / step_m, 9)
    const below = sound(along(5000, 1, -100e-3))
    expect(below.units[0]!.number).toBe(Math.floor((positionAt(0) - 100e-3) / step_m / UNIT))
    expect(below.units[0]!.number).toBeLessThan(0)
  })
})

describe('a track with faults', () => {
  it('that runs back leaves out what was passed before, and logs it', () => {
    const position = base.position.map((p, i) => (i >= 2000 && i < 2030 ? base.position[2000]! - 1e-3 : p))
    const { units, dropped } = sound({ ...base, position })
    expect(dropped).toEqual([{ from: 2000, to: 2030, unit: 'sample', samples: 30, reason: 'position ran back' }])
    expect(units.length).toBe(sound(base).units.length)
  })

  it('with a gap says which points are empty', () => {
    const parts = [...segmentsOf(base, [100])].filter(({ first }) => first < 2000 || first >= 2300)
    const out = tracked(parts)
    if (isRefusal(out)) throw new Error(out.found)
    const reach = 2 * knotSpacing(band)
    const [a, b] = [positionAt(1999) / step_m, positionAt(2300) / step_m]
    const inside = out.units.flatMap(({ empty }) => empty.filter((n) => n > 300 && n < 2500))
    expect(inside[0]).toBe(Math.ceil(a + reach))
    expect(inside.at(-1)).toBe(Math.floor(b - reach))
    expect(out.dropped[0]).toMatchObject({ from: 2000, to: 2300, reason: 'gap in the recording' })
  })

  it('cut anywhere gives the same, to the bit', () => {
    const x = base.x.map((v, i) => (i === 700 ? 50 : i > 900 && i < 920 ? Number.NaN : v))
    const y = base.y.map((v, i) => (i > 900 && i < 920 ? Number.NaN : v))
    const columns = { x, y, position: base.position.map((p, i) => (i === 3000 ? p - 2e-3 : p)) }
    const whole = sound(columns, [5000])
    expect(whole.dropped.map(({ reason }) => reason).sort()).toEqual([
      'position ran back',
      'sample could not be read',
      'spike'
    ])
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1 }), (lengths) => {
        expect(sound(columns, lengths)).toEqual(whole)
      }),
      { numRuns: 12 }
    )
    expect(sound(columns, [1])).toEqual(whole)
  })
})

describe('refusals', () => {
  const code = (columns: Columns) => {
    const out = tracked(segmentsOf(columns, [500]))
    return isRefusal(out) ? out.code : 'read'
  }

  it('signal/no-position: no column, or one that never advances', () => {
    expect(code({ x: base.x, y: base.y })).toBe('signal/no-position')
    expect(code({ ...base, position: base.position.map(() => 0.02) })).toBe('signal/no-position')
    expect(code({ ...base, position: base.position.map(() => Number.NaN) })).toBe('signal/no-position')
  })

  it('signal/too-short: less than the width of the kernel', () => {
    const first = (n: number) => ({ x: base.x.slice(0, n), y: base.y.slice(0, n), position: base.position.slice(0, n) })
    expect(code(first(12))).toBe('signal/too-short')
    expect(code(first(40))).toBe('read')
  })
})

describe('an encoder that leaps', () => {
  it('is not believed: the sample is left out and logged, the track is as without it', () => {
    const position = base.position.slice()
    position[2500] = 1e6
    const leapt = sound({ ...base, position })
    expect(leapt.dropped).toContainEqual(
      expect.objectContaining({ from: 2500, to: 2501, samples: 1, reason: 'position jumped' })
    )
    expect(leapt.units).toHaveLength(sound(base).units.length)
  })
})
