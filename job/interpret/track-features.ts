import { atan2, PI } from '@trueloop/ground/numerics'
import type { Following } from './track-numbers.ts'
import type { Part } from './track-parts.ts'

/** What of a part of a track tells what it is. Lengths in widths of the field, angles in the standardized plane. */
export interface TrackFeatures {
  /** of the alarm slot under the local coating */
  readonly level: number
  readonly sense: 1 | -1
  /** angle of its peak against the line of lift-off, rad, 0 to π/2 */
  readonly fromLiftOff_rad: number
  /** angle of its peak against the slots under the same coating, rad, 0 to π/2 */
  readonly fromSlots_rad: number
  /** −6 dB length as measured */
  readonly length: number
  /** over how long its steeper, and its gentler end rises from a fifth to four fifths; a sharp end takes 0.7 */
  readonly steeperEnd: number
  readonly gentlerEnd: number
  /** both ends seen */
  readonly isWhole: boolean
  /** largest difference of the apparent coating within it from that beside it, mm; 0 where it is not read */
  readonly coatingRise_mm: number
  /** apparent coating behind it less before it, mm */
  readonly coatingStep_mm: number
  /** how far along its run the apparent coating moved like it: correlation, −1 to 1 */
  readonly withCoating: number
  /** from its ends to ends of the plate, the farther of both where both were seen; Infinity where the plate goes on */
  readonly toPlateEnd: number
  /** most of the same height on the other side of the null, beside it: a bead or a bump swings both ways */
  readonly swingBack: number
}

export interface FeatureContext {
  /** width of the field in ruler points */
  readonly field: number
  /** direction of the slots under the coating met, standardized plane */
  readonly slots_rad: number
  /** ruler points of the ends of the plate, as far as they are stated */
  readonly plateEnds: readonly number[]
}

export function trackFeatures(part: Part, { field, slots_rad, plateEnds }: FeatureContext): TrackFeatures {
  const { x, y, drawnFrom, peak, level, sense, half, isWhole, swing } = part
  const at = Math.max(0, Math.min(y.length - 1, peak - drawnFrom))
  const angle = atan2(y[at]!, x[at]!)
  const ends = [endWidth(part, field, -1), endWidth(part, field, 1)]
  return {
    level,
    sense,
    fromLiftOff_rad: lineAngle(angle, 0),
    fromSlots_rad: lineAngle(angle, slots_rad),
    length: (half.to - half.from) / field,
    steeperEnd: Math.min(...ends),
    gentlerEnd: Math.max(...ends),
    isWhole,
    ...coatingOf(part, field),
    toPlateEnd: isWhole
      ? Math.max(nearest(plateEnds, half.from), nearest(plateEnds, half.to)) / field
      : nearest(plateEnds, half.from) / field,
    swingBack: swing
  }
}

const nearest = (places: readonly number[], at: number): number =>
  places.reduce((least, place) => Math.min(least, Math.abs(place - at)), Number.POSITIVE_INFINITY)

/** Angle between two lines, 0 to π/2. */
export function lineAngle(a: number, b: number): number {
  const turns = (a - b) / PI
  return PI * Math.abs(turns - Math.floor(turns + 0.5))
}

/** Widths of the field from a fifth to four fifths of the level, outward from where it is first reached from inside. */
function endWidth({ y, drawnFrom, half, level }: Part, field: number, way: 1 | -1): number {
  const middle = Math.round((way < 0 ? half.from : half.to) - drawnFrom)
  const walk = (from: number, step: number, done: (value: number) => boolean): number => {
    let i = from
    while (i >= 0 && i < y.length && !done(y[i]!)) i += step
    return i
  }
  const outer = walk(middle, way, (value) => value <= 0.2 * level)
  const inner = walk(middle, -way, (value) => value >= 0.8 * level)
  return Math.abs(outer - inner) / field
}

function coatingOf({ coating, y, half, drawnFrom }: Part, field: number) {
  const from = Math.max(0, Math.round(half.from - drawnFrom - field))
  const to = Math.min(coating.length, Math.round(half.to - drawnFrom + field))
  const [before, behind] = [meanOf(coating.slice(0, from)), meanOf(coating.slice(to))]
  const beside = Number.isNaN(before) ? behind : Number.isNaN(behind) ? before : 0.5 * (before + behind)
  const inside = coating.slice(from, to).filter((mm) => !Number.isNaN(mm))
  if (Number.isNaN(beside) || inside.length === 0) return { coatingRise_mm: 0, coatingStep_mm: 0, withCoating: 0 }
  const rise = inside.reduce((most, mm) => (Math.abs(mm - beside) > Math.abs(most) ? mm - beside : most), 0)
  const step = Number.isNaN(before) || Number.isNaN(behind) ? 0 : behind - before
  return { coatingRise_mm: rise, coatingStep_mm: step, withCoating: correlation(coating, y) }
}

function meanOf(values: readonly number[]): number {
  const read = values.filter((value) => !Number.isNaN(value))
  return read.length === 0 ? Number.NaN : read.reduce((sum, value) => sum + value, 0) / read.length
}

function correlation(a: readonly number[], b: readonly number[]): number {
  const pairs = a.flatMap((value, i): readonly (readonly [number, number])[] =>
    Number.isNaN(value) || b[i] === undefined ? [] : [[value, b[i]]]
  )
  const [ma, mb] = [meanOf(pairs.map(([one]) => one)), meanOf(pairs.map(([, one]) => one))]
  let [aa, bb, ab] = [0, 0, 0]
  for (const [one, other] of pairs) {
    aa += (one - ma) * (one - ma)
    bb += (other - mb) * (other - mb)
    ab += (one - ma) * (other - mb)
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0
}

/** Whether a part is a change of the plate: gentle at both ends, at an angle far from the slots'. The null takes it off. */
export const isPlateChange = (
  { steeperEnd, fromSlots_rad, isWhole }: TrackFeatures,
  { gentle, far }: Pick<Following, 'gentle' | 'far'>
): boolean => isWhole && steeperEnd >= gentle && fromSlots_rad >= (far * PI) / 180
