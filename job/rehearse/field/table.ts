import { hertz, meters, radians, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type CrackStatement, type Metal, planWallCrack, standardDepth, wallPairAnswer } from '@trueloop/metal/fields'
import { cellsFor } from '../../plan/index.ts'
import type { FieldFlaw, FieldProbe, FieldWinding } from './probe.ts'

/**
 * Answer of a flaw to a pair at places on a grid: [around, along], Ω. Around: arc on the wall from the flaw to the middle of
 * the pair, from 0 up; the other side is the same with the other sign. Along: from the middle of the flaw.
 */
export interface ResponseTable {
  readonly around: { readonly count: number; readonly step_m: number }
  readonly along: { readonly count: number; readonly step_m: number; readonly first_m: number }
  /** Whether places before the middle of the flaw answer as those behind it; then the grid begins at the middle. */
  readonly isAlike: boolean
  readonly re: Float64Array
  readonly im: Float64Array
  readonly statement: CrackStatement
}

/** Beyond this many outer radii of the driver less than a thousandth of the answer is left. */
const REACH = 2.6
const AROUND = 40
const ALONG = 24

/** The table of a flaw in a hole. Refuses: as planWallCrack and wallPairAnswer. */
export function responseTable(probe: FieldProbe, diameter_m: number, flaw: FieldFlaw): Result<ResponseTable> {
  const metal = metalOf(probe)
  const frequency = hertz(probe.frequency_Hz)
  const delta = standardDepth(frequency, metal)
  if (isRefusal(delta)) return delta
  const crack = {
    ...{ outline: flaw.outline, opening: meters(0) },
    ...{ length: meters(flaw.length_m), depth: meters(flaw.depth_m) }
  }
  const holeDiameter = meters(diameter_m)
  const plan = planWallCrack({ crack, metal, frequency, cells: cellsFor(flaw, delta), holeDiameter })
  if (isRefusal(plan)) return plan
  const grid = gridOf(probe, flaw)
  const places = placesOf(grid, diameter_m)
  const pickUps = { ...placedOf(probe.pickUps), turned: radians(0) }
  const answer = wallPairAnswer(plan, { driver: placedOf(probe.driver), pickUps }, places)
  if (isRefusal(answer)) return answer
  return {
    ...grid,
    re: Float64Array.from(answer.signals, ({ change }) => change.resistance),
    im: Float64Array.from(answer.signals, ({ change }) => change.reactance),
    statement: answer.statement
  }
}

export const metalOf = ({ metal }: FieldProbe): Metal => ({
  conductivity: siemensPerMeter(metal.conductivity_S_per_m),
  permeability: metal.permeability
})

export const placedOf = ({ inner_m, outer_m, length_m, turns, lift_off_m }: FieldWinding) => ({
  coil: { innerRadius: meters(inner_m), outerRadius: meters(outer_m), length: meters(length_m), turns },
  liftOff: meters(lift_off_m)
})

type Grid = Pick<ResponseTable, 'around' | 'along' | 'isAlike'>

function gridOf({ driver, pickUps }: FieldProbe, { outline, length_m }: FieldFlaw): Grid {
  const reach = REACH * Math.max(driver.outer_m, pickUps.outer_m)
  const end = 0.5 * length_m + reach
  const isAlike = outline === 'half ellipse'
  const steps = isAlike ? ALONG : 2 * ALONG
  return {
    around: { count: AROUND + 1, step_m: reach / AROUND },
    along: { count: steps + 1, step_m: end / ALONG, first_m: isAlike ? 0 : -end },
    isAlike
  }
}

/** All places at once: they share the tables of the fields. */
function placesOf({ around, along }: Grid, diameter_m: number) {
  return Array.from({ length: around.count * along.count }, (_, at) => ({
    // the pair looks at the flaw from before it: its leading half then lies over the flaw and counts plus
    angle: radians((-2 * around.step_m * Math.floor(at / along.count)) / diameter_m),
    along: meters(along.first_m + along.step_m * (at % along.count))
  }))
}
