import { ohms } from '@trueloop/ground/quantity'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { delayComplaint } from '../frequency.ts'
import { type PlacedCoil, placedComplaint } from '../layers/coil.ts'
import type { Impedance } from '../layers/impedance.ts'
import type { CoilPlace } from './crack.ts'
import { type ComplexTable, complexTable } from './dipole.kernel.ts'
import { expandPair, reducePair } from './factor.kernel.ts'
import { incidentField } from './incident.ts'
import { gradientSum } from './opening.kernel.ts'
import type { CrackBlock, CrackPlan } from './plan.ts'
import { type CrackStatement, crackStatement } from './statement.ts'

/** Impedance with the crack less impedance without it, at one place of the coil. */
export interface CrackSignal {
  readonly place: CoilPlace
  /** Of the closed crack. */
  readonly closed: Impedance
  /** What the opening adds, to first order. */
  readonly opening: Impedance
  readonly change: Impedance
}

export interface CrackAnswer {
  readonly signals: readonly CrackSignal[]
  readonly statement: CrackStatement
}

/**
 * Answer of a crack to a coil at any number of places: Delta Z = -integral of E p dS for unit current. An opening w adds
 * (w / (4 sigma)) integral of (grad p . grad p) dS, not conjugated: w / 2 of metal is missing on each face, where the
 * tangential field is +- grad p / (2 sigma); that holds with the coil over the crack plane.
 * Refuses: fields/frequency-too-high, fields/bad-place, fields/opening-off-plane, and as coaxialProbe.
 * source: bowler-1994; the term of the opening was derived here, and measurements agree with it (team-15)
 */
export function crackAnswer(
  plan: CrackPlan,
  coil: PlacedCoil,
  places: readonly CoilPlace[]
): Result<CrackAnswer, FieldsCode> {
  const bad =
    placedComplaint(coil) ??
    delayComplaint(plan.part.frequency, coil.coil.outerRadius) ??
    placesComplaint(plan, coil, places)
  if (bad !== undefined) return bad
  const field = incidentField(plan, coil, places)
  const answers = complexTable(field.re.length)
  for (const block of plan.blocks) addSolution(plan, block, { field, answers })
  const signals = places.map((place, at) => signalAt(plan, { place, at, field, answers }))
  return { signals, statement: crackStatement(plan.part) }
}

/** Beyond this many radii a coil sees nothing, and wave numbers get many. */
const FARTHEST = 20

function placesComplaint(
  { part, grid }: CrackPlan,
  { coil }: PlacedCoil,
  places: readonly CoilPlace[]
): Refusal<FieldsCode> | undefined {
  const limit = FARTHEST * coil.outerRadius + 0.5 * grid.along * grid.width
  const isNear = ({ across, along }: CoilPlace) => Math.abs(across) <= limit && Math.abs(along) <= limit
  if (places.length === 0 || !places.every(isNear))
    return refuse('fields/bad-place', {
      found: places.length === 0 ? 'no place of the coil' : `a place farther than ${limit} m from the crack`,
      needed: `places within ${FARTHEST} outer radii of the coil`,
      remedy: 'give places in m from the middle of the crack'
    })
  if (part.crack.opening === 0 || places.every(({ across }) => across === 0)) return undefined
  return refuse('fields/opening-off-plane', {
    found: 'an open crack and a coil beside its plane',
    needed: 'a coil over the crack plane: beside it a further term of the opening is not in this model',
    remedy: 'set the opening to zero, or move the coil along the crack'
  })
}

interface Solving {
  readonly field: ComplexTable
  /** -p, A; [place, cell along, row]. */
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

interface AtPlace extends Solving {
  readonly place: CoilPlace
  readonly at: number
}

function signalAt({ part, grid, inside }: CrackPlan, { place, at, field, answers }: AtPlace): CrackSignal {
  const [from, to] = [at * inside.length, (at + 1) * inside.length]
  const p = { re: answers.re.subarray(from, to), im: answers.im.subarray(from, to) }
  const closed = { re: 0, im: 0 }
  for (let k = 0; k < inside.length; k++) {
    closed.re += field.re[from + k]! * p.re[k]! - field.im[from + k]! * p.im[k]!
    closed.im += field.re[from + k]! * p.im[k]! + field.im[from + k]! * p.re[k]!
  }
  const area = grid.width * grid.height
  const sum = new Float64Array(2)
  gradientSum(p, inside, grid, sum)
  const gap = part.crack.opening / (4 * part.metal.conductivity)
  return {
    place,
    closed: impedance(area * closed.re, area * closed.im),
    opening: impedance(gap * sum[0]!, gap * sum[1]!),
    change: impedance(area * closed.re + gap * sum[0]!, area * closed.im + gap * sum[1]!)
  }
}

const impedance = (resistance: number, reactance: number): Impedance => ({
  resistance: ohms(resistance),
  reactance: ohms(reactance)
})
