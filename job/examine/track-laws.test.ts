/** Laws of the examination of a track: what must change nothing in it, and what has to be told. Invented throughout. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { generateTrack, type TrackPaint, type TrackScene } from '../rehearse/index.ts'
import type { Recorded } from './testing/hole.ts'
import {
  evenPaint,
  examinePainted,
  parentOf,
  parentRun,
  shimmed,
  shimmedStandardization,
  trackScene
} from './testing/weld.ts'

const paint: TrackPaint = { ...evenPaint(1.1), swing: { mm: 0.3, every_m: 0.35 } }
const scene: TrackScene = {
  ...trackScene,
  length_m: 0.4,
  paint,
  flaws: [
    { depth_m: 0.7e-3, from_m: 0.06, to_m: 0.072 },
    { depth_m: 1.4e-3, from_m: 0.2, to_m: 0.23 },
    { depth_m: 1e-3, from_m: 0.33, to_m: 0.336 }
  ],
  nuisances: [{ kind: 'permeability change', at_m: 0.15, width_m: 0.03, size: 0.4, direction_rad: 2.9 }]
}
const parent = parentOf(parentRun(paint))
const recorded = generateTrack(scene, 3)
const examined = (one: Recorded, change: Parameters<typeof examinePainted>[1] = {}) =>
  examinePainted(one, { length_mm: 400, parent, ...change })

const told = (one: Recorded, change: Parameters<typeof examinePainted>[1] = {}) =>
  examined(one, change).examination.indications.map(({ z0_m, z1_m, size, class: is }) => ({
    from_mm: 1e3 * (z0_m as number),
    to_mm: 1e3 * (z1_m as number),
    depth_mm: size.depth_mm!,
    is
  }))

const base = told(recorded)

function isSame(other: ReturnType<typeof told>, { mm, depth }: { readonly mm: number; readonly depth: number }): void {
  expect(other.map(({ is }) => is)).toEqual(base.map(({ is }) => is))
  other.forEach(({ from_mm, to_mm, depth_mm }, i) => {
    expect(Math.abs(from_mm - base[i]!.from_mm)).toBeLessThan(mm)
    expect(Math.abs(to_mm - base[i]!.to_mm)).toBeLessThan(mm)
    expect(Math.abs(depth_mm - base[i]!.depth_mm)).toBeLessThan(depth)
  })
}

describe('what changes nothing in a track', () => {
  it('all three flaws are found to begin with', () => {
    expect(base.map(({ is }) => is)).toEqual(['relevant', 'relevant', 'relevant'])
  })

  it('cutting, to the bit', () => {
    const textOf = (lengths: readonly number[]) =>
      JSON.stringify(examinePainted(recorded, { length_mm: 400, parent }, lengths))
    const whole = textOf([recorded.x.length])
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 6000 }), { minLength: 1, maxLength: 8 }),
        (lengths) => textOf(lengths) === whole
      ),
      { numRuns: 6 }
    )
    expect(textOf([1]) === whole).toBe(true)
  })

  it('the speed, and how it swings', () => {
    for (const speed of [
      { mean_m_s: 0.015, swing: 0.1, swing_m: 0.05 },
      { mean_m_s: 0.045, swing: 0.3, swing_m: 0.13 }
    ])
      isSame(told(generateTrack({ ...scene, speed }, 3)), { mm: 0.3, depth: 0.06 })
  })

  it('gain, rotation and operating point of the instrument, the same for block and track', () => {
    const instrument = { gain: 3.1, rotation_rad: 2.2, x: -1.4, y: 0.9 }
    const standardization = shimmed({ instrument })
    const there = parentOf(parentRun(paint, { instrument }), standardization)
    isSame(told(generateTrack({ ...scene, instrument }, 3), { standardization, parent: there }), {
      mm: 0.1,
      depth: 0.03
    })
  })

  it('an offset of the operating point on the track alone', () => {
    const offset = { ...recorded, x: recorded.x.map((x) => x + 0.7), y: recorded.y.map((y) => y - 0.4) }
    isSame(told(offset), { mm: 1e-6, depth: 1e-3 })
  })

  it('where the track begins to count, and which way it is run', () => {
    const back = (column: Float64Array): Float64Array => Float64Array.from(column).reverse()
    const reversed = {
      ...recorded,
      x: back(recorded.x),
      y: back(recorded.y),
      position: back(recorded.position),
      absolute: back(recorded.absolute!)
    }
    const other = told(reversed).sort((a, b) => a.from_mm - b.from_mm)
    isSame(other, { mm: 0.1, depth: 0.03 })
  })

  it('places by time at a stated speed, for a run that is even', () => {
    const speed = { mean_m_s: 0.03, swing: 0, swing_m: 0.05 }
    const even = generateTrack({ ...scene, speed }, 3)
    const { position: _, ...without } = even
    isSame(told(without, { places: { by: 'speed', speed_m_s: 0.03 } }), { mm: 0.3, depth: 0.06 })
  })
})

describe('an encoder in trouble', () => {
  const states = (one: Recorded) => examined(one).examination.zones.map(({ state }) => state)
  const at = (i: number): number => recorded.position[i]!

  it('that stands while the signal goes on: places behind are not known', () => {
    const from = recorded.position.findIndex((p) => p > 0.198)
    const to = recorded.position.findIndex((p) => p > 0.214)
    const position = recorded.position.map((p, i) => (i < from ? p : i < to ? at(from) : p - (at(to) - at(from))))
    const { zones } = examined({ ...recorded, position }).examination
    const lost = zones.find(({ why }) => why.join().includes('the encoder stood'))
    expect(lost?.state).toBe('not examined')
    expect(Math.abs(1e3 * lost!.z0_m - 198)).toBeLessThan(3)
    expect(zones[0]).toMatchObject({ state: 'examined', z0_m: 0 })
  })

  it('that stands with the probe is a pause, and told', () => {
    const pause = recorded.position.findIndex((p) => p > 0.27)
    const paused = (column: Float64Array, jitter = 0) =>
      Float64Array.from({ length: column.length + 800 }, (_, i) =>
        i < pause ? column[i]! : i < pause + 800 ? column[pause]! + jitter * Math.sin(i) : column[i - 800]!
      )
    const one = {
      ...recorded,
      x: paused(recorded.x, 1e-3),
      y: paused(recorded.y, 1e-3),
      position: paused(recorded.position),
      absolute: paused(recorded.absolute!)
    }
    const { zones, notes } = examined(one).examination
    expect(zones.map(({ state }) => state)).toEqual(['examined'])
    expect(notes.some((note) => note.startsWith('the position stood at 270'))).toBe(true)
    isSame(told(one), { mm: 0.3, depth: 0.05 })
  })

  it('that runs back and on again changes nothing; one that jumps leaves a stretch not examined', () => {
    const turn = recorded.position.findIndex((p) => p > 0.28)
    const back = recorded.position.findIndex((p) => p > 0.26)
    const order = [
      ...Array.from({ length: turn }, (_, i) => i),
      ...Array.from({ length: turn - back }, (_, i) => turn - 1 - i),
      ...Array.from({ length: recorded.x.length - back }, (_, i) => back + i)
    ]
    const of = (column: Float64Array) => Float64Array.from(order, (i) => column[i]!)
    const again = {
      ...recorded,
      x: of(recorded.x),
      y: of(recorded.y),
      position: of(recorded.position),
      absolute: of(recorded.absolute!)
    }
    expect(states(again)).toEqual(['examined'])
    isSame(told(again), { mm: 0.1, depth: 0.02 })
    const from = recorded.position.findIndex((p) => p > 0.28)
    const to = recorded.position.findIndex((p) => p > 0.3)
    const kept = [...recorded.x.keys()].filter((i) => i < from || i >= to)
    const cut = (column: Float64Array) => Float64Array.from(kept, (i) => column[i]!)
    const jumped = {
      ...recorded,
      x: cut(recorded.x),
      y: cut(recorded.y),
      position: cut(recorded.position),
      absolute: cut(recorded.absolute!)
    }
    expect(states(jumped)).toEqual(['examined', 'not examined', 'examined'])
  })

  it('a track shorter than the probe is refused', () => {
    const short = recorded.position.findIndex((p) => p > 2e-3)
    const cut = (column: Float64Array) => column.slice(0, short)
    const one = { ...recorded, x: cut(recorded.x), y: cut(recorded.y), position: cut(recorded.position) }
    expect(() => examined({ ...one, absolute: cut(recorded.absolute!) })).toThrow('signal/too-short')
  })
})

describe('an absolute channel in trouble', () => {
  it('missing on the track, with no coating stated: not examined; stated: counted with, and said', () => {
    const { absolute: _, ...without } = recorded
    const none = examined(without).examination
    expect(none.zones.map(({ state }) => state)).toEqual(['not examined'])
    const stated = examined(without, { coating_mm: 1.1, standardization: shimmedStandardization() }).examination
    expect(stated.coating).toMatchObject({ basis: 'given', given_mm: 1.1 })
    expect(stated.notes.join()).toContain('given, not measured')
    expect(stated.indications.map(({ coating }) => coating?.basis)).toEqual(['given', 'given', 'given'])
  })

  it('that can not be read for a stretch leaves that stretch not examined; at a limit, the track', () => {
    const with_ = (value: number) => ({
      ...recorded,
      absolute: recorded.absolute!.map((a, i) => {
        const at = recorded.position[i]!
        return at > 0.26 && at < 0.28 ? value : a
      })
    })
    const { zones } = examined(with_(Number.NaN)).examination
    expect(zones.map(({ state }) => state)).toEqual(['examined', 'not examined', 'examined'])
    expect(zones[1]!.why.join()).toContain('absolute channel not read')
    const limited = examined(with_(9)).examination
    expect(limited.refusals.map(({ code }) => code)).toEqual(['examine/clipped'])
  })
})
