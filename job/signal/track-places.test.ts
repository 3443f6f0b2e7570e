/** Oracles: positions that are known functions of the time; a channel that is a known function of the position. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type Band, UNIT } from './band.ts'
import { DropLog } from './drops.ts'
import { type PlaceBasis, PositionRuler, type TrackUnit, type Travel } from './index.ts'
import { farthest } from './testing/columns.ts'
import { type Columns, segmentsOf } from './testing/recording.ts'

const band: Band = { low: 0, high: 20 }
const step_m = 0.1e-3
const rate_Hz = 1000

function tracked(columns: Columns, places?: PlaceBasis, lengths: readonly number[] = [500], least_m = 0) {
  const drops = new DropLog()
  const units: TrackUnit[] = []
  const source = { rate_Hz, step_m, band, least_m, ...(places === undefined ? {} : { places }) }
  const ruler = new PositionRuler(source, drops, (unit) => void units.push(unit))
  for (const segment of segmentsOf(columns, lengths)) {
    const taken = ruler.take(segment)
    if (isRefusal(taken)) return taken
  }
  const travel = ruler.end()
  return isRefusal(travel) ? travel : { travel, units, dropped: drops.entries() }
}

function sound(...args: Parameters<typeof tracked>): {
  readonly travel: Travel
  readonly units: readonly TrackUnit[]
  readonly dropped: readonly { readonly reason: string; readonly samples: number }[]
} {
  const out = tracked(...args)
  if (isRefusal(out)) throw new Error(`${out.code}: ${out.found}`)
  return out as ReturnType<typeof sound>
}

const codeOf = (...args: Parameters<typeof tracked>): string => {
  const out = tracked(...args)
  return isRefusal(out) ? out.code : 'read'
}

/** 50 mm/s, two cycles a unit. */
const speed_m_s = 0.05
const samples = 4000
const at = (i: number) => (i / rate_Hz) * speed_m_s
const wave = (place: number) => Math.sin((2 * Math.PI * 2 * place) / (UNIT * step_m))
const column = (f: (i: number) => number) => Float64Array.from({ length: samples }, (_, i) => f(i))
const even = { x: column((i) => wave(at(i))), y: column((i) => -wave(at(i))) }
const encoded = { ...even, position: column(at) }

