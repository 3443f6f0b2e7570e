import { ohms } from '@trueloop/ground/quantity'
import type { Impedance } from '../layers/impedance.ts'
import { type ComplexTable, complexTable } from './dipole.kernel.ts'
import { expandPair, reducePair } from './factor.kernel.ts'
import { gradientSum } from './opening.kernel.ts'
import type { CrackBlock, CrackPlan } from './plan.ts'

/** Fields square to the crack plane in the middle of each cell for unit current, V/m, [place, cell along, row]. */
export interface FieldsOnCrack {
  /** Of the coil that carries the current. */
  readonly driver: ComplexTable
  /** Of the coil that gives the voltage, as if it carried the current; the same table for an absolute coil. */
  readonly pickUp: ComplexTable
}

/** Impedance with the crack less impedance without it: a transfer impedance where driver and pick-up are two coils. */
export interface CrackChange {
  /** Of the closed crack. */
  readonly closed: Impedance
  /** What the opening adds, to first order. */
  readonly opening: Impedance
  readonly change: Impedance
}

/**
 * Delta Z = -integral of E_pickUp p_driver dS at each place, by reciprocity; p the layer of dipoles that the driver calls up.
 * One solution of the factored matrix for each place; a second one for the pick-up only where the crack is open. The
 * opening w adds (w / (4 sigma)) integral of (grad p_pickUp . grad p_driver) dS. source: bowler-1994
 */
export function crackChanges(plan: CrackPlan, { driver, pickUp }: FieldsOnCrack): CrackChange[] {
  const driven = solved(plan, driver)
  const isOne = pickUp === driver || plan.part.crack.opening === 0
  const heard = isOne ? driven : solved(plan, pickUp)
  const all = plan.inside.length
  return Array.from({ length: driver.re.length / all }, (_, place) => {
    const of = (table: ComplexTable) => placeOf(table, place, all)
    return changeAt(plan, { field: of(pickUp), driven: of(driven), heard: of(heard) })
  })
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

interface AtPlace {
  readonly field: ComplexTable
  readonly driven: ComplexTable
  readonly heard: ComplexTable
}

function changeAt({ part, grid, inside }: CrackPlan, { field, driven, heard }: AtPlace): CrackChange {
  const closed = { re: 0, im: 0 }
  for (let k = 0; k < inside.length; k++) {
    closed.re += field.re[k]! * driven.re[k]! - field.im[k]! * driven.im[k]!
    closed.im += field.re[k]! * driven.im[k]! + field.im[k]! * driven.re[k]!
  }
  const area = grid.width * grid.height
  const sum = new Float64Array(2)
  gradientSum({ p: driven, q: heard, inside }, grid, sum)
  const gap = part.crack.opening / (4 * part.metal.conductivity)
  return {
    closed: impedance(area * closed.re, area * closed.im),
    opening: impedance(gap * sum[0]!, gap * sum[1]!),
    change: impedance(area * closed.re + gap * sum[0]!, area * closed.im + gap * sum[1]!)
  }
}

const impedance = (resistance: number, reactance: number): Impedance => ({
  resistance: ohms(resistance),
  reactance: ohms(reactance)
})
