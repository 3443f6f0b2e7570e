/**
 * Oracles: NumPy and SciPy without the symmetries that are used here (reference/crack.py); the measurements of TEAM 15;
 * the mirror, the similarity of lengths and frequency, and reciprocity with the number of turns.
 */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { PlacedCoil } from '../layers/coil.ts'
import reference from '../reference/crack.json' with { type: 'json' }
import team15 from '../reference/team-15.json' with { type: 'json' }
import { type CoilPlace, type CrackInPart, crackAnswer, planCrack, type SurfaceCrack } from './index.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}

type RawCoil = { r1: number; r2: number; length: number; turns: number; liftOff: number }
const coilOf = ({ r1, r2, length, turns, liftOff }: RawCoil): PlacedCoil => ({
  coil: { innerRadius: meters(r1), outerRadius: meters(r2), length: meters(length), turns },
  liftOff: meters(liftOff)
})
const placeOf = (across: number, along: number): CoilPlace => ({ across: meters(across), along: meters(along) })
const crackOf = (outline: string, length: number, depth: number, opening: number): SurfaceCrack => ({
  outline: outline as SurfaceCrack['outline'],
  length: meters(length),
  depth: meters(depth),
  opening: meters(opening)
})
const metal = (sigma: number, permeability: number) => ({ conductivity: siemensPerMeter(sigma), permeability })

const signals = (part: CrackInPart, coil: PlacedCoil, places: readonly CoilPlace[]) =>
  must(crackAnswer(must(planCrack(part)), coil, places)).signals

describe('crackAnswer', () => {
  it.each(reference.cases)('$id is that of NumPy', (row) => {
    const { outline, length, depth, opening } = row.crack
    const part: CrackInPart = {
      crack: crackOf(outline, length, depth, opening),
      metal: metal(row.sigma, row.mur),
      thickness: 'infinite',
      frequency: hertz(row.f),
      cells: { along: row.cells[0]!, deep: row.cells[1]! }
    }
    const got = signals(
      part,
      coilOf(row.coil),
      row.places.map(([across, along]) => placeOf(across!, along!))
    )
    const size = Math.max(...row.closed.map(([re, im]) => Math.hypot(re!, im!)))
    got.forEach(({ closed, opening: gap, change }, at) => {
      const apart = Math.hypot(closed.resistance - row.closed[at]![0]!, closed.reactance - row.closed[at]![1]!)
      const gapApart = Math.hypot(gap.resistance - row.opening[at]![0]!, gap.reactance - row.opening[at]![1]!)
      expect(apart / size).toBeLessThan(reference.tolerance)
      expect(gapApart / size).toBeLessThan(reference.tolerance)
      expect(change.resistance).toBeCloseTo(closed.resistance + gap.resistance, 12)
    })
    expect(got).toHaveLength(row.places.length)
  })

  it.each(team15.problems)('agrees with what was measured: TEAM 15, $id', ({ coil, f, rows }) => {
    const { length, depth, opening } = team15.crack
    const part: CrackInPart = {
      crack: crackOf('rectangle', length, depth, opening),
      metal: metal(team15.sigma, 1),
      thickness: meters(team15.thickness),
      frequency: hertz(f),
      cells: { along: 40, deep: 20 }
    }
    const got = signals(
      part,
      coilOf(coil),
      rows.map(([x]) => placeOf(0, x! * 1e-3))
    )
    const inductance = got.map(({ change }) => (change.reactance / (2 * Math.PI * f)) * 1e6)
    const resistance = got.map(({ change }) => change.resistance)
    const column = (k: number) => rows.map((row) => row[k]!)
    expect(rms(inductance, column(1))).toBeLessThan(team15.tolerance.rmsInductance)
    expect(rms(resistance, column(2))).toBeLessThan(team15.tolerance.rmsResistance)
    expect(Math.abs(peakOf(inductance, column(0)) - peakOf(column(1), column(0)))).toBeLessThanOrEqual(
      team15.tolerance.peak_mm
    )
  })

  const small: CrackInPart = {
    crack: crackOf('rectangle', 1.5e-3, 0.75e-3, 0.04e-3),
    metal: metal(18.97e6, 1),
    thickness: 'infinite',
    frequency: hertz(2e5),
    cells: { along: 16, deep: 8 }
  }
  const rawC = { r1: 0.3e-3, r2: 0.7e-3, length: 0.6e-3, turns: 60, liftOff: 0.15e-3 }

  it('is alike on both sides of the middle', () => {
    const [left, right] = signals(small, coilOf(rawC), [placeOf(0, -0.6e-3), placeOf(0, 0.6e-3)])
    expect(left!.change.resistance / right!.change.resistance).toBeCloseTo(1, 9)
    expect(left!.change.reactance / right!.change.reactance).toBeCloseTo(1, 9)
  })
  it('goes with the square of the turns', () => {
    const [one] = signals(small, coilOf(rawC), [placeOf(0, 0.4e-3)])
    const [ten] = signals(small, coilOf({ ...rawC, turns: 600 }), [placeOf(0, 0.4e-3)])
    expect(ten!.change.reactance / one!.change.reactance).toBeCloseTo(100, 9)
    expect(ten!.change.resistance / one!.change.resistance).toBeCloseTo(100, 9)
  })
  it('is s times smaller where all lengths are s times larger and the frequency s squared lower', () => {
    const s = 3
    const large: CrackInPart = {
      ...small,
      crack: crackOf('rectangle', s * 1.5e-3, s * 0.75e-3, s * 0.04e-3),
      frequency: hertz(2e5 / (s * s))
    }
    const rawLarge = { r1: s * 0.3e-3, r2: s * 0.7e-3, length: s * 0.6e-3, turns: 60, liftOff: s * 0.15e-3 }
    const [one] = signals(small, coilOf(rawC), [placeOf(0, 0.4e-3)])
    const [other] = signals(large, coilOf(rawLarge), [placeOf(0, s * 0.4e-3)])
    expect((other!.change.resistance * s) / one!.change.resistance).toBeCloseTo(1, 9)
    expect((other!.change.reactance * s) / one!.change.reactance).toBeCloseTo(1, 9)
  })
})

