import { type Criterion, grade } from '../causes/index.ts'
import type { TrackFeatures } from '../track-features.ts'

/** Things that several causes along a track ask for. Each: how far it is met, and the sentence with its figure. */

const DEG = 0.017453292519943295

export interface Grade {
  readonly none: number
  readonly full: number
}

export const alongSlots = ({ fromSlots_rad }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'angle',
  share: grade(fromSlots_rad / DEG, none, full),
  sentence: () => `Its angle is ${(fromSlots_rad / DEG).toFixed(0)}° from that of the slots under this coating.`
})

export const alongLiftOff = ({ fromLiftOff_rad }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'lift-off',
  share: grade(fromLiftOff_rad / DEG, none, full),
  sentence: () => `Its angle is ${(fromLiftOff_rad / DEG).toFixed(0)}° from the line of lift-off.`
})

export const sharpEnds = ({ gentlerEnd, steeperEnd, isWhole }: TrackFeatures, { none, full }: Grade): Criterion => {
  const width = isWhole ? gentlerEnd : steeperEnd
  return {
    what: 'ends',
    share: grade(width, none, full),
    sentence: () => `Its ${isWhole ? 'gentler' : 'one'} end takes ${width.toFixed(1)} widths of the field.`
  }
}

export const gentleEnds = ({ steeperEnd }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'ends',
  share: grade(steeperEnd, none, full),
  sentence: () => `Its steeper end takes ${steeperEnd.toFixed(1)} widths of the field.`
})

export const lengthOf = ({ length }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'length',
  share: grade(length, none, full),
  sentence: () => `It is ${length.toFixed(1)} widths of the field long.`
})

export const coatingRises = ({ coatingRise_mm }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'apparent coating',
  share: grade(Math.abs(coatingRise_mm), none, full),
  sentence: () => `The apparent coating differs by ${coatingRise_mm.toFixed(2)} mm from that beside it.`
})

export const coatingSteps = ({ coatingStep_mm }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'step of the coating',
  share: grade(Math.abs(coatingStep_mm), none, full),
  sentence: () => `The apparent coating behind it is ${coatingStep_mm.toFixed(2)} mm from that before it.`
})

export const oneSided = ({ isWhole }: TrackFeatures): Criterion => ({
  what: 'one end only',
  share: isWhole ? 0 : 1,
  sentence: () => (isWhole ? 'The signal comes back to the plate.' : 'The signal does not come back to the plate.')
})

export const nearPlateEnd = ({ toPlateEnd }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'end of plate',
  share: grade(toPlateEnd, none, full),
  sentence: () =>
    Number.isFinite(toPlateEnd)
      ? `It lies ${toPlateEnd.toFixed(1)} widths of the field from an end of the plate.`
      : 'No end of the plate is stated.'
})

export const swings = ({ swingBack }: TrackFeatures, { none, full }: Grade): Criterion => ({
  what: 'swing',
  share: grade(swingBack, none, full),
  sentence: () => `Beside it the signal swings the other way by ${(100 * swingBack).toFixed(0)} % of its height.`
})

/** The better of two: either is enough. */
export const either = (a: Criterion, b: Criterion): Criterion => (a.share >= b.share ? a : b)
