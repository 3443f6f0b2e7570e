/**
 * Oracles: NumPy and SciPy without the symmetries, tables and cuts that are used here (reference/hole_crack.py); the flat
 * answer for holes that grow; mirrors;
 * finite differences for what the flat kernel costs (reference/hole_kernel.py).
 */
import { hertz, meters, radians, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { wallProbe } from '../hole/index.ts'
import reference from '../reference/hole_crack.json' with { type: 'json' }
import kernel from '../reference/hole_kernel.json' with { type: 'json' }
import {
  type CrackInWall,
  crackAnswer,
  planCrack,
  planWallCrack,
  type SurfaceCrack,
  type WallPlace,
  wallCrackAnswer
} from './index.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const { r1, r2, length, turns, liftOff } = reference.coil
const winding = { innerRadius: meters(r1), outerRadius: meters(r2), length: meters(length), turns }
const coilC = { coil: winding, liftOff: meters(liftOff) }
const inHole = (diameter: number) => ({ ...coilC, holeDiameter: meters(diameter) })
const placeOf = (angle: number, along: number): WallPlace => ({ angle: radians(angle), along: meters(along) })
const far = (re: number, im: number, toRe: number, toIm: number) => Math.hypot(re - toRe, im - toIm)

const crackOf = (outline: string, long: number, depth: number, opening = 0): SurfaceCrack => ({
  outline: outline as SurfaceCrack['outline'],
  length: meters(long),
  depth: meters(depth),
  opening: meters(opening)
})
const small: CrackInWall = {
  crack: crackOf('rectangle', 1.5e-3, 0.75e-3),
  metal: { conductivity: siemensPerMeter(18.97e6), permeability: 1 },
  frequency: hertz(5e5),
  cells: { along: 20, deep: 10 },
  holeDiameter: meters(6.35e-3)
}

describe('wallCrackAnswer', () => {
  it.each(reference.cases)('$id is that of NumPy', (row) => {
    const plan = must(
      planWallCrack({
        crack: crackOf(row.crack.outline, row.crack.length, row.crack.depth),
        metal: { conductivity: siemensPerMeter(row.sigma), permeability: row.mur },
        frequency: hertz(row.f),
        cells: { along: row.cells[0]!, deep: row.cells[1]! },
        holeDiameter: meters(row.diameter)
      })
    )
    const places = row.places.map(([angle, along]) => placeOf(angle!, along!))
    const { signals } = must(wallCrackAnswer(plan, must(wallProbe(inHole(row.diameter), meters(1.8e-3))), places))
    const size = Math.max(...row.closed.map(([re, im]) => Math.hypot(re!, im!)))
    signals.forEach(({ change: { resistance, reactance } }, at) => {
      const [re, im] = row.closed[at]!
      expect(far(resistance, reactance, re!, im!) / size).toBeLessThan(reference.tolerance)
    })
    expect(signals).toHaveLength(row.places.length)
  })

  const plan = must(planWallCrack(small))
  const probe = must(wallProbe(inHole(6.35e-3), meters(3e-3)))

  it('is alike on both sides of the crack and, where the crack is, on both sides of its middle', () => {
    const one = (angle: number, along: number) =>
      must(wallCrackAnswer(plan, probe, [placeOf(angle, along)])).signals[0]!
    const here = one(0.15, 0.4e-3).change
    for (const [angle, along] of [
      [-0.15, 0.4e-3],
      [0.15, -0.4e-3],
      [-0.15, -0.4e-3]
    ]) {
      const there = one(angle!, along!).change
      expect(there.resistance / here.resistance).toBeCloseTo(1, 9)
      expect(there.reactance / here.reactance).toBeCloseTo(1, 9)
    }
  })
  it('of places that mirror each other is that of each alone, in a quarter ellipse too', () => {
    const lopsided = must(planWallCrack({ ...small, crack: crackOf('quarter ellipse', 1.5e-3, 0.75e-3) }))
    const places = [placeOf(0, -0.5e-3), placeOf(0, 0.5e-3), placeOf(-0.2, 0.5e-3)]
    const together = must(wallCrackAnswer(lopsided, probe, places)).signals.map(({ change }) => change.reactance)
    const alone = places.map((one) => must(wallCrackAnswer(lopsided, probe, [one])).signals[0]!.change.reactance)
    for (const [at, value] of together.entries()) expect(value / alone[at]!).toBeCloseTo(1, 9)
    expect(Math.abs(alone[0]! / alone[1]! - 1)).toBeGreaterThan(0.01)
  })

  it('does not hang on how far the coil was planned', () => {
    const [near, wide] = [3e-3, 9e-3].map((reach) => {
      const one = must(wallProbe(inHole(6.35e-3), meters(reach)))
      return must(wallCrackAnswer(plan, one, [placeOf(0, 0.5e-3), placeOf(0.1, 2.2e-3)])).signals
    })
    const size = near![0]!.uncanceled
    near!.forEach(({ change }, at) => {
      const { resistance, reactance } = wide![at]!.change
      expect(far(change.resistance, change.reactance, resistance, reactance) / size).toBeLessThan(1e-8)
    })
  })

  it('goes to the answer in flat metal as the hole grows', () => {
    const flat = must(
      crackAnswer(must(planCrack({ ...small, thickness: 'infinite' })), coilC, [
        { across: meters(0), along: meters(0.5e-3) },
        { across: meters(0.4e-3), along: meters(0) }
      ])
    ).signals
    const apart = (diameter: number) => {
      const wide = must(planWallCrack({ ...small, holeDiameter: meters(diameter) }))
      const places = [placeOf(0, 0.5e-3), placeOf((2 * 0.4e-3) / diameter, 0)]
      const { signals } = must(wallCrackAnswer(wide, must(wallProbe(inHole(diameter), meters(2e-3))), places))
      return signals.map(({ change }, at) => {
        const { resistance, reactance } = flat[at]!.change
        return far(change.resistance, change.reactance, resistance, reactance) / Math.hypot(resistance, reactance)
      })
    }
    const [near, next] = [apart(10e-3), apart(20e-3)]
    near.forEach((rest, at) => {
      expect(rest).toBeLessThan(0.16)
      // it falls like 1 / b
      expect(next[at]! / rest).toBeGreaterThan(0.45)
      expect(next[at]! / rest).toBeLessThan(0.55)
    })
  })

  it('refuses what it does not hold for', () => {
    const at = (angle: number, along: number, given = plan) =>
      code(wallCrackAnswer(given, probe, [placeOf(angle, along)]))
    expect(at(0, 0)).toBe('answered')
    expect(at(4, 0)).toBe('fields/bad-place')
    // a reach of 3 mm less half of 1.5 mm
    expect(at(0, 2.26e-3)).toBe('fields/bad-place')
    expect(at(0, 2.24e-3)).toBe('answered')
    for (const reach of [0, 0.1]) expect(code(wallProbe(inHole(6.35e-3), meters(reach)))).toBe('fields/bad-reach')
    expect(code(wallCrackAnswer(plan, probe, []))).toBe('fields/bad-place')
    const open = must(planWallCrack({ ...small, crack: crackOf('rectangle', 1.5e-3, 0.75e-3, 0.03e-3) }))
    expect(at(0, 0.3e-3, open)).toBe('answered')
    expect(at(0.1, 0.3e-3, open)).toBe('fields/opening-off-plane')
    const other = must(planWallCrack({ ...small, holeDiameter: meters(7e-3) }))
    expect(at(0, 0, other)).toBe('fields/another-hole')
    expect(code(wallProbe({ ...inHole(6.35e-3), liftOff: meters(-1e-4) }, meters(3e-3)))).toBe(
      'fields/coil-through-wall'
    )
  })
  it('says what it stands on', () => {
    const { statement } = must(wallCrackAnswer(plan, probe, [placeOf(0, 0)]))
    expect(statement.modeled).toContain('field of the coil in the metal around the hole')
    expect(statement.notModeled).toEqual(
      expect.arrayContaining([
        'curvature of the hole in how the crack answers',
        'edges of the part and corners of a hole'
      ])
    )
    expect(statement.check).toContain('no published check of a crack in a hole')
    const steel = { ...small, metal: { conductivity: siemensPerMeter(1e6), permeability: 50 }, frequency: hertz(1e5) }
    const said = must(wallCrackAnswer(must(planWallCrack(steel)), probe, [placeOf(0, 0)])).statement
    expect(said.check).toContain('no published check of a crack in metal of relative permeability above 1')
  })
})

describe('planWallCrack refuses', () => {
  it.each<[string, Partial<CrackInWall>]>([
    ['answered', {}],
    ['fields/bad-diameter', { holeDiameter: meters(0) }],
    ['fields/bad-frequency', { frequency: hertz(0) }],
    ['fields/bad-crack', { crack: crackOf('rectangle', 1.5e-3, -1e-3) }],
    // deeper than 0.7 mm
    ['fields/wall-too-round', { holeDiameter: meters(1.4e-3) }],
    // 0.3 of 3.175 mm; 1.06 mm at 12 kHz
    ['fields/wall-too-round', { frequency: hertz(12e3) }]
  ])('%s', (expected, change) => expect(code(planWallCrack({ ...small, ...change }))).toBe(expected))

  it('what lies beyond what was measured of the flat kernel', () => {
    const radius = 3e-3
    const [deltas, depths, sizes] = [0, 1, 2].map((column) => kernel.rows.map((row) => row[column]!))
    expect(Math.max(...sizes!.map(Math.abs))).toBeLessThan(kernel.tolerance)
    const at = (delta: number, depth: number) => {
      const metal = { conductivity: siemensPerMeter(1e6), permeability: 1 }
      const frequency = hertz(1 / (Math.PI * 4e-7 * Math.PI * 1e6 * (delta * radius) ** 2))
      const crack = crackOf('rectangle', 2 * depth * radius, depth * radius)
      return code(planWallCrack({ ...small, crack, metal, frequency, holeDiameter: meters(2 * radius) }))
    }
    const [delta, depth] = [Math.max(...deltas!), Math.max(...depths!)]
    expect(at(0.999 * delta, 0.999 * depth)).toBe('answered')
    expect(at(1.001 * delta, depth)).toBe('fields/wall-too-round')
    expect(at(delta, 1.001 * depth)).toBe('fields/wall-too-round')
  })
})
