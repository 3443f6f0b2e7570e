import { ohms, type Quantity } from '@trueloop/ground/quantity'
import type { Impedance } from '../layers/impedance.ts'
import { type ComplexTable, complexTable } from './dipole.kernel.ts'
import { expandPair, reducePair } from './factor.kernel.ts'
import type { CrackField } from './field.ts'
import { gradientSum } from './opening.kernel.ts'
import type { CrackBlock, CrackPlan } from './plan.ts'

export interface FieldsOnCrack {
  /** Of the coil that carries the current. */
  readonly driver: CrackField
  /** Of the coil that gives the voltage, as if it carried the current; the same for an absolute coil. */
  readonly pickUp: CrackField
}

/** Impedance with the crack less impedance without it: a transfer impedance where driver and pick-up are two coils. */
export interface CrackChange {
  /** Of the closed crack. */
  readonly closed: Impedance
  /** What the opening adds, to first order. */
  readonly opening: Impedance
  readonly change: Impedance
  /**
   * What the field of the pick-up, however directed, could make of the answer if no cell canceled another. Of a closed
   * crack only the field square to it is counted.
   */
  readonly uncanceled: Quantity<'ohm'>
}

/**
 * Delta Z = -integral of E_pickUp p_driver dS at each place, by reciprocity; p the layer of dipoles that the driver calls up.
 * One solution of the factored matrix for each place; a second one for the pick-up only where the crack is open.
 *
 * An opening w adds, to first order and not conjugated, sigma w integral of F_pickUp F_driver dS and (w / (4 sigma)) integral
 * of (grad p_pickUp . grad p_driver) dS: w / 2 of metal is missing on each face, where the field in the plane is
 * F +- grad p / (2 sigma), F that of the coil alone along the crack. source: bowler-1994; the terms of the opening were
 * derived here; over the plane, where F is zero, measurements agree with them (team-15), beside it nothing was compared
 */
export function crackChanges(plan: CrackPlan, { driver, pickUp }: FieldsOnCrack): CrackChange[] {
  const driven = solved(plan, driver.square)
  const isOne = pickUp === driver || plan.part.crack.opening === 0
  const heard = isOne ? driven : solved(plan, pickUp.square)
  const all = plan.inside.length
  return Array.from({ length: driver.square.re.length / all }, (_, place) => {
    const of = (table: ComplexTable) => placeOf(table, place, all)
    const along = pickUp.along && of(pickUp.along)
    const sides = along && driver.along ? product(along, of(driver.along), plan.inside) : [0, 0]
    return changeAt(plan, { field: of(pickUp.square), driven: of(driven), heard: of(heard), along, sides })
  })
}

/** Sum over the cells of the crack of a b. */
function product(a: ComplexTable, b: ComplexTable, inside: Uint8Array): readonly number[] {
  let re = 0
  let im = 0
  for (let k = 0; k < inside.length; k++) {
    if (inside[k] === 0) continue
    re += a.re[k]! * b.re[k]! - a.im[k]! * b.im[k]!
    im += a.re[k]! * b.im[k]! + a.im[k]! * b.re[k]!
  }
  return [re, im]
}

const placeOf = ({ re, im }: ComplexTable, place: number, all: number): ComplexTable => ({
  re: re.subarray(place * all, (place + 1) * all),
  im: im.subarray(place * all, (place + 1) * all)
})

/** -p, A; [place, cell along, row]. */
function solved(plan: CrackPlan, field: ComplexTable): ComplexTable {
  const answers = complexTable(field.re.length)
  for (const block of plan.blocks) addSolution(plan, block, { field, answers })
  return answers
}

interface Solving {
  readonly field: ComplexTable
  readonly answers: ComplexTable
}

/** Solves one block for all places, two at a time, and adds what it says to the answers. */
function addSolution(
  { grid, inside }: CrackPlan,
  { parity, cells, factor }: CrackBlock,
  { field, answers }: Solving
): void {
  const all = inside.length
  const places = field.re.length / all
  const mirrored = cells.map((cell) => mirrorOf(cell, grid))
  const x = complexTable(2 * cells.length)
  for (let place = 0; place < places; place += 2) {
    const pair = [place, Math.min(place + 1, places - 1)]
    pair.forEach((from, row) => {
      for (let c = 0; c < cells.length; c++) {
        const at = from * all + cells[c]!
        const there = from * all + mirrored[c]!
        x.re[row * cells.length + c] = parity === 0 ? field.re[at]! : 0.5 * (field.re[at]! + parity * field.re[there]!)
        x.im[row * cells.length + c] = parity === 0 ? field.im[at]! : 0.5 * (field.im[at]! + parity * field.im[there]!)
      }
    })
    reducePair(factor, x, 0, cells.length, cells.length)
    expandPair(factor, x, 0, cells.length)
    pair.slice(0, places - place).forEach((to, row) => {
      for (let c = 0; c < cells.length; c++) {
        const re = x.re[row * cells.length + c]!
        const im = x.im[row * cells.length + c]!
        answers.re[to * all + cells[c]!]! += re
        answers.im[to * all + cells[c]!]! += im
        if (parity === 0) continue
        answers.re[to * all + mirrored[c]!]! += parity * re
        answers.im[to * all + mirrored[c]!]! += parity * im
      }
    })
  }
}

const mirrorOf = (cell: number, { along, deep }: CrackPlan['grid']): number =>
  (along - 1 - Math.floor(cell / deep)) * deep + (cell % deep)

/** Sum of the sizes of the field, in the plane and square to it as far as known, times that of b. */
function sizes(field: ComplexTable, along: ComplexTable | undefined, b: ComplexTable): number {
  let sum = 0
  for (let k = 0; k < b.re.length; k++) {
    const square = sizeAt(field, k) + (along === undefined ? 0 : sizeAt(along, k))
    sum += Math.sqrt(square * sizeAt(b, k))
  }
  return sum
}

const sizeAt = ({ re, im }: ComplexTable, k: number): number => re[k]! * re[k]! + im[k]! * im[k]!

interface AtPlace {
  readonly field: ComplexTable
  readonly driven: ComplexTable
  readonly heard: ComplexTable
  readonly along: ComplexTable | undefined
  readonly sides: readonly number[]
}

function changeAt({ part, grid, inside }: CrackPlan, { field, driven, heard, along, sides }: AtPlace): CrackChange {
  const [re, im] = product(field, driven, inside)
  const area = grid.width * grid.height
  const closed = impedance(area * re!, area * im!)
  const sum = new Float64Array(2)
  gradientSum({ p: driven, q: heard, inside }, grid, sum)
  const { opening } = part.crack
  const { conductivity } = part.metal
  const gap = opening / (4 * conductivity)
  const beside = opening * conductivity * area
  const open = impedance(gap * sum[0]! + beside * sides[0]!, gap * sum[1]! + beside * sides[1]!)
  return {
    closed,
    opening: open,
    uncanceled: ohms(area * sizes(field, along, driven)),
    change: impedance(closed.resistance + open.resistance, closed.reactance + open.reactance)
  }
}

const impedance = (resistance: number, reactance: number): Impedance => ({
  resistance: ohms(resistance),
  reactance: ohms(reactance)
})
