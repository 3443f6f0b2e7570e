import { atan2, cos, log10, PI, sin, TAU } from '@trueloop/ground/numerics'
import { hertz, meters, type Quantity, radians } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  type CoilPlace,
  type CrackAnswer,
  type CrackPlan,
  type CrackStatement,
  coaxialProbe,
  crackAnswer,
  type Impedance,
  impedanceChange,
  type Metal,
  type PlacedCoil,
  pairAnswer,
  planCrack,
  raised,
  type SurfaceCrack,
  standardDepth
} from '@trueloop/metal/fields'

/** A flaw or notch as the model takes it: closed, since a gap that is not small against the depth of penetration is outside it. */
export interface PlannedFlaw {
  readonly outline: SurfaceCrack['outline']
  readonly length_m: number
  readonly depth_m: number
}

export interface Driven {
  readonly coil: PlacedCoil
  /** The pair that listens; absent: the driving coil itself. */
  readonly pickUps?: PlacedCoil | undefined
  readonly metal: Metal
  readonly frequency_Hz: number
}

/** What the model says of a flaw under the probe, moved along it. */
export interface ModeledAnswer {
  /** Largest impedance change, Ω; of a pair from peak to peak. */
  readonly amplitude_ohm: number
  /** Angle from the lift-off vector (coil moved off the wall) to the flaw vector, rad, −π to π. */
  readonly angle: number
  /** Amplitude with the coil at a distance along the flaw from its middle; only one side where both are alike. */
  readonly along: readonly Seen[]
  readonly statement: CrackStatement
  readonly plan: CrackPlan
  readonly best: CoilPlace
  /** Impedance change of a small lift off the wall. */
  readonly lift: Impedance
}

/** The same, moved across the flaw at its best place along. */
export interface AcrossAnswer {
  /** Width across the flaw at which half of the amplitude is left, m. */
  readonly width_m: number
  /** One side; the other is alike, or of a pair the same with the other sign. */
  readonly points: readonly AcrossPoint[]
  /** Of a pair: distance of its two places of largest answer, m. */
  readonly lobe_spacing_m?: number
}

/** Distance from the flaw, m, and signal, Ω, turned so that lift-off points to −x. */
export interface AcrossPoint {
  readonly at: number
  readonly x: number
  readonly y: number
}

/** Answer of a flaw at its best place. Refuses: as the rooms of metal do (frequency, cells, plate, coil). */
export function modeledAnswer(flaw: PlannedFlaw, driven: Driven): Result<ModeledAnswer> {
  const { metal } = driven
  const frequency = hertz(driven.frequency_Hz)
  const delta = standardDepth(frequency, metal)
  if (isRefusal(delta)) return delta
  const crack = { ...shapeOf(flaw), opening: meters(0) }
  const plan = planCrack({ crack, metal, thickness: 'infinite', frequency, cells: cellsFor(flaw, delta) })
  if (isRefusal(plan)) return plan
  const seen = seenBy(plan, driven, placesOver(flaw, driven))
  if (isRefusal(seen)) return seen
  const lift = liftOffVector(driven)
  if (isRefusal(lift)) return lift
  const best = seen.signals.reduce((most, one) => (size(one.closed) > size(most.closed) ? one : most))
  const times = driven.pickUps === undefined ? 1 : 2
  return {
    amplitude_ohm: times * size(best.closed),
    angle: turned(phaseOf(best.closed) - phaseOf(lift)),
    along: bestAlong(seen.signals, times),
    statement: seen.statement,
    plan,
    best: best.place,
    lift
  }
}

/** By the driving coil itself, or by the pair, its split line along the flaw. */
function seenBy(plan: CrackPlan, { coil, pickUps }: Driven, places: readonly CoilPlace[]): Result<CrackAnswer> {
  if (pickUps === undefined) return crackAnswer(plan, coil, places)
  return pairAnswer(plan, { driver: coil, pickUps: { ...pickUps, turned: radians(0) } }, places)
}

/** The largest answer for each place along the flaw. */
function bestAlong(signals: CrackAnswer['signals'], times: number): readonly Seen[] {
  const rows = new Map<number, number>()
  for (const { place, closed } of signals)
    rows.set(place.along, Math.max(rows.get(place.along) ?? 0, times * size(closed)))
  return [...rows].map(([at, most]) => ({ at, size: most }))
}

/** The scan across a flaw that was answered before. Refuses: as crackAnswer and pairAnswer. */
export function acrossAnswer({ plan, best, lift }: ModeledAnswer, driven: Driven): Result<AcrossAnswer> {
  const across = seenBy(plan, driven, placesAcross(best, driven.coil))
  if (isRefusal(across)) return across
  const seen = across.signals.map(({ place, closed }) => ({ at: place.across, size: size(closed) }))
  return {
    width_m: halfWidth(seen),
    points: across.signals.map(({ place, closed }) => leveled(closed, { at: place.across, lift: phaseOf(lift) })),
    ...(driven.pickUps === undefined ? {} : { lobe_spacing_m: 2 * topOf(seen) })
  }
}

