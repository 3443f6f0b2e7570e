/** Oracle: the feed and the truth of the generator. */
import { randomFrom } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { beforeAll, describe, expect, it } from 'vitest'
import {
  type DrawnHole,
  drawBlank,
  drawFlawed,
  drawSetup,
  generate,
  type HoleScene,
  handFeed,
  SEEDS,
  type Setup,
  type TrueFlaw,
  underCondition
} from '../rehearse/index.ts'
import { depthOf } from './depth.ts'
import type { Examination, Indication } from './index.ts'
import { byHand, longestUnpassed, passesAt, pointsOf, spliced, trueRatio } from './testing/hand-feed.ts'
import {
  codesOf,
  DEG,
  demoStandardization,
  examine,
  examinedFrom,
  type HoleChange,
  hole,
  type Recorded,
  sceneOf,
  segmentsOf,
  sound,
  standardizationFrom,
  technique
} from './testing/hole.ts'

const P0 = { x: 0, y: 0 }

const angleOff = ({ angle_rad }: Indication, flaw: TrueFlaw): number => {
  const turns = ((angle_rad as number) / DEG - flaw.angle_deg) / 360
  return 360 * Math.abs(turns - Math.round(turns))
}

const at = ({ indications }: Examination, flaw: TrueFlaw) => indications.filter((one) => angleOff(one, flaw) <= 5)
const sentences = ({ evidence }: Indication) => evidence.map(({ sentence }) => sentence).join(' ')

function expectWithin(one: Indication, flaw: TrueFlaw): void {
  const middle = 0.5e-3 * (flaw.z0_mm + flaw.z1_mm)
  expect(one.z0_m as number).toBeLessThanOrEqual(middle)
  expect(one.z1_m as number).toBeGreaterThanOrEqual(middle)
  expect(one.z_m).toBeCloseTo(0.5 * ((one.z0_m as number) + (one.z1_m as number)), 12)
}

/** No zone counts as examined where the true feed left more than the largest pitch between two passes. */
function expectTrulyCovered({ zones }: Examination, scene: HoleScene, maxPitch_mm: number): void {
  for (const zone of zones) {
    if (zone.state === 'not examined') expect(zone.why.length).toBeGreaterThan(0)
    else expect(longestUnpassed(scene, zone)).toBeLessThanOrEqual(maxPitch_mm * 1e-3 + 1e-9)
  }
}

describe('drawn set-ups, fed through and back', () => {
  // one layer or two whose joint shows in the mean, as the technique has to know it
  const numbers = [8, 12] as const

  function examinedBy(setup: Setup, drawn: DrawnHole, standardization: HoleChange['standardization']) {
    const hand = byHand('through and back', 1.02 * trueRatio(drawn.scene))
    const change = {
      technique: { ...setup.technique, ...hand, max_pitch_mm: 1 },
      hole: setup.hole,
      equipment: setup.equipment,
      ...(standardization === undefined ? {} : { standardization })
    }
    return examine(generate(drawn.scene, drawn.seed), change).examination
  }

  it.each(numbers)('set-up %i: a crack is found in both strokes, its depth in the band; a blank hole has none', (k) => {
    const setup = drawSetup(SEEDS.setups, k)
    const standardization = standardizationFrom(generate(setup.referenceScene, setup.referenceSeed), setup)
    let covered = 0
    for (const seed of [301, 302, 303, 304]) {
      const place = seed % 2 === 0 ? ('mid-bore' as const) : ('corner' as const)
      const flawed = drawFlawed(setup, seed, { kind: 'crack', place, depth_mm: [0.6, 1.1] })
      const drawn = underCondition(setup, flawed, 'hand feed')
      const examination = examinedBy(setup, drawn, standardization)
      expect(codesOf(examination)).toEqual([])
      const [flaw] = drawn.truth.flaws
      const [one, ...more] = at(examination, flaw!)
      expect(more).toEqual([])
      expectWithin(one!, flaw!)
      expect(sentences(one!)).toContain('Met in both strokes')
      expect(one!.measured).not.toHaveProperty('rows')
      expect(one!.measured).not.toHaveProperty('extent_m')
      expect(one!.size.extent).toContain('no scale along the axis')
      expectTrulyCovered(examination, drawn.scene, 1)
      covered += examination.zones.filter(({ state }) => state === 'examined').length
    }
    expect(covered).toBeGreaterThan(0)
    const blanks = [305, 306, 307, 308].map((seed) => underCondition(setup, drawBlank(setup, seed), 'hand feed'))
    const nothing = blanks.map((blank) => examinedBy(setup, blank, standardization))
    const told = nothing.filter((examination) => codesOf(examination).length === 0)
    expect(told.length).toBeGreaterThan(0)
    for (const { indications } of told) expect(indications.filter((one) => one.class === 'relevant')).toEqual([])
  })
})

