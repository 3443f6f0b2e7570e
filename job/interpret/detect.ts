import { cos, PI, sin, workColumn } from '@trueloop/ground/numerics'
import { type Cone, coneOf, weighingOf } from './cone.ts'
import { type Covariance, largerOf, type Point, scaled, varianceAlong } from './covariance.ts'
import { falseCallsAbove, fieldOf, levelFor, textureOf } from './level.ts'
import { noiseOfHole, type Stretch } from './noise.ts'
import type { Detection } from './numbers.ts'
import type { Sheet } from './sheet.ts'
import { type Place, type Placing, placesOf, type Spot, spotOf, type Taken } from './spots.ts'
import { type Weighing, weigh } from './statistic.kernel.ts'
import { takeOff } from './taking-off.ts'

export interface Detecting {
  readonly sheet: Sheet
  /** sizes joined over revolutions, as long as the sheet's columns */
  readonly joined: { readonly x: Float64Array; readonly y: Float64Array }
  /** elements that lie on the wall, away from its faces: there the noise is taken */
  readonly wall: Stretch
  /** covariance of sizes on one revolution on the clear wall of the reference */
  readonly single: Covariance
  /** the same of joined sizes: what is taken where a hole has too little wall to tell its own */
  readonly reference: Covariance
  /** angles of the notches as lines, rad */
  readonly notchPhases: readonly number[]
  /** angle of the named notch as a line, rad */
  readonly namedPhase: number
  /** the alarm as a share of the named notch: the ceiling of every threshold */
  readonly alarm: number
  /** what the matched output shows around a flaw, `[512]`, 1 in the middle */
  readonly answer: Float64Array
  /** distance of the notch's lobes, ruler points */
  readonly spacing: number
  readonly layerOf: (ruler: number) => number
  /** revolutions to each side over which sizes are joined */
  readonly reach: number
  /** revolutions between the two maxima that the mid-bore notch has along the axis; absent where it has but one */
  readonly twin?: number | undefined
  readonly numbers: Detection
}

/** The noise that a pass was judged by. Sizes along the named notch's direction, 1 = the named notch. */
export interface Judgement {
  readonly noise: Covariance
  readonly points: number
  /** deviation of the noise met here, and of the larger of it and the reference's */
  readonly hole: number
  readonly along: number
  /** deviations by which a place has to stand out, and that as a size */
  readonly level: number
  readonly threshold: number
  /** indications that the noise met here alone would bring up above that threshold: modelled */
  readonly falseCalls: number
  /** the noise met here would ask for more than the technique's alarm */
  readonly tooNoisy: boolean
}

export interface Detected {
  readonly judgement: Judgement
  /** places that stand out, strongest first */
  readonly spots: readonly Spot[]
  /** noise of sizes on one revolution, with all that stands out in it; absent where the joined ones tell of no noise */
  readonly single: Covariance | undefined
}

const DEG = PI / 180

/**
 * The final noise, threshold and places of one pass. Where the alarm lies below what the noise asks for, the alarm rules.
 * What stands out is taken off with all that it shows around the wall, and the rest is looked at again, with its own noise:
 * so a flaw neither hides in the ringing of a stronger one, nor makes the wall louder than it is.
 */
export function detect(input: Detecting): Detected {
  const first = detectWith(input, { left: sizesOf(input), places: [] })
  const { single } = first.heard
  if (first.found.length === 0) return { judgement: first.judgement, spots: [], single }
  const left = leftAtFirst(input)
  let last = first
  let places: readonly Taken[] = []
  for (let look = 0; look < MOST_LOOKS && last.found.length > 0; look++) {
    const { placing } = last
    const from = { ...left, perTurn: placing.perTurn, answer: placing.answer, most: MOST_SHOWN * (input.reach + 1) }
    places = [...places, ...last.found.map((place) => ({ ...place, shown: takeOff(place, from) }))]
    last = detectWith(input, { left, places, before: last.heard })
  }
  const spots = [...places, ...last.found].sort((a, b) => b.statistic - a.statistic || a.at - b.at).map(spotOf)
  return { judgement: last.judgement, spots, single }
}

/** Each look finds what the one before hid. What the last one finds is kept as well: nothing that stands out is lost. */
const MOST_LOOKS = 6

/** Times the revolutions that are joined to either side: further a place is not followed beyond its ridge. */
const MOST_SHOWN = 6

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Fitted sizes of a sheet, joined over revolutions and on one. */
interface Sizes {
  readonly joined: Columns
  readonly single: Columns
}

const sizesOf = ({ sheet: { cx, cy }, joined }: Detecting): Sizes => ({ joined, single: { x: cx, y: cy } })

const [joinedX, joinedY, singleX, singleY] = [workColumn(), workColumn(), workColumn(), workColumn()]
const statisticColumn = workColumn()

/** Copies of the sizes, from which places are taken off. */
function leftAtFirst(input: Detecting): Sizes {
  const { joined, single } = sizesOf(input)
  const copied = (column: Float64Array, into: typeof joinedX): Float64Array => {
    const copy = into(input.sheet.length)
    copy.set(column.subarray(0, copy.length))
    return copy
  }
  return {
    joined: { x: copied(joined.x, joinedX), y: copied(joined.y, joinedY) },
    single: { x: copied(single.x, singleX), y: copied(single.y, singleY) }
  }
}

/** The hole's own noise in one look, joined and on one revolution. */
interface Heard {
  readonly joined: Covariance
  readonly single: Covariance | undefined
}

interface Looked {
  readonly judgement: Judgement
  readonly heard: Heard
  readonly placing: Placing
  readonly found: readonly Place[]
}

