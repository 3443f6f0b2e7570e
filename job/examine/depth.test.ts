import { describe, expect, it } from 'vitest'
import { generate, type HoleScene } from '../rehearse/index.ts'
import { depthOf } from './depth.ts'
import type { Examination } from './index.ts'
import { codesOf, examine, hole, type Recorded, sceneOf, technique } from './testing/hole.ts'

const PITCH_m = 2e-4
const LEAD = 12

/** An even speed, so that depth is a plain function of the sample number. */
const even = (feed: HoleScene['motion']['feed'], flaws = sceneOf('hole-P04').flaws): HoleScene => {
  const scene = { ...sceneOf('hole-P04'), flaws }
  return { ...scene, motion: { ...scene.motion, drift: [], feed } }
}

const constant: HoleScene['motion']['feed'] = {
  kind: 'constant',
  pitch_m: PITCH_m,
  leadIn_turn: LEAD,
  leadOut_turn: LEAD
}

/** A feed that runs 40 % faster in the second half of the hole. */
const uneven: HoleScene['motion']['feed'] = {
  kind: 'profile',
  points: [
    { turn: 0, z_m: -2.4e-3 },
    { turn: 32, z_m: 4e-3 },
    { turn: 32 + 22.5, z_m: 4e-3 + 22.5 * 2.8e-4 }
  ]
}

const turnOf = (i: number): number => (i / 12_500) * 20

const depthOfTurn = (feed: HoleScene['motion']['feed'], turn: number): number => {
  if (feed.kind === 'constant') return feed.pitch_m * (turn - feed.leadIn_turn)
  const [a, b, c] = feed.points as readonly [P, P, P]
  const [from, to] = turn < b.turn ? [a, b] : [b, c]
  return from.z_m + ((to.z_m - from.z_m) * (turn - from.turn)) / (to.turn - from.turn)
}

interface P {
  readonly turn: number
  readonly z_m: number
}

/** With an encoder that counts whole steps from somewhere, in a sense of its own. */
function encoded(feed: HoleScene['motion']['feed'], { sense, step_m }: { sense: 1 | -1; step_m: number }): Recorded {
  const recorded = generate(even(feed), 4)
  const position = recorded.x.map((_, i) => 0.123 + sense * step_m * Math.round(depthOfTurn(feed, turnOf(i)) / step_m))
  return { ...recorded, position }
}

/** The crack lies from 2.9 to 4.5 mm: its middle at 3.7 mm. */
const MIDDLE_mm = 3.7

/** Off by at most twice the stated standard uncertainty. */
function expectPlaced(examination: Examination, middle_mm = MIDDLE_mm): void {
  const { axialUncertainty_m } = examination.position
  const found = examination.indications.filter(({ class: is }) => is === 'relevant')
  expect(found.length).toBe(1)
  const off = Math.abs((found[0]!.z_m as number) * 1e3 - middle_mm)
  expect(off).toBeLessThan(2e3 * (axialUncertainty_m as number))
  expect(axialUncertainty_m as number).toBeLessThan(0.25e-3)
  expect(examination.zones.every(({ state }) => state === 'examined')).toBe(true)
}

describe('axial position', () => {
  it('from entry and exit edges with the known grip', () => {
    const { examination } = examine(generate(even(constant), 4))
    expect(examination.position.axial).toContain('entry and exit edges with the known grip of 8.1 mm')
    expectPlaced(examination)
    expect(Math.abs(examination.position.pitch_m! - PITCH_m)).toBeLessThan(0.02 * PITCH_m)
    // a step is seen within a pitch at either end: √2 · pitch/√12
    expect(examination.position.axialUncertainty_m).toBeCloseTo((Math.sqrt(2) * PITCH_m) / Math.sqrt(12), 5)
  })

  it('from a constant feed: a feed that is 2 % off stays within what is stated', () => {
    for (const pitch_mm of [0.2, 0.196, 0.204]) {
      const { examination } = examine(generate(even(constant), 4), {
        technique: { axial_position: 'constant feed', pitch_mm }
      })
      expect(examination.position.axial).toContain('constant feed')
      expectPlaced(examination)
    }
    // far from the entry, 2 % of feed are more than a pitch can explain
    const deep = sceneOf('hole-P04').flaws.map((flaw) => ({ ...flaw, z0_m: 6.1e-3, z1_m: 7.5e-3 }))
    for (const pitch_mm of [0.2, 0.196]) {
      const { examination } = examine(generate(even(constant, deep), 4), {
        technique: { axial_position: 'constant feed', pitch_mm }
      })
      expectPlaced(examination, 6.8)
    }
  })

  it.each([1, -1] as const)('from an encoder, whatever its zero, in sense %i', (sense) => {
    const recorded = encoded(constant, { sense, step_m: 5e-6 })
    const { examination } = examine(recorded, { technique: { axial_position: 'encoder' } })
    expect(examination.position.axial).toContain('encoder')
    expectPlaced(examination)
  })

  it('from an encoder where the feed is uneven, which edges alone can not know', () => {
    const recorded = encoded(uneven, { sense: 1, step_m: 5e-6 })
    expectPlaced(examine(recorded, { technique: { axial_position: 'encoder' } }).examination)
    const byEdges = examine(recorded).examination.indications.find(({ class: is }) => is === 'relevant')!
    expect(Math.abs((byEdges.z_m as number) * 1e3 - MIDDLE_mm)).toBeGreaterThan(0.2)
  })

  it('refuses where there is none: the hole is not examined, its indication has no place and no size', () => {
    const recorded = generate(even(constant), 4)
    const standing = { ...recorded, position: recorded.x.map(() => 0.1) }
    for (const one of [recorded, standing]) {
      const { examination } = examine(one, { technique: { axial_position: 'encoder' } })
      expect(codesOf(examination)).toEqual(['examine/no-axial-position'])
      expect(examination.zones.every(({ state }) => state === 'not examined')).toBe(true)
      expect(examination.indications.length).toBeGreaterThan(0)
      for (const { z_m, size, zone } of examination.indications) {
        expect({ z_m, depth: size.depth, zone }).toEqual({ z_m: 'unknown', depth: 'withheld', zone: 'unknown' })
      }
    }
  })

  it('refuses a constant feed without its pitch', () => {
    const { pitch_mm: _, ...without } = technique
    const edges = { entry: 0, exit: 20_000, entryStep: P0, exitStep: P0, step: P0, metal: P0 }
    const refused = depthOf(edges, {
      technique: { ...without, axial_position: 'constant feed' },
      hole,
      encoder: { revolution: [], position_m: [] }
    })
    expect(refused).toMatchObject({ code: 'examine/no-axial-position' })
  })
})

const P0 = { x: 0, y: 0 }
