import { atan2, cos, PI, sin, TAU } from '@trueloop/ground/numerics'
import { hertz, meters } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { coaxialProbe, type Impedance, impedanceChange, raised } from '@trueloop/metal/fields'
import type { PairProbe } from '../scene.ts'
import type { FieldProbe } from './probe.ts'
import { metalOf, placedOf, type ResponseTable } from './table.ts'
import { type TableShelf, tableOf } from './tables.ts'

/** One unit of a scene in Ω, and the turn that brings lift-off to -x. */
export interface FieldUnit {
  readonly ohm: number
  readonly turn_rad: number
}

const size = ({ resistance, reactance }: Impedance): number =>
  Math.sqrt(resistance * resistance + reactance * reactance)

/** A small further lift-off, as a share of the outer radius. */
const SMALL = 0.01

interface Half {
  /** Of one pick-up over the wall, Ω. */
  readonly wall: Impedance
  /** The same, a small lift higher, less it. */
  readonly lift: Impedance
  readonly rise_m: number
}

/** One half of a round winding sees half of what the whole one sees, wherever lift-off is even. Refuses: as coaxialProbe. */
function halfOf(probe: FieldProbe): Result<Half> {
  const both = coaxialProbe(placedOf(probe.driver), placedOf(probe.pickUps))
  if (isRefusal(both)) return both
  const rise_m = SMALL * probe.driver.outer_m
  const higher = raised(both, meters(rise_m))
  if (isRefusal(higher)) return higher
  const layers = [{ ...metalOf(probe), thickness: 'infinite' as const }]
  const here = impedanceChange(both, hertz(probe.frequency_Hz), layers)
  const there = impedanceChange(higher, hertz(probe.frequency_Hz), layers)
  if (isRefusal(here)) return here
  if (isRefusal(there)) return there
  const half = (re: number, im: number) => ({ resistance: 0.5 * re, reactance: 0.5 * im }) as Impedance
  return {
    wall: half(here.resistance, here.reactance),
    lift: half(there.resistance - here.resistance, there.reactance - here.reactance),
    rise_m
  }
}

/** What the unit notch gives: its peak-to-peak is one unit of the scene. Refuses: as responseTable. */
export function fieldUnit(probe: FieldProbe, diameter_m: number, shelf: TableShelf): Result<FieldUnit> {
  const half = halfOf(probe)
  if (isRefusal(half)) return half
  const table = tableOf(shelf, { probe, diameter_m, flaw: probe.unit })
  if (isRefusal(table)) return table
  const turn_rad = PI - atan2(half.lift.reactance, half.lift.resistance)
  return { ohm: 2 * farthestOf(table).size, turn_rad }
}

interface Farthest {
  readonly row: number
  readonly column: number
  readonly size: number
}

const sizeAt = ({ along, re, im }: ResponseTable, row: number, column: number): number => {
  const at = row * along.count + column
  return Math.sqrt(re[at]! * re[at]! + im[at]! * im[at]!)
}

function farthestOf(table: ResponseTable): Farthest {
  let best: Farthest = { row: 0, column: 0, size: 0 }
  for (let row = 0; row < table.around.count; row++)
    for (let column = 0; column < table.along.count; column++) {
      const found = sizeAt(table, row, column)
      if (found > best.size) best = { row, column, size: found }
    }
  return best
}

/**
 * The pair as a scene knows it, all of it from the field: lobes, footprint along the axis, lift-off, air, direction of a flaw.
 * `law` gives what the field has no word for: how crack and notch differ, and what imbalance the pair has.
 * Refuses: as responseTable and coaxialProbe.
 */
export function pairProbeOf(
  field: FieldProbe,
  diameter_m: number,
  { law, shelf }: { readonly law: PairProbe; readonly shelf: TableShelf }
): Result<PairProbe> {
  const half = halfOf(field)
  if (isRefusal(half)) return half
  const unit = fieldUnit(field, diameter_m, shelf)
  if (isRefusal(unit)) return unit
  const table = tableOf(shelf, { probe: field, diameter_m, flaw: field.unit })
  if (isRefusal(table)) return table
  const best = farthestOf(table)
  const at = best.row * table.along.count + best.column
  const direction = (re: number, im: number): number => folded(atan2(im, re) + unit.turn_rad)
  return {
    ...law,
    lobe_spacing_m: 2 * lobeOf(table, best) * table.around.step_m,
    footprint_m: footprintOf(table, best, field.unit.length_m),
    air: {
      size: size(half.wall) / unit.ohm,
      direction_rad: direction(0 - half.wall.resistance, 0 - half.wall.reactance)
    },
    liftoff: { per_m: size(half.lift) / half.rise_m / unit.ohm, direction_rad: PI },
    flaw: { ...law.flaw, direction_rad: direction(table.re[at]!, table.im[at]!), turn_rad_per_m: 0 },
    field
  }
}

const folded = (angle: number): number => angle - TAU * Math.round(angle / TAU)

/** Row of the largest answer, between the rows: the top of a parabola through it and its neighbors. */
function lobeOf(table: ResponseTable, { row, column, size: top }: Farthest): number {
  const [before, after] = [sizeAt(table, Math.max(0, row - 1), column), sizeAt(table, row + 1, column)]
  const bend = before - 2 * top + after
  return bend < 0 ? row + (0.5 * (before - after)) / bend : row
}

/** Length along the axis over which half of the answer is met, less the length of the flaw itself; never below a quarter of a lobe. */
function footprintOf(table: ResponseTable, { row, size: top }: Farthest, length_m: number): number {
  let last = 0
  for (let column = 0; column < table.along.count; column++) if (sizeAt(table, row, column) >= 0.5 * top) last = column
  const reach = Math.abs(table.along.first_m + last * table.along.step_m)
  return Math.max(2 * reach - length_m, 0.25 * row * table.around.step_m)
}

/** Turns an answer of the field into units of the scene. */
export const inUnits = ({ ohm, turn_rad }: FieldUnit): { readonly c: number; readonly s: number } => ({
  c: cos(turn_rad) / ohm,
  s: sin(turn_rad) / ohm
})