interface Looking {
  readonly left: Sizes
  readonly places: readonly Taken[]
  /** what the look before heard */
  readonly before?: Heard
}

function detectWith(input: Detecting, { left, places, before }: Looking): Looked {
  const taken = places.length === 0 ? undefined : takenBy(places.map(spotOf), input)
  const { judgement, weighing, heard } = judgementOf(input, left, { taken, before })
  const level = Math.min(judgement.level, Math.max(1, input.alarm / judgement.along))
  const { x, y } = left.joined
  const { length } = input.sheet
  const statistic = weigh(x, y, weighing, { least: level, out: statisticColumn(length) })
  const { perTurn, step, first } = input.sheet
  const { numbers, spacing, layerOf } = input
  const placing: Placing = {
    statistic,
    x: x.subarray(0, length),
    y: y.subarray(0, length),
    perTurn,
    level,
    wander: Math.max(1, Math.round((numbers.wander * spacing) / step)),
    shift: Math.max(1, Math.round((numbers.sideLobeShift * spacing) / step)),
    freedom: numbers.sideLobeFreedom,
    residue: numbers.sideLobeResidue,
    answer: every(input.answer, step),
    layerOf: (element) => layerOf(first + element * step),
    ...(input.twin === undefined ? {} : { twin: input.twin }),
    lobes: lobesOf(input),
    beyond: 2 * input.reach + 2,
    weighing
  }
  return { judgement, heard, placing, found: placesOf(placing, places) }
}

/**
 * Elements that what stands out first takes for itself, 1 each: they are no noise. Around its ridge as far as the field
 * reaches along the axis, and as far as the notch's own signal and its side lobes reach around the wall.
 */
function takenBy(spots: readonly Spot[], input: Detecting): Uint8Array {
  const { sheet, reach } = input
  const { perTurn, length } = sheet
  const taken = new Uint8Array(length)
  const half = lobesOf(input)
  for (const { at, from, to } of spots) {
    const first = Math.round((from - at) / perTurn) - reach - 1
    const last = Math.round((to - at) / perTurn) + reach + 1
    for (let row = first; row <= last; row++) {
      const middle = at + row * perTurn
      taken.fill(1, Math.max(0, middle - half), Math.max(0, Math.min(length, middle + half + 1)))
    }
  }
  return taken
}

const lobesOf = ({ sheet: { perTurn, step }, spacing }: Detecting): number =>
  Math.min(Math.floor(perTurn / 2) - 1, Math.ceil((LOBE_SPACINGS * spacing) / step))

/** Lobe spacings to each side of a place within which its own signal, side lobes with it, is above the noise. */
const LOBE_SPACINGS = 2.5

function every(column: Float64Array, step: number): Float64Array {
  const out = new Float64Array(column.length / step)
  for (let i = 0; i < out.length; i++) out[i] = column[i * step]!
  return out
}

function coneFor({ notchPhases, numbers }: Detecting): Cone {
  return coneOf(notchPhases, { margin_rad: numbers.coneMargin * DEG, least_rad: numbers.leastCone * DEG })
}

function judgementOf(
  input: Detecting,
  { joined, single }: Sizes,
  { taken, before }: { readonly taken: Uint8Array | undefined; readonly before: Heard | undefined }
): { readonly judgement: Judgement; readonly weighing: Weighing; readonly heard: Heard } {
  const { sheet, wall, numbers, alarm } = input
  const { covariance, points } = noiseOfHole(joined, wall, { taken, near: before?.joined })
  const direction = { x: cos(input.namedPhase), y: sin(input.namedPhase) }
  const told = points > 0 && covariance.xx * covariance.yy > covariance.xy * covariance.xy
  const own = told ? noiseOfHole(single, wall, { taken, near: before?.single }).covariance : undefined
  const noise = own === undefined ? input.reference : scaled(covariance, louder(own, input.single, direction))
  const weighing = weighingOf(noise, coneFor(input))
  const texture = textureOf(joined, { perTurn: sheet.perTurn, wall, weighing })
  const field = fieldOf(texture, { perTurn: sheet.perTurn, weighing })
  const level = levelFor(field, numbers.falseCallsPerHole)
  const hole = alongOf(told ? covariance : noise, direction)
  const along = alongOf(noise, direction)
  const threshold = Math.min(level * along, alarm)
  const falseCalls = points > 0 ? falseCallsAbove(threshold / hole, field) : 0
  const judgement = { noise, points, hole, along, level, threshold, falseCalls, tooNoisy: level * hole > alarm }
  return { judgement, weighing, heard: { joined: covariance, single: own } }
}

/**
 * By how much the larger of reference and hole is above the hole's own noise, along a direction, as variance. Measured on
 * one revolution: what joining leaves of the noise is told by the hole's whole wall; between its notches the reference has
 * too little clear wall for that, a dozen places or two that are each for itself.
 */
function louder(hole: Covariance, reference: Covariance, direction: Point): number {
  const own = alongOf(hole, direction)
  const both = alongOf(largerOf(hole, reference), direction)
  return own > 0 ? Math.max(1, (both * both) / (own * own)) : 1
}

/**
 * Deviation of a size fitted along one direction, lift-off being free to be anything: 1/√(d′ S⁻¹ d), the noise against
 * which a flaw of that direction is weighed.
 */
function alongOf({ xx, xy, yy }: Covariance, { x, y }: Point): number {
  const det = xx * yy - xy * xy
  if (!(det > 0)) return Math.sqrt(varianceAlong({ xx, xy, yy }, { x, y }))
  return Math.sqrt(det / (yy * x * x - 2 * xy * x * y + xx * y * y))
}
