/** Oracles: reciprocity, and that two coils in series answer like their sum. */
import { hertz, meters, type Quantity, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { ComplexTable } from './dipole.kernel.ts'
import type { CrackField } from './field.ts'
import { incidentField } from './incident.ts'
import { planCrack } from './index.ts'
import { type CrackChange, crackChanges } from './solve.ts'

describe.each([0, 0.04e-3])('crackChanges, opening %f m', (opening) => {
  const plan = planCrack({
    crack: { outline: 'rectangle', length: meters(1.5e-3), depth: meters(0.75e-3), opening: meters(opening) },
    metal: { conductivity: siemensPerMeter(18.97e6), permeability: 1 },
    thickness: 'infinite',
    frequency: hertz(2e5),
    cells: { along: 16, deep: 8 }
  })
  if (isRefusal(plan)) throw new Error(plan.code)
  const coil = (outer: Quantity<'m'>, turns: number) => ({
    coil: { innerRadius: meters(0.3e-3), outerRadius: outer, length: meters(0.6e-3), turns },
    liftOff: meters(0.15e-3)
  })
  const places = [-0.7e-3, 0.2e-3, 0.4e-3].map((along) => ({ across: meters(along), along: meters(along) }))
  const [a, b] = [coil(meters(0.7e-3), 60), coil(meters(1.1e-3), 35)].map((one) => incidentField(plan, one, places))
  const sum = (one: ComplexTable, other: ComplexTable): ComplexTable => ({
    re: one.re.map((value, at) => value + other.re[at]!),
    im: one.im.map((value, at) => value + other.im[at]!)
  })
  const square = sum(a!.square, b!.square)
  const both: CrackField = a!.along && b!.along ? { square, along: sum(a!.along, b!.along) } : { square }
  const of = (driver: CrackField, pickUp: CrackField) => crackChanges(plan, { driver, pickUp })
  const values = (changes: CrackChange[]) =>
    changes.flatMap(({ closed, opening: gap }) => [closed.resistance, closed.reactance, gap.resistance, gap.reactance])
  const apart = (one: number[], other: number[]) =>
    Math.max(...one.map((value, at) => Math.abs(value - other[at]!))) / Math.max(...other.map(Math.abs))

  it('does not ask which of two coils carries the current', () =>
    expect(apart(values(of(a!, b!)), values(of(b!, a!)))).toBeLessThan(1e-11))

  it('of two coils in series is the sum of each and twice their transfer', () => {
    const [own, other, between] = [of(a!, a!), of(b!, b!), of(a!, b!)].map(values)
    const total = own!.map((value, at) => value + other![at]! + 2 * between![at]!)
    expect(apart(total, values(of(both, both)))).toBeLessThan(1e-11)
  })
})
