import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { generate, type Recording, type TrueFlaw } from '../rehearse/index.ts'
import type { Segment } from '../scan/index.ts'
import { UNIT } from '../signal/index.ts'
import type { Examination } from './index.ts'
import {
  codesOf,
  DEG,
  demoStandardization,
  examine,
  examinedFrom,
  hole,
  type Recorded,
  sceneOf,
  segmentsOf,
  sound
} from './testing/hole.ts'
import { examineTrack, track, trackExamined } from './testing/weld.ts'

const RATE = 12_500
/** how well entry and exit are known beside the truth of the generator */
const SLACK_mm = 0.15

type Damage =
  | { readonly kind: 'unreadable' | 'gap'; readonly from: number; readonly length: number }
  | { readonly kind: 'marks'; readonly from: number; readonly length: number }
  | { readonly kind: 'ends early'; readonly from: number; readonly length: number }

/** The recording as its reader would hand it on with that damage. */
function damaged({ x, y, index, rate_Hz }: Recording, { kind, from, length }: Damage): Segment[] {
  const columns: Recorded = { rate_Hz, x: x.slice(), y: y.slice(), index: index.slice() }
  const to = from + length
  if (kind === 'unreadable') {
    columns.x.fill(Number.NaN, from, to)
    columns.y.fill(Number.NaN, from, to)
  }
  if (kind === 'marks') columns.index!.fill(0, from, to)
  const segments = [...segmentsOf(columns, [from, length, x.length])].filter(
    ({ channels }) => channels[0]!.x.length > 0
  )
  if (kind === 'gap') return segments.filter(({ first }) => first < from || first >= to)
  return kind === 'ends early' ? segments.filter(({ first }) => first < from) : segments
}

/** Depth of the probe at a sample, from the truth of the generator alone. */
function depthAt({ truth }: Recording, sample: number): number {
  const entry = truth.entry_s! * RATE
  const exit = truth.exit_s! * RATE
  return ((sample - entry) / (exit - entry)) * hole.grip_mm
}

const finds = ({ indications }: Examination, flaw: TrueFlaw): boolean =>
  indications.some(
    ({ angle_rad, z_m }) =>
      angle_rad !== 'unknown' &&
      z_m !== 'unknown' &&
      Math.abs(angle_rad / DEG - flaw.angle_deg) < 5 &&
      z_m * 1e3 > flaw.z0_mm - 0.5 &&
      z_m * 1e3 < flaw.z1_mm + 0.5
  )

describe('not examined is never confused with nothing found', () => {
  let recorded: Recording
  let flaw: TrueFlaw

  beforeAll(() => {
    recorded = generate(sceneOf('hole-P04'), 4)
    flaw = recorded.truth.flaws[0]!
  })

  const examinedWith = (damage: Damage) =>
    sound(examinedFrom(damaged(recorded, damage), { rate_Hz: RATE, indexed: true })).examination

  const damage = (kind: Damage['kind']) =>
    fc.record({
      kind: fc.constant(kind),
      from: fc.integer({ min: 5 * 625, max: 55 * 625 }),
      length: fc.integer({ min: 1, max: 6 * 625 })
    }) as fc.Arbitrary<Damage>

  it.each(['unreadable', 'gap'] as const)('%s samples: their zones are not examined, the drop log has them', (kind) => {
    fc.assert(
      fc.property(damage(kind), (one) => {
        const examination = examinedWith(one)
        const last = Math.min(one.from + one.length, recorded.x.length) - 1
        const [z0, z1] = [depthAt(recorded, one.from), depthAt(recorded, last)]
        for (const zone of examination.zones) {
          const inside = z1 > zone.z0_m * 1e3 + SLACK_mm && z0 < zone.z1_m * 1e3 - SLACK_mm
          if (inside) expect(zone.state).toBe('not examined')
          if (zone.state === 'not examined') expect(zone.why.length).toBeGreaterThan(0)
          else expect(zone.why).toEqual([])
        }
        const logged = examination.dropped.filter(({ unit }) => unit === 'sample')
        expect(logged.some(({ from, to }) => from <= one.from && to > last)).toBe(true)
        const there = examination.zones.find(({ zone }) => zone === 'layer 2 mid-bore')!
        if (there.state === 'examined') expect(finds(examination, flaw)).toBe(true)
      }),
      { numRuns: 25, seed: 7 }
    )
  })

  it('a recording that ends early is not examined unless the probe was out again', () => {
    fc.assert(
      fc.property(damage('ends early'), (one) => {
        const examination = examinedWith(one)
        const all = examination.zones.every(({ state }) => state === 'not examined')
        if (depthAt(recorded, one.from) < hole.grip_mm) expect(all).toBe(true)
        if (all) expect(examination.refusals.length).toBeGreaterThan(0)
        else expect(finds(examination, flaw)).toBe(true)
      }),
      { numRuns: 12, seed: 8 }
    )
  })

  it('lost marks: up to three are filled in, more make their zones not examined; never silently', () => {
    fc.assert(
      fc.property(damage('marks'), (one) => {
        const examination = examinedWith(one)
        const there = examination.zones.find(({ zone }) => zone === 'layer 2 mid-bore')!
        if (there.state === 'examined') expect(finds(examination, flaw)).toBe(true)
        const lost = examination.dropped.filter(({ reason }) => reason === 'index marks lost')
        const unsure = examination.zones.filter(({ why }) => why.some((text) => text.includes('index marks lost')))
        if (unsure.length > 0) expect(lost.length).toBeGreaterThan(0)
        if (one.length > 5 * 625) expect(lost.length).toBeGreaterThan(0)
      }),
      { numRuns: 15, seed: 9 }
    )
  })

  it('damage in the air before and after the hole costs nothing', () => {
    const clean = examinedWith({ kind: 'unreadable', from: 0, length: 0 + 1 })
    expect(clean.zones.every(({ state }) => state === 'examined')).toBe(true)
    const after = examinedWith({ kind: 'unreadable', from: recorded.x.length - 3 * 625, length: 100 })
    expect(after.zones.every(({ state }) => state === 'examined')).toBe(true)
    expect(finds(after, flaw)).toBe(true)
  })

  it('the ends that serve as neighborhood only are in the drop log', () => {
    const { dropped } = examine(recorded).examination
    const ends = dropped.filter(({ reason }) => reason.includes('neighborhood'))
    // at the beginning half a revolution for the filter and one for the form's first look, less what the form reaches back
    // over; at the end half a revolution for the filter and what the form reaches over
    // on a grid of every fourth ruler point
    const reach = (4 * Math.ceil(demoStandardization().form.half / 4)) / UNIT
    expect(ends.map(({ from, to }) => to - from)).toEqual([1.5 - reach, 0.5 + reach])
    expect(ends[0]!.from).toBe(0)
  })
})

