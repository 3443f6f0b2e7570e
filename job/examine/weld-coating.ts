import { PI } from '@trueloop/ground/numerics'
import {
  type CoatingResponse,
  type CoatingScale,
  type ParentReading,
  type Standardization,
  scaleOf,
  slotUnder
} from '../standardize/index.ts'
import { CoatingProfile } from './coating-profile.ts'

const STEPS = 512

/** Shims of a document; those of earlier methods were read on the bare block. */
export const responseOf = ({ coating, notches, rotation }: Standardization): CoatingResponse =>
  coating ?? {
    shims: [
      {
        shim_mm: 0,
        slots: notches.map(({ id, depth_mm, amplitude, phase_rad }) => ({
          id,
          depth_mm,
          amplitude,
          phase_rad,
          scatter: 0
        }))
      }
    ],
    leftOut: [],
    liftOff: { angle_rad: rotation.angle_rad, doubt_rad: rotation.uncertainty_rad }
  }

export interface CoatingAsked {
  readonly standardization: Standardization
  readonly given_mm: number | undefined
  /** largest coating of the technique, mm */
  readonly largest_mm: number | undefined
  readonly length_mm: number
}

export interface CoatingUnder {
  /** apparent coating, mm; NaN where it was not read or lies beyond the shims */
  readonly coating: Float64Array
  /** 1 where it lies above the thickest shim */
  readonly above: Uint8Array
  /** answer of the alarm slot under it; beyond the shims that under the nearest one */
  readonly scale: Float64Array
  /** stretches of elements that can't be used, half open, and why */
  readonly outside: readonly { readonly from: number; readonly to: number; readonly reason: string }[]
}

/** The coating along a track, and with it what the alarm slot would answer at each place. */
export class TrackCoating {
  readonly response: CoatingResponse
  readonly least_mm: number
  readonly most_mm: number
  readonly profile: CoatingProfile
  readonly #asked: CoatingAsked
  readonly #scale: CoatingScale | undefined
  readonly #answers: Float64Array
  #isMeasured = false

  constructor(asked: CoatingAsked) {
    const { standardization, largest_mm, length_mm } = asked
    this.#asked = asked
    this.response = responseOf(standardization)
    const { shims } = this.response
    this.#scale = scaleOf(shims)
    this.least_mm = shims[0]!.shim_mm
    this.most_mm = Math.min(shims.at(-1)!.shim_mm, largest_mm ?? Number.POSITIVE_INFINITY)
    this.profile = new CoatingProfile({ most_mm: shims.at(-1)!.shim_mm, length_mm })
    const span = shims.at(-1)!.shim_mm - this.least_mm
    this.#answers = Float64Array.from({ length: STEPS + 1 }, (_, k) => {
      const at = k === STEPS ? shims.at(-1)!.shim_mm : this.least_mm + (span * k) / STEPS
      return slotUnder(shims, standardization.named, at) ?? Number.NaN
    })
  }

  /** How the coating is known. */
  get basis(): 'measured' | 'given' | 'unknown' {
    if (this.#isMeasured) return 'measured'
    return this.#asked.given_mm === undefined ? 'unknown' : 'given'
  }

  /** Whether a coating that was stated lies between the shims. */
  get isGivenInside(): boolean {
    const { given_mm } = this.#asked
    return given_mm !== undefined && given_mm >= this.least_mm && given_mm <= this.most_mm
  }

  /** Answer of the alarm slot under a coating, beyond the shims that under the nearest one. */
  answerAt(mm: number): number {
    const span = this.response.shims.at(-1)!.shim_mm - this.least_mm
    const place = span > 0 ? Math.max(0, Math.min(STEPS, (STEPS * (mm - this.least_mm)) / span)) : 0
    const k = Math.min(STEPS - 1, Math.floor(place))
    return this.#answers[k]! + (place - k) * (this.#answers[k + 1]! - this.#answers[k]!)
  }

  /** Direction of the alarm slot under a coating: that of the nearest shim. */
  slotsAngle(mm: number): number {
    const nearest = this.response.shims.reduce((best, one) =>
      Math.abs(one.shim_mm - mm) < Math.abs(best.shim_mm - mm) ? one : best
    )
    return nearest.slots.find(({ id }) => id === this.#asked.standardization.named)?.phase_rad ?? 0.5 * PI
  }

  /** @param absolute the absolute channel under the elements; NaN where it is not read */
  under(absolute: Float64Array, sound: Uint8Array): CoatingUnder {
    const given = this.#asked.given_mm ?? this.least_mm
    const coating = new Float64Array(absolute.length).fill(Number.NaN)
    const scale = new Float64Array(absolute.length)
    const above = new Uint8Array(absolute.length)
    const marks = new Marks()
    const isRead = this.#scale !== undefined && absolute.some((level) => !Number.isNaN(level))
    if (isRead) this.#isMeasured = true
    for (let i = 0; i < absolute.length; i++) {
      if (!isRead) {
        scale[i] = this.answerAt(given)
        if (!this.#isMeasured && this.#asked.given_mm !== undefined) coating[i] = given
        continue
      }
      const read = this.#scale!.read(absolute[i]!)
      scale[i] = this.answerAt(typeof read === 'number' ? read : read === 'thinner than the shims' ? 0 : this.most_mm)
      if (typeof read === 'number') coating[i] = read
      if (read === 'thicker than the shims') above[i] = 1
      if (sound[i] !== 1) continue
      const reason = this.#against(read)
      if (reason !== undefined) marks.add(i, reason)
    }
    return { coating, above, scale, outside: marks.all }
  }

  #against(read: ReturnType<CoatingScale['read']>): string | undefined {
    if (read === 'not read') return 'absolute channel not read: the coating is not known'
    if (read === 'thinner than the shims')
      return `coating or lift-off below ${this.least_mm.toFixed(2)} mm, the thinnest shim`
    if (read === 'thicker than the shims' || read > this.most_mm)
      return `coating or lift-off above ${this.most_mm.toFixed(2)} mm`
    return undefined
  }
}

class Marks {
  readonly all: { from: number; to: number; reason: string }[] = []

  add(at: number, reason: string): void {
    const last = this.all.at(-1)
    if (last?.to === at && last.reason === reason) last.to = at + 1
    else this.all.push({ from: at, to: at + 1, reason })
  }
}

/** How far the apparent coating may lie outside what parent metal beside the track shows, mm, and still be agreed with. */
export const AGREED_MM = 0.5

/** Whether parent metal confirms an apparent coating: it lies within what was met there, or a shim’s step of it. */
export function isConfirmed(parent: ParentReading | undefined, mm: number): boolean {
  const met = parent?.coating
  return met !== undefined && mm >= met.least_mm - AGREED_MM && mm <= met.greatest_mm + AGREED_MM
}
