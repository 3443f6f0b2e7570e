/**
 * Oracles: the rules of the task (ranges, places, distances), the plan room's own checks, the standardize room's
 * refusals, statistics of draws by their definition.
 */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { checkSheet, type HoleSheet, holeSheetSchema } from '../../plan/index.ts'
import { openHoleReference } from '../../standardize/index.ts'
import { generate, type Recording } from '../generate.ts'
import { SEEDS } from '../seeds.ts'
import { flawSize } from '../terms/flaw.ts'
import { degreesApart, type TrueFlaw } from '../truth.ts'
import { drawBlank } from './blank.ts'
import { conditions, drawFaulty, faultKinds, underCondition } from './condition.ts'
import { drawFlawed, mostFlaws } from './flawed.ts'
import { drawNuisance, nuisanceKinds } from './nuisance.ts'
import { drawSetup, type Setup } from './setup.ts'

const setups = Array.from({ length: 20 }, (_, k) => drawSetup(SEEDS.setups, k))
const each = setups.map((setup) => [setup.id, setup] as const)

const perTurn = ({ rate_Hz, technique }: Setup): number => (60 * rate_Hz) / technique.rotation_rpm

const isSame = (columns: readonly ('x' | 'y' | 'index')[], a: Recording, b: Recording): boolean =>
  columns.every((name) => a[name].length === b[name].length && a[name].every((value, i) => value === b[name][i]))

const sheetOf = ({ technique, standard, equipment, hole, id }: Setup): HoleSheet => ({
  trueloop: 'job/1',
  job: { id, component: 'simulated', opened: '2026-01-01', demonstration: true },
  people: [{ name: equipment.entered_by, level: 'III' }],
  examined_by: equipment.entered_by,
  equipment,
  technique,
  reference_standard: standard,
  holes: [hole],
  recordings: [{ of: 'reference', file: 'reference.wav' }]
})

describe('twenty set-ups', () => {
  it('come again for the same seed, and are others for another', () => {
    expect(drawSetup(SEEDS.setups, 7)).toEqual(setups[7])
    expect(drawSetup(SEEDS.setups + 1, 7)).not.toEqual(setups[7])
    expect(new Set(setups.map(({ hole }) => hole.diameter_mm)).size).toBeGreaterThan(15)
  })

  it.each(each)('%s is a sound sheet', (_id, setup) => {
    const sheet = sheetOf(setup)
    expect(holeSheetSchema.parse(sheet)).toEqual(sheet)
    expect(checkSheet(sheet)).toEqual([])
  })

  it.each(each)('%s lies in its ranges', (_id, setup) => {
    const { technique, hole, plain } = setup
    const inside = (value: number, least: number, most: number): boolean => value >= least && value <= most
    expect(inside(hole.diameter_mm, 4, 16)).toBe(true)
    expect(inside(technique.lobe_spacing_mm, 0.9, 2)).toBe(true)
    expect(inside(technique.rotation_rpm, 300, 3000)).toBe(true)
    expect(inside(technique.pitch_mm!, 0.1, 0.35)).toBe(true)
    expect(inside(perTurn(setup), 139, 1201)).toBe(true)
    expect(inside(hole.grip_mm, 4, 10)).toBe(true)
    expect(inside(plain.instrument.gain, 0.1, 30)).toBe(true)
    const faces = [0, ...hole.interfaces_mm, hole.grip_mm]
    for (const [k, face] of faces.slice(1).entries()) expect(face - faces[k]!).toBeGreaterThan(1.5)
  })

  it('cover metals, one to four layers, small and large holes, slow and fast', () => {
    expect(new Set(setups.map(({ family }) => family)).size).toBe(3)
    expect(new Set(setups.map(({ hole }) => hole.interfaces_mm.length))).toEqual(new Set([0, 1, 2, 3]))
    const range = (values: readonly number[]) => Math.max(...values) / Math.min(...values)
    expect(range(setups.map(({ hole }) => hole.diameter_mm))).toBeGreaterThan(3)
    expect(range(setups.map(({ technique }) => technique.rotation_rpm))).toBeGreaterThan(5)
    expect(range(setups.map(perTurn))).toBeGreaterThan(5)
    expect(range(setups.map(({ plain }) => plain.instrument.gain))).toBeGreaterThan(30)
    expect(range(setups.map(({ notchOverNoise }) => notchOverNoise))).toBeGreaterThan(2.5)
  })

  it.each(each)('%s has a standard with four or more notches of each kind that do not collide', (_id, setup) => {
    const { notches, thickness_mm } = setup.standard
    for (const place of ['mid-bore', 'entry corner']) {
      const depths = notches.filter((notch) => notch.place === place).map(({ depth_mm }) => depth_mm)
      expect(depths.length).toBeGreaterThanOrEqual(4)
      expect(Math.min(...depths)).toBeGreaterThanOrEqual(0.2)
      expect(Math.max(...depths)).toBeLessThan(1.7)
    }
    for (const [k, one] of notches.entries())
      for (const other of notches.slice(k + 1))
        expect(degreesApart(one.angle_deg, other.angle_deg)).toBeGreaterThanOrEqual(35)
    const reach = setup.technique.lobe_spacing_mm + 1
    const isFree = (z: number) => notches.every(({ z0_mm, z1_mm }) => z < z0_mm - reach || z > z1_mm + reach)
    const depths = Array.from({ length: 500 }, (_, k) => 1.5 + ((thickness_mm - 3) * k) / 500)
    const free_mm = ((thickness_mm - 3) * depths.filter(isFree).length) / 500
    expect(free_mm / setup.technique.pitch_mm!).toBeGreaterThan(8)
    expect(setup.referenceScene.flaws.length).toBe(notches.length)
  })

  it('answer as the metals differ: aluminum turns most from lift-off, steel least and the other way with depth', () => {
    const angle = ({ plain: { probe } }: Setup) => probe.liftoff.direction_rad - probe.flaw.direction_rad
    const of = (family: Setup['family']) => setups.filter((setup) => setup.family === family)
    const range = (family: Setup['family']) => of(family).map(angle)
    expect(Math.min(...range('aluminum'))).toBeGreaterThanOrEqual(Math.max(...range('titanium')))
    expect(Math.min(...range('titanium'))).toBeGreaterThan(Math.min(...range('stainless steel')))
    expect(of('aluminum').every(({ plain }) => plain.probe.flaw.turn_rad_per_m < 0)).toBe(true)
    expect(of('stainless steel').every(({ plain }) => plain.probe.flaw.turn_rad_per_m > 0)).toBe(true)
  })

  it.each(each)('%s is a reference scan that can be standardized on', (_id, setup) => {
    const { technique, standard, equipment, rate_Hz } = setup
    const { x, y, index } = generate(setup.referenceScene, setup.referenceSeed)
    const run = openHoleReference({ technique, standard, equipment, rate_Hz, indexed: true })
    if (isRefusal(run)) throw new Error(`${run.code}: ${run.found}`)
    run.take({ first: 0, channels: [{ x, y }], aux: { index } })
    const closed = run.close()
    if (isRefusal(closed)) throw new Error(`${closed.code}: ${closed.found}`)
    expect(closed.standardization.limits.filter(({ met }) => !met)).toEqual([])
  })
})

