import { cos, sin } from '@trueloop/ground/numerics'
import type { Quantity } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { standardDepth } from '../depth.ts'
import { type AnswerBasis, isSameSetUp } from './basis.ts'
import { widthComplaint } from './complaints.ts'
import type { CrackAnswer, CrackSignal } from './response.ts'
import type { CrackStatement } from './statement.ts'

/** What an instrument showed: its two columns, or size and angle from x toward y. */
export type MeasuredValue =
  | { readonly x: number; readonly y: number }
  | { readonly size: number; readonly angle: Quantity<'rad'> }

/** A notch as it was measured, in any unit. */
export interface MeasuredNotch {
  readonly name: string
  readonly unit: string
  /** As made or measured: what says whether the model holds for it. */
  readonly opening: Quantity<'m'>
  readonly value: MeasuredValue
}

/** The modeled answer of the same notch, and at which of its places it was measured. */
export interface ModeledNotch {
  readonly answer: CrackAnswer<unknown>
  readonly place: number
  /** Where it was measured from peak to peak: the place that counts minus. */
  readonly less?: number
}

/** One complex factor, measured units per ohm of modeled answer; for one probe, metal, frequency and hole. */
export interface NotchScale {
  readonly factor: { readonly re: number; readonly im: number }
  readonly unit: string
  readonly basis: AnswerBasis
  readonly said: string
}

/** Where the field misses a crack, or its cells cancel each other, to less, the rest hangs on what is not known of a probe. */
const LEAST = 0.01
/** The opening of the modeled notch, against the notch. */
const CLOSENESS = 0.01

/**
 * The factor that turns modeled answers into what the instrument shows: measured over modeled, both complex, so that gain,
 * turn, turns of the windings and ferrite drop out as far as they only scale and turn.
 * Refuses: fields/bad-measurement, fields/bad-place, fields/notch-not-seen, fields/opening-too-wide (the model counts an
 * opening to first order), fields/notch-not-modeled (modeled with another opening; in magnetic metal, where no opening can
 * be modeled, a closed one stands for it and the scale says so).
 */
export function scaleFromNotch(notch: MeasuredNotch, modeled: ModeledNotch): Result<NotchScale, FieldsCode> {
  const { part } = modeled.answer.basis
  const value = columnsOf(notch.value)
  const delta = standardDepth(part.frequency, part.metal)
  if (isRefusal(delta)) return delta
  const bad =
    measurementComplaint(notch, value) ?? widthComplaint(notch.opening, delta) ?? openingComplaint(notch, modeled)
  if (bad !== undefined) return bad
  const answer = amplitudeOf(modeled)
  if (isRefusal(answer)) return answer
  const size = answer.re * answer.re + answer.im * answer.im
  const factor = {
    re: (value.x * answer.re + value.y * answer.im) / size,
    im: (value.y * answer.re - value.x * answer.im) / size
  }
  const gap = part.crack.opening === 0 && notch.opening > 0 ? '; modeled without its opening' : ''
  return { factor, unit: notch.unit, basis: modeled.answer.basis, said: `scaled on ${notch.name} as measured${gap}` }
}

const columnsOf = (value: MeasuredValue): { readonly x: number; readonly y: number } =>
  'x' in value ? value : { x: value.size * cos(value.angle), y: value.size * sin(value.angle) }

const measurementComplaint = (
  { name, opening }: MeasuredNotch,
  { x, y }: { readonly x: number; readonly y: number }
): Refusal<FieldsCode> | undefined =>
  x * x + y * y > 0 && Number.isFinite(x + y) && opening >= 0
    ? undefined
    : refuse('fields/bad-measurement', {
        found: `${x}, ${y} of ${name}, ${opening} m open`,
        needed: 'a measured amplitude above zero and the opening of the notch',
        remedy: 'take both from the recording and the certificate of the reference standard'
      })

function openingComplaint(
  { name, opening }: MeasuredNotch,
  { answer: { basis } }: ModeledNotch
): Refusal<FieldsCode> | undefined {
  const { crack, metal } = basis.part
  const isClosedInSteel = metal.permeability > 1 && crack.opening === 0
  if (isClosedInSteel || Math.abs(crack.opening - opening) <= CLOSENESS * opening) return undefined
  return refuse('fields/notch-not-modeled', {
    found: `an answer for an opening of ${crack.opening} m, ${name} is ${opening} m open`,
    needed: 'the answer of that very notch',
    remedy: 'plan the notch with its own opening: a closed crack answers otherwise'
  })
}

interface Amplitude {
  readonly re: number
  readonly im: number
}

function amplitudeOf({ answer, place, less }: ModeledNotch): Result<Amplitude, FieldsCode> {
  const plus = answer.signals[place]
  const minus = less === undefined ? undefined : answer.signals[less]
  if (plus === undefined || (less !== undefined && minus === undefined)) return noPlace(answer.signals.length)
  const re = plus.change.resistance - (minus?.change.resistance ?? 0)
  const im = plus.change.reactance - (minus?.change.reactance ?? 0)
  const most = answer.signals.reduce((size, { uncanceled }) => Math.max(size, uncanceled), 0)
  return Math.sqrt(re * re + im * im) >= LEAST * most && most > 0 ? { re, im } : notSeen(plus)
}

const noPlace = (count: number): Refusal<FieldsCode> =>
  refuse('fields/bad-place', {
    found: `a number of a place, of ${count} places`,
    needed: 'one of the places of the answer',
    remedy: 'count the places from 0'
  })

const notSeen = ({ change }: CrackSignal<unknown>): Refusal<FieldsCode> =>
  refuse('fields/notch-not-seen', {
    found: `a modeled answer of ${change.resistance} + j ${change.reactance} ohm, less than ${LEAST} of what the field could call up`,
    needed: 'a place at which the notch is seen',
    remedy: 'take the place of the largest answer; a differential pair sees nothing with its split line over the notch'
  })

/** A modeled answer in the units of the instrument. */
export interface ScaledAnswer<Place> {
  readonly signals: readonly { readonly place: Place; readonly x: number; readonly y: number }[]
  readonly unit: string
  readonly statement: CrackStatement
}

/**
 * The answer times the factor of the notch: x + j y = factor (R + j X). Refuses: fields/another-set-up, where probe, metal,
 * frequency or hole are not those of the notch.
 */
export function scaledOnNotch<Place>(
  { signals, basis, statement }: CrackAnswer<Place>,
  { factor, unit, basis: on, said }: NotchScale
): Result<ScaledAnswer<Place>, FieldsCode> {
  if (!isSameSetUp(basis, on))
    return refuse('fields/another-set-up', {
      found: 'an answer for another probe, metal, frequency or hole than the notch was modeled with',
      needed: 'one set-up for both',
      remedy: 'model the notch and the crack with the same probe in the same metal and hole, at the same frequency'
    })
  return {
    signals: signals.map(({ place, change: { resistance, reactance } }) => ({
      place,
      x: factor.re * resistance - factor.im * reactance,
      y: factor.re * reactance + factor.im * resistance
    })),
    unit,
    statement: { ...statement, scale: said }
  }
}