describe('a hole of three layers, fed by hand', () => {
  const like = sceneOf('hole-P04')
  // joints that show clearly in the mean over a revolution: those of the demonstration are on the verge of it
  const plain: HoleScene = { ...like, joints: like.joints.map((joint) => ({ ...joint, size: 3 * joint.size })) }
  const form = {
    ...{ grip_m: 8.1e-3, pitch_m: 2e-4, before_m: 2.4e-3, beyond_m: 2.4e-3, dwell_turn: 3, reversal_m: 0 },
    ...{ unevenness: 2, out: true }
  }
  const fed = (seed: string, change: Partial<typeof form> = {}): HoleScene => ({
    ...plain,
    motion: { ...plain.motion, feed: handFeed({ ...form, ...change }, randomFrom(seed)) }
  })
  const scene = fed('through')
  const ratio = 1.02 * trueRatio(scene)
  const change: HoleChange = { technique: { ...byHand('through and back', ratio), max_pitch_mm: 0.8 } }
  let whole: Recorded
  let without: Recorded
  let flaw: TrueFlaw

  beforeAll(() => {
    const recorded = generate(scene, 4)
    whole = recorded
    flaw = recorded.truth.flaws[0]!
    without = generate({ ...scene, flaws: [] }, 4)
  })

  it('both strokes are one indication with its other sighting kept, never across a joint', () => {
    let told = 0
    for (const seed of ['a', 'b', 'c', 'd', 'e', 'f']) {
      const own = fed(seed)
      const by = byHand('through and back', 1.02 * trueRatio(own))
      const { examination } = examine(generate(own, 4), { technique: { ...by, max_pitch_mm: 0.8 } })
      // where the hand was so slow or fast that joints are not told, that is refused
      if (codesOf(examination).length > 0) {
        expect(codesOf(examination)).toEqual(['examine/strokes-untold'])
        continue
      }
      told++
      const [one, ...more] = at(examination, flaw)
      expect(more).toEqual([])
      expectWithin(one!, flaw)
      expect(one!.layer).toBe(2)
      expect(one!.z0_m as number).toBeGreaterThanOrEqual(2e-3)
      expect(one!.z1_m as number).toBeLessThanOrEqual(5.6e-3)
      expect(one!.class).toBe('relevant')
      expect(sentences(one!)).toMatch(/Met in both strokes: also (going in|coming out) at revolution/)
      expectTrulyCovered(examination, own, 0.8)
      expect(examination.zones.some(({ state }) => state === 'examined')).toBe(true)
      const { axial, axialUncertainty_m } = examination.position
      expect(axial).toContain('hand feed by strokes')
      const widest = Math.max(...examination.indications.map(({ z0_m, z1_m }) => (z1_m as number) - (z0_m as number)))
      expect(axialUncertainty_m as number).toBeGreaterThan(0)
      expect(axialUncertainty_m as number).toBeLessThanOrEqual(0.5 * 8.1e-3 + 1e-12)
      expect(widest).toBeLessThanOrEqual(8.1e-3 + 1e-12)
    }
    expect(told).toBeGreaterThanOrEqual(3)
  })

  it.each([
    ['going in only', true],
    ['coming out only', false]
  ] as const)('met %s it is undecided, and says so', (words, isFirst) => {
    const recorded = isFirst ? spliced(scene, whole, without) : spliced(scene, without, whole)
    const { examination } = examine(recorded, change)
    expect(codesOf(examination)).toEqual([])
    const [one, ...more] = at(examination, flaw)
    expect(more).toEqual([])
    expectWithin(one!, flaw)
    expect(one!.class).toBe('undecided')
    expect(sentences(one!)).toContain(`Met ${words}`)
    expect(one!.proposal).toContain('undecided')
  })

  it('contact has to be proven in each stroke', () => {
    expect(examine(whole, change).examination.coverage.contact.map(({ check }) => check)).toEqual(
      expect.arrayContaining([
        'size of the step at the entry face, in-stroke',
        'size of the step at the exit face, in-stroke',
        'size of the step at the exit face, out-stroke',
        'size of the step at the entry face, out-stroke',
        'motion of the wall signal, in-stroke',
        'motion of the wall signal, out-stroke'
      ])
    )
    // steps alone do not prove a live probe: a stroke whose wall neither turns past nor is rough
    const wall = { ...scene.wall, eccentricity_m: 0, ovality_m: 0, roughness: { rms_m: 0, length_m: 1e-3 } }
    const noise = { ...scene.noise, white: 0.002, band: { ...scene.noise.band, rms: 0 } }
    const still = generate({ ...scene, flaws: [], wall, noise }, 4)
    const own = demoStandardization()
    const livelier = { ...own, wallMotion: 3 * own.wallMotion }
    for (const [recorded, stroke, other] of [
      [spliced(scene, whole, still), 'out-stroke', 'in-stroke'],
      [spliced(scene, still, whole), 'in-stroke', 'out-stroke']
    ] as const) {
      const { examination } = examine(recorded, { ...change, standardization: livelier })
      expect(codesOf(examination)).toEqual(['examine/dead-signal'])
      const found = examination.refusals.map((one) => one.found).join()
      expect(found).toContain(`motion of the wall signal, ${stroke}`)
      expect(found).not.toContain(other)
      expect(examination.zones.every(({ state }) => state === 'not examined')).toBe(true)
    }
    const louder = examine({ ...whole, x: whole.x.map((x) => 1.4 * x), y: whole.y.map((y) => 1.4 * y) }, change)
    expect(codesOf(louder.examination)).toEqual(['examine/contact-differs'])
    for (const stroke of ['in-stroke', 'out-stroke'])
      expect(louder.examination.refusals.map((one) => one.found).join()).toContain(stroke)
  })

  it('too fast by counting: not examined, and by how much', () => {
    const { examination } = examine(whole, { technique: { ...byHand('through and back', ratio), max_pitch_mm: 0.25 } })
    expect(examination.zones.every(({ state }) => state === 'not examined')).toBe(true)
    expect(examination.zones[0]!.why.join()).toMatch(/by counting an advance of up to 0\.\d\d mm a revolution/)
  })

  it('one way: nothing confirms it', () => {
    const own = fed('one way', { out: false })
    const { examination } = examine(generate(own, 4), {
      technique: { ...byHand('one way', 1.02 * trueRatio(own)), max_pitch_mm: 0.8 }
    })
    expect(codesOf(examination)).toEqual([])
    const [one, ...more] = at(examination, flaw)
    expect(more).toEqual([])
    expectWithin(one!, flaw)
    expect(one!.class).toBe('undecided')
  })

  it('turned inside: what lies behind the last joint met is not examined', () => {
    const pitch = 2e-4
    const points = [
      { turn: 0, z_m: -2.4e-3 },
      { turn: 6.1e-3 / pitch, z_m: 3.7e-3 },
      { turn: 6.1e-3 / pitch + 6, z_m: 3.7e-3 },
      { turn: 2 * (6.1e-3 / pitch) + 6, z_m: -2.4e-3 }
    ]
    const own: HoleScene = { ...plain, motion: { ...plain.motion, feed: { kind: 'profile', points } } }
    const { examination } = examine(generate(own, 4), {
      technique: { ...byHand('turned inside', 1.05), max_pitch_mm: 0.8 }
    })
    expect(codesOf(examination)).toEqual([])
    for (const zone of examination.zones) {
      expect(zone.state).toBe(zone.z1_m < 2.1e-3 ? 'examined' : 'not examined')
      if (zone.state === 'not examined') expect(zone.why).toEqual(['no stroke surely reached over it'])
    }
    const met = at(examination, flaw)
    expect(met.length).toBeGreaterThan(0)
    for (const one of met) {
      expectWithin(one, flaw)
      expect(one.class).toBe('undecided')
    }
  })

  it('gaps in one stroke are made good by the other, gaps in both are not examined', () => {
    const points = pointsOf(scene)
    const turns = passesAt(points, 3.8e-3)
    const perTurn = whole.x.length / points.at(-1)!.turn
    const lost = (which: readonly number[]): Recorded => {
      const [x, y] = [whole.x.slice(), whole.y.slice()]
      for (const turn of which) {
        x.fill(Number.NaN, Math.round((turn - 1.2) * perTurn), Math.round((turn + 1.2) * perTurn))
        y.fill(Number.NaN, Math.round((turn - 1.2) * perTurn), Math.round((turn + 1.2) * perTurn))
      }
      return { ...whole, x, y }
    }
    const stateOf = (recorded: Recorded) => examine(recorded, change).examination.zones[4]!
    expect(stateOf(whole).state).toBe('examined')
    expect(stateOf(lost([turns[0]!])).state).toBe('examined')
    const both = stateOf(lost(turns))
    expect(both.state).toBe('not examined')
    expect(both.why.join()).toContain('samples missing')
  })

  describe('refusals are in the examination', () => {
    const refused = (recorded: Recorded, by: HoleChange): readonly string[] => {
      const { examination } = examine(recorded, by)
      expect(examination.zones.every(({ state, why }) => state === 'not examined' && why.length > 0)).toBe(true)
      for (const { z_m, size } of examination.indications)
        expect({ z_m, depth: size.depth }).toEqual({ z_m: 'unknown', depth: 'withheld' })
      return codesOf(examination)
    }

    it('examine/strokes-untold for other joints or another way', () => {
      expect(refused(whole, { ...change, hole: { interfaces_mm: [2], layers: hole.layers!.slice(1) } })).toEqual([
        'examine/strokes-untold'
      ])
      expect(refused(whole, { technique: byHand('one way', ratio) })).toEqual(['examine/strokes-untold'])
    })

    it('examine/no-strokes for a recording that ends in the metal', () => {
      const cut = passesAt(pointsOf(scene), 4e-3)[0]! / pointsOf(scene).at(-1)!.turn
      const some = [...segmentsOf(whole, [Math.round(cut * whole.x.length)])].slice(0, 1)
      const { examination } = sound(examinedFrom(some, { rate_Hz: whole.rate_Hz, indexed: true }, change))
      expect(codesOf(examination)).toEqual(['examine/no-strokes'])
    })

    it('examine/no-axial-position where the technique does not say how it is fed, encoder or not', () => {
      const without = { technique: { axial_position: 'hand feed, by strokes' } } as const
      expect(refused(whole, without)).toEqual(['examine/no-axial-position'])
      const encoded = { ...whole, position: whole.x.map((_, i) => 1e-6 * i) }
      expect(refused(encoded, without)).toEqual(['examine/no-axial-position'])
    })

    it('strokes are no scale: depth does not fall through to an encoder', () => {
      const edges = { entry: 0, exit: 20_000, entryStep: P0, exitStep: P0, step: P0, metal: P0 }
      const encoder = { revolution: [0, 1, 2], position_m: [0, 1e-4, 2e-4] }
      const depth = depthOf(edges, { technique: { ...technique, ...byHand('one way', 2) }, hole, encoder })
      expect(isRefusal(depth) && depth.code).toBe('examine/no-axial-position')
    })
  })
})