describe('an ellipse of cells', () => {
  // Oracle: the limit of fine cells does not depend on how the steps fall.
  it.each(['half ellipse', 'quarter ellipse'])('hardly depends on how it is cut: %s', (outline) => {
    const cut = (along: number, deep: number) => {
      const part: CrackInPart = {
        crack: crackOf(outline, 1.5e-3, 0.75e-3, 0),
        metal: metal(18.97e6, 1),
        thickness: 'infinite',
        frequency: hertz(5e5),
        cells: { along, deep }
      }
      const coil = coilOf({ r1: 0.3e-3, r2: 0.7e-3, length: 0.6e-3, turns: 60, liftOff: 0.15e-3 })
      return signals(part, coil, [placeOf(0, -0.5e-3), placeOf(0, 0)]).map(({ closed }) => closed)
    }
    const fine = cut(40, 20)
    cut(24, 12).forEach((coarse, at) => {
      const apart = Math.hypot(coarse.resistance - fine[at]!.resistance, coarse.reactance - fine[at]!.reactance)
      expect(apart / Math.hypot(fine[at]!.resistance, fine[at]!.reactance)).toBeLessThan(0.03)
    })
  })
})

/** Root mean square of the difference over the largest value measured. */
function rms(got: readonly number[], measured: readonly number[]): number {
  const squares = got.reduce((sum, value, at) => sum + (value - measured[at]!) ** 2, 0)
  return Math.sqrt(squares / got.length) / Math.max(...measured.map(Math.abs))
}

/** Where the largest value stands; the middle of where, when it stands more than once. */
function peakOf(values: readonly number[], places: readonly number[]): number {
  const highest = Math.max(...values)
  const where = places.filter((_, at) => values[at] === highest)
  return where.reduce((sum, x) => sum + x, 0) / where.length
}
