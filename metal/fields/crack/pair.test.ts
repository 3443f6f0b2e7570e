/**
 * Oracles: SciPy with derivatives of J_n at every cell and place, turn by turn (reference/d_pair.py, which also finds the
 * round coil again where n = 0); mirrors and turns of the probe.
 */
import { hertz, meters, radians, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { wallProbe } from '../hole/index.ts'
import reference from '../reference/d_pair.json' with { type: 'json' }
import { incidentField } from './incident.ts'
import {
  type CoilPlace,
  type CrackInPart,
  type DifferentialProbe,
  pairAnswer,
  planCrack,
  planWallCrack,
  type WallPair,
  wallPairAnswer
} from './index.ts'
import { pairField } from './pair-incident.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

type RawCoil = { r1: number; r2: number; length: number; turns: number; liftOff: number }
const coilOf = ({ r1, r2, length, turns, liftOff }: RawCoil) => ({
  coil: { innerRadius: meters(r1), outerRadius: meters(r2), length: meters(length), turns },
  liftOff: meters(liftOff)
})
const probeOf = (turned: number): DifferentialProbe => ({
  driver: coilOf(reference.driver),
  pickUps: { ...coilOf(reference.pick_up), turned: radians(turned) }
})
const placeOf = (across: number, along: number): CoilPlace => ({ across: meters(across), along: meters(along) })
const part = (length: number, depth: number, along: number): CrackInPart => ({
  crack: { outline: 'rectangle', length: meters(length), depth: meters(depth), opening: meters(0) },
  metal: { conductivity: siemensPerMeter(18.97e6), permeability: 1 },
  thickness: 'infinite',
  frequency: hertz(5e5),
  cells: { along, deep: along / 2 }
})

describe('pairAnswer', () => {
  it.each(reference.cases)('$id is that of SciPy', (row) => {
    const plan = must(
      planCrack({
        ...part(row.crack.length, row.crack.depth, row.cells[0]!),
        metal: { conductivity: siemensPerMeter(row.sigma), permeability: row.mur },
        frequency: hertz(row.f)
      })
    )
    const places = row.places.map(([across, along]) => placeOf(across!, along!))
    const { signals } = must(pairAnswer(plan, probeOf(row.turned), places))
    const size = Math.max(...row.change.map(([re, im]) => Math.hypot(re!, im!)))
    signals.forEach(({ change }, at) => {
      const [re, im] = row.change[at]!
      expect(Math.hypot(change.resistance - re!, change.reactance - im!) / size).toBeLessThan(reference.tolerance)
    })
    expect(signals).toHaveLength(row.places.length)
  })

  const plan = must(planCrack(part(1.5e-3, 0.75e-3, 16)))
  const at = (turned: number, across: number, along: number) =>
    must(pairAnswer(plan, probeOf(turned), [placeOf(across, along)])).signals[0]!.change
  const apart = (one: ReturnType<typeof at>, other: ReturnType<typeof at>, sign: number) =>
    Math.hypot(one.resistance - sign * other.resistance, one.reactance - sign * other.reactance) /
    Math.hypot(other.resistance, other.reactance)

  it('is nothing where the split line stands over the crack, and opposite on both sides of it', () => {
    const beside = at(0, -0.5e-3, 0.2e-3)
    const over = at(0, 0, 0.2e-3)
    expect(Math.hypot(over.resistance, over.reactance) / Math.hypot(beside.resistance, beside.reactance)).toBeLessThan(
      1e-10
    )
    expect(apart(at(0, 0.5e-3, 0.2e-3), beside, -1)).toBeLessThan(1e-9)
  })
  it('changes its sign with the pick-ups exchanged', () =>
    expect(apart(at(0.4 + Math.PI, 0.3e-3, 0.2e-3), at(0.4, 0.3e-3, 0.2e-3), -1)).toBeLessThan(1e-9))
  it('is the same in a mirror', () => {
    expect(apart(at(Math.PI - 0.4, -0.3e-3, 0.2e-3), at(0.4, 0.3e-3, 0.2e-3), 1)).toBeLessThan(1e-9)
    expect(apart(at(-0.4, 0.3e-3, -0.2e-3), at(0.4, 0.3e-3, 0.2e-3), 1)).toBeLessThan(1e-9)
  })

  it('refuses what it does not hold for', () => {
    const asked = (change: Partial<DifferentialProbe>, along = 0) =>
      code(pairAnswer(plan, { ...probeOf(0), ...change }, [placeOf(0, along)]))
    const { driver, pickUps } = probeOf(0)
    expect(asked({})).toBe('answered')
    expect(asked({ driver: { ...driver, liftOff: meters(-1e-4) } })).toBe('fields/coil-through-surface')
    expect(asked({ pickUps: { ...pickUps, liftOff: meters(-1e-4) } })).toBe('fields/coil-through-surface')
    expect(asked({ pickUps: { ...pickUps, coil: { ...pickUps.coil, turns: 0 } } })).toBe('fields/bad-coil')
    expect(asked({ pickUps: { ...pickUps, turned: radians(Number.POSITIVE_INFINITY) } })).toBe('fields/bad-pair')
    expect(asked({}, 1)).toBe('fields/bad-place')
  })
  it('says what it stands on', () => {
    const { statement } = must(pairAnswer(plan, probeOf(0), [placeOf(0, 0)]))
    expect(statement.modeled).toContain('round air-core driver')
    expect(statement.notModeled).toEqual(expect.arrayContaining(['ferrite', 'pick-ups that differ', 'opening']))
    expect(statement.check).toContain('no published check of a differential pair')
  })
})

describe('the field along the crack', () => {
  // Oracle: what lies along the crack lies square to it once probe and place are turned by a quarter.
  const { crack, ...rest } = part(1.5e-3, 0.75e-3, 16)
  const plan = must(planCrack({ ...rest, crack: { ...crack, opening: meters(0.03e-3) } }))
  const { driver, pickUps } = probeOf(0.4)
  const cell = 3
  const y = (cell + 0.5 - 8) * (1.5e-3 / 16)
  const turnedBack = { ...pickUps, turned: radians(0.4 - Math.PI / 2) }
  it.each([
    [
      'a coil',
      (places: CoilPlace[]) => incidentField(plan, driver, places),
      (places: CoilPlace[]) => incidentField(plan, driver, places)
    ],
    [
      'a pair',
      (places: CoilPlace[]) => pairField(plan, pickUps, places),
      (places: CoilPlace[]) => pairField(plan, turnedBack, places)
    ]
  ])('of %s', (_, field, turned) => {
    const [across, along] = [0.45e-3, 0.2e-3]
    const here = field([placeOf(across, along)]).along!
    const there = turned([placeOf(along - y, y - across)]).square
    const largest = Math.max(...here.re.map(Math.abs))
    for (let row = 0; row < 8; row++) {
      const at = cell * 8 + row
      expect(Math.abs(here.re[at]! - there.re[at]!) / largest).toBeLessThan(1e-8)
      expect(Math.abs(here.im[at]! - there.im[at]!) / largest).toBeLessThan(1e-8)
    }
  })
})

describe('wallPairAnswer', () => {
  const small = (r1: number, r2: number, turns: number) => coilOf({ r1, r2, length: 0.6e-3, liftOff: 0.15e-3, turns })
  const driver = small(0.5e-3, 0.7e-3, 80)
  const pickUps = { ...small(0.3e-3, 0.45e-3, 60), turned: radians(0.3) }
  const { thickness: _, ...crack } = part(1.5e-3, 0.75e-3, 16)
  const inHole = (diameter: number) => must(planWallCrack({ ...crack, holeDiameter: meters(diameter) }))
  const probeIn = (diameter: number) => must(wallProbe({ ...driver, holeDiameter: meters(diameter) }, meters(2e-3)))
  const places = [-0.3e-3, 0, 0.4e-3]
  const around = (diameter: number) =>
    places.map((across) => ({ angle: radians((2 * across) / diameter), along: meters(0.2e-3) }))
  const flat = must(
    pairAnswer(
      must(planCrack(part(1.5e-3, 0.75e-3, 16))),
      { driver, pickUps },
      places.map((a) => placeOf(a, 0.2e-3))
    )
  ).signals
  const apart = (diameter: number, given: WallPair) => {
    const { signals } = must(wallPairAnswer(inHole(diameter), given, around(diameter)))
    const size = Math.max(...flat.map(({ change }) => Math.hypot(change.resistance, change.reactance)))
    return (
      Math.max(
        ...signals.map(({ change }, at) =>
          Math.hypot(change.resistance - flat[at]!.change.resistance, change.reactance - flat[at]!.change.reactance)
        )
      ) / size
    )
  }

  it('on the unrolled wall is that over a plane', () => expect(apart(6.35e-3, { driver, pickUps })).toBeLessThan(1e-9))
  it('goes to that over a plane as the hole grows', () => {
    const [near, next] = [10e-3, 20e-3].map((diameter) => apart(diameter, { driver: probeIn(diameter), pickUps }))
    expect(near!).toBeLessThan(0.1)
    // it falls like 1 / b
    expect(next! / near!).toBeGreaterThan(0.45)
    expect(next! / near!).toBeLessThan(0.55)
  })
  it('refuses a driver that does not fit in, and one of another hole', () => {
    expect(code(wallProbe({ ...driver, holeDiameter: meters(3e-3) }, meters(2e-3)))).toBe('fields/coil-through-wall')
    const at = (given: WallPair) => code(wallPairAnswer(inHole(10e-3), given, around(10e-3)))
    expect(at({ driver: probeIn(11e-3), pickUps })).toBe('fields/another-hole')
    expect(at({ driver: { ...driver, liftOff: meters(-1) }, pickUps })).toBe('fields/coil-through-surface')
    expect(at({ driver, pickUps: { ...pickUps, turned: radians(Number.NEGATIVE_INFINITY) } })).toBe('fields/bad-pair')
  })
  it('says which fields know the hole', () => {
    const said = (given: WallPair) => must(wallPairAnswer(inHole(10e-3), given, around(10e-3))).statement
    expect(said({ driver, pickUps }).notModeled).toContain('curvature of the hole in the field of driver and pick-ups')
    const round = said({ driver: probeIn(10e-3), pickUps })
    expect(round.notModeled).toContain('curvature of the hole in the field of the pick-ups')
    expect(round.modeled).toContain('field of the driver in the metal around the hole')
  })
})