describe('speed', () => {
  it('out of tolerance makes the place not examined and says so', () => {
    const scene = sceneOf('hole-P01')
    // the speed swings by 20 % every 30 turns: beyond the tolerance of 15 % for some revolutions inside the hole
    const drift = [{ share: 0.2, cycles_per_turn: 1 / 30, phase_turn: 0 }]
    const recorded = generate({ ...scene, motion: { ...scene.motion, drift } }, 3)
    const { examination } = examine(recorded)
    const missed = examination.zones.filter(({ why }) => why.some((text) => text.includes('speed out of tolerance')))
    expect(missed.length).toBeGreaterThan(0)
    expect(missed.every(({ state }) => state === 'not examined')).toBe(true)
    expect(examination.zones.some(({ state }) => state === 'examined')).toBe(true)
    expect(examination.dropped.some(({ reason }) => reason === 'speed out of tolerance')).toBe(true)
    expect(examination.coverage.speed!.most / examination.coverage.speed!.least).toBeGreaterThan(1.3)
  })

  it('a pitch that is too large refuses the whole hole', () => {
    const { examination } = examine(generate(sceneOf('hole-P08'), 3))
    expect(codesOf(examination)).toEqual(['examine/pitch-too-large'])
    expect(examination.zones.every(({ state }) => state === 'not examined')).toBe(true)
  })
})

describe('coverage of a track', () => {
  const flaws = [{ depth_m: 1e-3, from_m: 0.04, to_m: 0.052 }]

  it('a stretch without samples is not examined, and in the drop log', () => {
    const recorded = track({ flaws }, 3)
    const from = 900
    const to = 1300
    const holed = {
      ...recorded,
      x: recorded.x.map((value, i) => (i >= from && i < to ? Number.NaN : value)),
      y: recorded.y.map((value, i) => (i >= from && i < to ? Number.NaN : value))
    }
    const { examination } = examineTrack(holed)
    expect(examination.zones.map(({ state }) => state)).toEqual(['examined', 'not examined', 'examined'])
    const [before, hole, behind] = examination.zones
    expect(hole!.why.join()).toContain('no sample on the track')
    const at = (i: number) => recorded.position![i]!
    // the placing kernel reaches a millimeter to either side
    expect(Math.abs(hole!.z0_m - at(from))).toBeLessThan(1.2e-3)
    expect(Math.abs(hole!.z1_m - at(to))).toBeLessThan(1.2e-3)
    expect([before!.z0_m, before!.z1_m, behind!.z0_m, behind!.z1_m]).toEqual([0, hole!.z0_m, hole!.z1_m, 0.12])
    expect(examination.dropped.some((drop) => drop.from <= from && drop.to >= to)).toBe(true)
  })

  it('a run that is too short or too fast is not examined', () => {
    const recorded = track({ flaws }, 3)
    const short = examineTrack(recorded, { length_mm: 140 }).examination
    expect(short.zones.map(({ state }) => state)).toEqual(['examined', 'not examined'])
    expect(short.zones[1]!.why.join()).toContain('the run reaches from')
    const fast = examineTrack(recorded, { technique: { max_speed_mm_s: 20 } }).examination
    expect(fast.zones.map(({ state }) => state)).toEqual(['not examined'])
    expect(fast.zones[0]!.why.join()).toContain('faster than the technique allows')
  })

  it('a whole sound track is examined and its flaw found', () => {
    const { zones, indications, refusals } = examineTrack(track({ flaws }, 3)).examination
    expect(zones.map(({ state }) => state)).toEqual(['examined'])
    expect(refusals).toEqual([])
    expect(indications.length).toBe(1)
    expect(Math.abs((indications[0]!.z0_m as number) - 0.04)).toBeLessThan(3e-4)
    expect(Math.abs((indications[0]!.z1_m as number) - 0.052)).toBeLessThan(3e-4)
  })

  it('a track without an encoder can not be examined', () => {
    const { position: _, ...bare } = track({ flaws }, 3)
    expect(trackExamined(segmentsOf(bare), bare.rate_Hz)).toMatchObject({ code: 'signal/no-position' })
  })
})