describe('places along a track', () => {
  it('by the time at a stated speed are those of an encoder that runs evenly', () => {
    const [by, told] = [sound(even, { by: 'speed', speed_m_s }), sound(encoded)]
    expect(by.units.length).toBe(told.units.length)
    for (const [k, { signal }] of by.units.entries())
      expect(farthest(signal.x, told.units[k]!.signal.x)).toBeLessThan(1e-9)
  })

  it('by marks lie evenly between two of them, whatever the speed was from mark to mark', () => {
    // marks every 30 mm; the second stretch takes twice as long
    const times = [200, 800, 2000, 2600]
    const at_m = [0.03, 0.06, 0.09, 0.12]
    const place = (i: number) => {
      const k = Math.max(
        0,
        Math.min(
          2,
          times.findLastIndex((time) => time <= i)
        )
      )
      return at_m[k]! + ((i - times[k]!) / (times[k + 1]! - times[k]!)) * 0.03
    }
    const index = column((i) => (times.some((time) => i >= time && i < time + 20) ? 4 : 0.1))
    const columns = { x: column((i) => wave(place(i))), y: column(() => 0.3), index }
    const marks = { by: 'marks', at_m, level: 2 } as const
    const { travel, units, dropped } = sound(columns, marks)
    expect(travel.from * step_m).toBeCloseTo(0.03, 9)
    expect(travel.to * step_m).toBeCloseTo(0.12 - 0.03 / 600, 9)
    const unplaced = dropped.filter(({ reason }) => reason === 'not between two marks')
    expect(unplaced.map((drop) => drop.samples)).toEqual([200, samples - 2600])
    const middle = units.find(({ number }) => number === 1)!
    const expected = Float64Array.from(middle.signal.x, (_, n) => wave((UNIT + n) * step_m))
    expect(farthest(middle.signal.x, expected)).toBeLessThan(0.03)
    for (const cut of [1, 77]) expect(sound(columns, marks, [cut])).toEqual({ travel, units, dropped })
    expect(codeOf(columns, { ...marks, at_m: at_m.slice(0, 3) })).toBe('signal/marks-differ')
    expect(codeOf(columns, { ...marks, at_m: [...at_m, 0.15] })).toBe('signal/marks-differ')
    expect(codeOf(even, marks)).toBe('signal/no-position')
  })

  it('the absolute channel is placed as the signal is, and its clipping counted', () => {
    const absolute = column((i) => 1 + 0.1 * wave(at(i)))
    const { units, travel } = sound({ ...encoded, absolute })
    for (const { absolute: placed, signal, empty } of units.slice(1, -1)) {
      expect(empty).toEqual([])
      const expected = signal.x.map((value) => 1 + 0.1 * value)
      expect(farthest(placed!, expected)).toBeLessThan(1e-9)
    }
    expect(travel.absoluteClipped).toBe(0)
    const cut = absolute.map((value) => Math.min(value, 1.05))
    expect(sound({ ...encoded, absolute: cut }).travel.absoluteClipped).toBeGreaterThan(100)
    expect(sound(encoded).units.every((unit) => unit.absolute === undefined)).toBe(true)
  })

  it('knows the speed over each eighth of a unit', () => {
    const slower = column((i) => (i < 2000 ? at(i) : at(2000) + 0.5 * (at(i) - at(2000))))
    const { units } = sound({ ...even, position: slower })
    const speeds = units.flatMap(({ speeds: eighths }) => [...eighths])
    const turn = Math.floor(at(2000) / step_m / (UNIT / 8))
    for (const speed of speeds.slice(0, turn)) expect(speed).toBeCloseTo(0.05, 4)
    for (const speed of speeds.slice(turn + 1, turn + 8)) expect(speed).toBeCloseTo(0.025, 4)
  })

  it('a run shorter than the field is none', () => {
    const first = (n: number) => ({
      ...even,
      x: even.x.slice(0, n),
      y: even.y.slice(0, n),
      position: column(at).slice(0, n)
    })
    expect(codeOf(first(40), undefined, [500], 2.4e-3)).toBe('signal/too-short')
    expect(codeOf(first(60), undefined, [500], 2.4e-3)).toBe('read')
  })
})

describe('an encoder that stands', () => {
  const standing = (moves: boolean) => {
    const position = column((i) => (i < 1500 ? at(i) : i < 2500 ? at(1500) : at(i - 1000)))
    const place = (i: number) => (moves || i < 1500 ? at(i) : i < 2500 ? at(1500) : at(i - 1000))
    return { x: column((i) => wave(place(i))), y: column((i) => -wave(place(i))), position }
  }

  it('is told with how far the signal moved meanwhile', () => {
    const [paused] = sound(standing(false)).travel.stood
    expect(paused!.samples).toBeGreaterThanOrEqual(999)
    expect(paused!.at * step_m).toBeCloseTo(at(1500), 6)
    expect(paused!.moved.x).toBeLessThan(1e-12)
    const [lost] = sound(standing(true)).travel.stood
    expect(lost!.moved.x).toBeGreaterThan(1)
  })

  it('at the beginning and at the end is no stand', () => {
    const position = column((i) => (i < 1000 ? 0 : i < 3000 ? at(i - 1000) : at(2000)))
    expect(sound({ ...even, position }).travel.stood).toEqual([])
  })
})

describe('an encoder that jumps', () => {
  it('and comes back is left out; one that stays is followed, with a gap', () => {
    const glitch = encoded.position.map((p, i) => (i === 1200 ? p + 0.02 : p))
    const { travel, dropped, units } = sound({ ...encoded, position: glitch })
    expect(dropped).toMatchObject([{ reason: 'position jumped', samples: 1 }])
    expect(travel.to).toBeCloseTo(at(samples - 1) / step_m, 9)
    expect(units.slice(0, -1).flatMap(({ empty }) => empty)).toEqual([])
    const jumped = sound({ ...encoded, position: encoded.position.map((p, i) => (i < 2000 ? p : p + 0.03)) })
    expect(jumped.units.flatMap(({ empty }) => empty).length).toBeGreaterThan(250)
    expect(jumped.travel.to).toBeCloseTo((at(samples - 1) + 0.03) / step_m, 9)
  })
})
