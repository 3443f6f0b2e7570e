import { cos, PI, sin } from '@trueloop/ground/numerics'
import { type Cone, coneOf, weighingOf } from './cone.ts'
import { type Covariance, largerOf, type Point, varianceAlong } from './covariance.ts'
import { falseCallsAbove, fieldOf, levelFor, textureOf } from './level.ts'
import { noiseOfHole, type Stretch } from './noise.ts'
import type { Detection } from './numbers.ts'
import type { Sheet } from './sheet.ts'
import { type Spot, spotsOf } from './spots.ts'
import { type Weighing, weigh } from './statistic.kernel.ts'

export interface Detecting {
  readonly sheet: Sheet
  /** sizes joined over revolutions, as long as the sheet's columns */
  readonly joined: { readonly x: Float64Array; readonly y: Float64Array }
  /** elements that lie on the wall, away from its faces: there the noise is taken */
  readonly wall: Stretch
  /** covariance of the joined sizes on the clear wall of the reference */
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
}

const DEG = PI / 180

/** The final noise, threshold and places of one pass. Where the alarm lies below what the noise asks for, the alarm rules. */
export function detect(input: Detecting): Detected {
  const first = detectWith(input, new Uint8Array(0))
  if (first.spots.length === 0) return first
  return detectWith(input, takenBy(first.spots, input))
}

function detectWith(input: Detecting, taken: Uint8Array): Detected {
  const { judgement, weighing } = judgementOf(input, taken)
  const level = Math.min(judgement.level, Math.max(1, input.alarm / judgement.along))
  const { x, y } = input.joined
  const { length } = input.sheet
  const statistic = weigh(x, y, weighing, { least: level, length })
  const { perTurn, step, first } = input.sheet
  const { numbers, spacing, layerOf } = input
  const spots = spotsOf({
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
    weigh: (size) => one(weighing, size)
  })
  return { judgement, spots }
}

/**
 * Elements that what stands out first takes for itself, 1 each: they are no noise. Around its ridge as far as the field
 * reaches along the axis, and as far as the notch's own signal and its side lobes reach around the wall.
 */
function takenBy(spots: readonly Spot[], { sheet, spacing, reach }: Detecting): Uint8Array {
  const { perTurn, step, length } = sheet
  const taken = new Uint8Array(length)
  const half = Math.min(Math.floor(perTurn / 2) - 1, Math.ceil((TAKEN_SPACINGS * spacing) / step))
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

/** Lobe spacings to each side of a place within which its own signal, side lobes with it, is above the noise. */
const TAKEN_SPACINGS = 2.5

function one(weighing: ReturnType<typeof weighingOf>, { x, y }: Point): number {
  return weigh(Float64Array.of(x), Float64Array.of(y), weighing, { least: 0, length: 1 })[0]!
}

const every = (column: Float64Array, step: number): Float64Array =>
  Float64Array.from({ length: column.length / step }, (_, i) => column[i * step]!)

function coneFor({ notchPhases, numbers }: Detecting): Cone {
  return coneOf(notchPhases, { margin_rad: numbers.coneMargin * DEG, least_rad: numbers.leastCone * DEG })
}

function judgementOf(
  input: Detecting,
  taken: Uint8Array
): { readonly judgement: Judgement; readonly weighing: Weighing } {
  const { joined, sheet, wall, numbers, alarm } = input
  const { covariance, points } = noiseOfHole(joined, wall, taken)
  const noise = largerOf(covariance, input.reference)
  const weighing = weighingOf(noise, coneFor(input))
  const texture = textureOf(joined, { perTurn: sheet.perTurn, wall, weighing })
  const field = fieldOf(texture, { perTurn: sheet.perTurn, weighing })
  const level = levelFor(field, numbers.falseCallsPerHole)
  const direction = { x: cos(input.namedPhase), y: sin(input.namedPhase) }
  const hole = alongOf(covariance, direction)
  const along = alongOf(noise, direction)
  const threshold = Math.min(level * along, alarm)
  const falseCalls = points > 0 ? falseCallsAbove(threshold / hole, field) : 0
  const judgement = { noise, points, hole, along, level, threshold, falseCalls, tooNoisy: level * hole > alarm }
  return { judgement, weighing }
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