const few = setups.filter((_, k) => k % 4 === 0)

describe('drawn holes', () => {
  it('without a flaw: nothing in the truth but the mains and marks, another wall for every seed', () => {
    for (const setup of few) {
      const [one, other] = [drawBlank(setup, 1), drawBlank(setup, 2)]
      expect(drawBlank(setup, 1)).toEqual(one)
      expect(one.truth.flaws).toEqual([])
      expect(one.truth.nuisances.every(({ kind }) => kind === 'hum' || kind === 'marks')).toBe(true)
      expect(one.truth.fault).toBe('none')
      expect(one.scene.recorder.index.first_turn).not.toBe(other.scene.recorder.index.first_turn)
      expect(isSame(['x'], generate(one.scene, one.seed), generate(other.scene, other.seed))).toBe(false)
    }
    const amiss = Array.from({ length: 300 }, (_, k) => drawBlank(few[0]!, k).truth.nuisances)
    const share = amiss.filter((all) => all.some(({ kind }) => kind === 'marks')).length / 300
    expect(share).toBeGreaterThan(0.11)
    expect(share).toBeLessThan(0.29)
  })

  const inLayer = (setup: Setup, { z0_mm, z1_mm }: TrueFlaw): boolean => {
    const faces = [0, ...setup.hole.interfaces_mm, setup.hole.grip_mm]
    return faces.slice(1).some((face, k) => z0_mm >= faces[k]! - 1e-9 && z1_mm <= face + 1e-9)
  }

  it('with flaws: within a layer, in the range asked for, far apart', () => {
    for (const setup of setups)
      for (let seed = 0; seed < 10; seed++) {
        const count = mostFlaws(setup)
        const { flaws } = drawFlawed(setup, seed, { kind: 'notch', depth_mm: [0.3, 1.5], count }).truth
        expect(flaws.length).toBe(count)
        for (const [k, flaw] of flaws.entries()) {
          expect(flaw.depth_mm >= 0.3 && flaw.depth_mm < 1.5).toBe(true)
          expect(inLayer(setup, flaw), `${setup.id} ${seed} ${flaw.place} ${flaw.z0_mm} to ${flaw.z1_mm}`).toBe(true)
          for (const other of flaws.slice(k + 1))
            expect(degreesApart(flaw.angle_deg, other.angle_deg)).toBeGreaterThan((360 / count) * 0.79)
        }
      }
  })

  it('place a flaw as asked where the layers have room', () => {
    for (const setup of few) {
      const corner = drawFlawed(setup, 3, { kind: 'crack', depth_mm: [0.3, 0.5], place: 'corner' })
      expect(corner.truth.flaws.map(({ kind, place }) => [kind, place])).toEqual([['crack', 'corner']])
      const faces = [0, ...setup.hole.interfaces_mm, setup.hole.grip_mm]
      const thickest = Math.max(...faces.slice(1).map((face, k) => face - faces[k]!))
      const bore = drawFlawed(setup, 3, { kind: 'notch', depth_mm: [0.2, 0.2], place: 'mid-bore' })
      if (thickest > 2.6) expect(bore.truth.flaws[0]!.place).toBe('mid-bore')
    }
  })

  it('scatter about the law of the notches as declared, cracks weaker and more', () => {
    const setup = setups[0]!
    const logs = (kind: 'notch' | 'crack') =>
      Array.from({ length: 400 }, (_value, seed) => {
        const { scene } = drawFlawed(setup, seed, { kind, depth_mm: [0.5, 0.5] })
        const [flaw] = scene.flaws
        const { scatter: _, ...law } = { ...flaw!, kind: 'notch' as const }
        return Math.log(flawSize(scene, flaw!) / flawSize(scene, law))
      })
    const mean = (all: readonly number[]) => all.reduce((sum, value) => sum + value, 0) / all.length
    const deviation = (all: readonly number[]) => Math.sqrt(mean(all.map((value) => (value - mean(all)) ** 2)))
    const [notch, crack] = [logs('notch'), logs('crack')]
    // four standard errors of a mean and of a standard deviation over 400 draws
    expect(Math.abs(mean(notch))).toBeLessThan((4 * setup.spread.notch) / 20)
    expect(Math.abs(deviation(notch) / setup.spread.notch - 1)).toBeLessThan(4 / Math.sqrt(800))
    const factor = Math.log(setup.plain.probe.flaw.crack_factor)
    expect(Math.abs(mean(crack) - factor)).toBeLessThan((4 * setup.spread.crack) / 20)
    expect(Math.abs(deviation(crack) / setup.spread.crack - 1)).toBeLessThan(4 / Math.sqrt(800))
    expect(setup.spread.crack).toBeGreaterThan(2 * setup.spread.notch)
  })

  it.each(nuisanceKinds)('with a trouble have it in their truth and in their recording: %s', (kind) => {
    for (const setup of few.slice(0, 2)) {
      const hole = drawNuisance(setup, 5, kind)
      expect(hole.truth.flaws).toEqual([])
      expect(hole.truth.nuisances.map((one) => one.kind)).toContain(kind)
      const made = generate(hole.scene, hole.seed)
      const without = generate({ ...hole.scene, ...none(setup, hole.scene) }, hole.seed)
      expect(isSame(kind === 'marks' ? ['index'] : ['x', 'y'], made, without)).toBe(false)
      expect(made.x.every(Number.isFinite) && made.y.every(Number.isFinite)).toBe(true)
    }
  })

  const none = (setup: Setup, scene: Setup['plain']): Partial<Setup['plain']> => ({
    damage: [],
    features: [],
    disturbances: setup.plain.disturbances,
    probe: setup.plain.probe,
    hole: {
      diameter_m: scene.hole.diameter_m,
      grip_m: scene.hole.grip_m,
      entry: scene.hole.entry,
      exit: scene.hole.exit
    },
    recorder: { ...scene.recorder, index: { ...scene.recorder.index, marks: setup.plain.recorder.index.marks } }
  })

  it.each(conditions)('are the same holes when scanned otherwise: %s', (condition) => {
    for (const setup of few) {
      const hole = drawFlawed(setup, 2, { kind: 'crack', depth_mm: [0.6, 1] })
      const other = underCondition(setup, hole, condition)
      const [flaw, again] = [hole.truth.flaws[0]!, other.truth.flaws[0]!]
      expect([again.depth_mm, again.z0_mm]).toEqual([flaw.depth_mm, flaw.z0_mm])
      const turned = condition === 'reversed sense' ? 360 - flaw.angle_deg : flaw.angle_deg
      expect(degreesApart(again.angle_deg, turned)).toBeLessThan(1e-9)
      const made = generate(other.scene, other.seed)
      expect(made.x.every(Number.isFinite)).toBe(true)
      expect(isSame(['x'], made, generate(hole.scene, hole.seed))).toBe(false)
    }
  })

  it.each(faultKinds)('with a fault of the equipment say so: %s', (kind) => {
    for (const setup of few.slice(0, 2)) {
      const hole = drawFaulty(setup, 4, kind)
      expect(hole.truth.fault).toBe(kind)
      const sound = generate({ ...hole.scene, fault: { kind: 'none' } }, hole.seed)
      const faulty = generate(hole.scene, hole.seed)
      expect(isSame(['x', 'y'], faulty, sound)).toBe(false)
    }
  })
})