/** Where the largest of evenly spaced values lies: the top of a parabola through it and its neighbors. */
function topOf(seen: readonly Seen[]): number {
  const at = seen.reduce((best, one, k) => (one.size > seen[best]!.size ? k : best), 0)
  const [before, top, after] = [seen[at - 1], seen[at]!, seen[at + 1]]
  if (before === undefined || after === undefined) return top.at
  const bend = before.size - 2 * top.size + after.size
  return top.at + (0.5 * (after.at - top.at) * (before.size - after.size)) / bend
}

const shapeOf = ({ outline, length_m, depth_m }: PlannedFlaw) => ({
  outline,
  length: meters(length_m),
  depth: meters(depth_m)
})

const size = ({ resistance, reactance }: Impedance): number =>
  Math.sqrt(resistance * resistance + reactance * reactance)
const phaseOf = ({ resistance, reactance }: Impedance): number => atan2(reactance, resistance)
const turned = (angle: number): number => angle - TAU * Math.round(angle / TAU)

/** Turned so that lift-off points to -x. */
function leveled(closed: Impedance, { at, lift }: { readonly at: number; readonly lift: number }): AcrossPoint {
  const angle = PI + phaseOf(closed) - lift
  return { at, x: size(closed) * cos(angle), y: size(closed) * sin(angle) }
}

/** A further lift-off so small that the vector is the direction of lift-off at the wall. */
const SMALL_LIFT = 0.02

/** Impedance change of the coil, or of one pick-up, from a small lift off the wall. Refuses: as impedanceChange. */
export function liftOffVector({ coil, pickUps, metal, frequency_Hz }: Driven): Result<Impedance> {
  const probe = coaxialProbe(coil, pickUps)
  if (isRefusal(probe)) return probe
  const higher = raised(probe, meters(SMALL_LIFT * coil.coil.outerRadius))
  if (isRefusal(higher)) return higher
  const layers = [{ ...metal, thickness: 'infinite' as const }]
  const here = impedanceChange(probe, hertz(frequency_Hz), layers)
  const there = impedanceChange(higher, hertz(frequency_Hz), layers)
  if (isRefusal(here)) return here
  if (isRefusal(there)) return there
  return {
    resistance: (there.resistance - here.resistance) as Quantity<'ohm'>,
    reactance: (there.reactance - here.reactance) as Quantity<'ohm'>
  }
}

/** Rows of cells: fine against the depth of penetration, and no fewer than an outline needs. */
const FEWEST_ROWS = 10
const CELL = 0.7

export function cellsFor(
  { length_m, depth_m }: Pick<PlannedFlaw, 'length_m' | 'depth_m'>,
  delta: number
): { readonly along: number; readonly deep: number } {
  const deep = Math.max(FEWEST_ROWS, Math.ceil(depth_m / (CELL * delta)))
  const side = Math.min(2 * (depth_m / deep), CELL * delta)
  return { deep, along: 2 * Math.max(FEWEST_ROWS / 2, Math.ceil(length_m / (2 * side))) }
}

const STEPS = 16

/** Along the flaw over its plane; for a pair, which sees nothing there, beside it too. */
function placesOver({ outline, length_m }: PlannedFlaw, { coil: { coil }, pickUps }: Driven): readonly CoilPlace[] {
  const end = 0.5 * length_m + coil.outerRadius
  const start = outline === 'quarter ellipse' ? -end : 0
  const count = outline === 'quarter ellipse' ? 2 * STEPS : STEPS
  const alongs = Array.from({ length: count + 1 }, (_, i) => meters(start + ((end - start) * i) / count))
  const beside = pickUps === undefined ? [0] : besideShares
  return beside.flatMap((share) => alongs.map((along) => ({ across: meters(share * coil.outerRadius), along })))
}

/** Shares of the outer radius of the driver among which a pair answers most. */
const besideShares = [0.15, 0.25, 0.35, 0.45, 0.55, 0.7, 0.9, 1.1]

const placesAcross = ({ along }: CoilPlace, { coil, liftOff }: PlacedCoil): readonly CoilPlace[] =>
  Array.from({ length: 2 * STEPS + 1 }, (_, i) => ({
    across: meters((2 * (coil.outerRadius + liftOff) * i) / (2 * STEPS)),
    along
  }))

/** Distance, m, and amplitude, Ω. */
export interface Seen {
  readonly at: number
  readonly size: number
}

/** Both sides of the place from which less than half of the amplitude is left, a straight line between the points. */
function halfWidth(seen: readonly Seen[]): number {
  const half = 0.5 * Math.max(...seen.map((one) => one.size))
  const last = seen.findLastIndex((one) => one.size >= half)
  const [inner, outer] = [seen[last]!, seen[last + 1]]
  if (outer === undefined) return 2 * inner.at
  return 2 * (inner.at + ((outer.at - inner.at) * (inner.size - half)) / (inner.size - outer.size))
}

/** The part of an angle that stands out of the lift-off direction. */
export const outOfLiftOff = (angle: number): number => {
  const folded = Math.abs(angle) > PI / 2 ? PI - Math.abs(angle) : Math.abs(angle)
  return folded
}

/** 20 log10 of a share. */
export const decibelsOf = (share: number): number => 20 * log10(share)
