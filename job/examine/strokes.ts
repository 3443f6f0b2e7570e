import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Hole, HoleTechnique } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import type { MeanTrace } from '../standardize/index.ts'
import { refuse } from './codes.ts'
import {
  bandOf,
  type DepthBand,
  type Depths,
  type Stretch,
  stretchesOf,
  type TiePoint,
  together
} from './strokes-band.ts'
import { planesOf } from './strokes-levels.ts'
import { type MetalStretch, metalStretches, type Reach } from './strokes-trace.ts'

export { type DepthBand, type Depths, type Stretch, stretchesOf, type TiePoint } from './strokes-band.ts'
export { type Counted, coveredByCounting, type Gap } from './strokes-coverage.ts'
export type { Reach } from './strokes-trace.ts'

/**
 * Hand feed without an encoder. In- and out-stroke are separate passes; faces and joints that show in the mean are tie
 * points; between them the depth is a band. There is no axial scale: no length along the axis can be measured.
 *
 * What is taken for granted: the feed does not run backward within a stroke; every joint shows in the mean, and nothing
 * else does; all layers are of one metal, so that the mean comes back to its level behind a joint; the technique says
 * rightly whether the probe went through the hole or turned in it. Where the count of what shows does not fit, nothing is
 * guessed. A dwell needs no telling: a feed of zero lies within the band.
 */
export interface Stroke {
  readonly sense: 'in' | 'out'
  /** in the order of the ruler */
  readonly ties: readonly TiePoint[]
  readonly stretches: readonly Stretch[]
  readonly band: DepthBand
}

/** Where the probe turned inside the hole, no deeper than the next joint that did not show. Nothing there is counted. */
export interface Turn extends Reach, Depths {}

export interface Strokes {
  readonly strokes: readonly Stroke[]
  readonly turn: Turn | undefined
  /** depths at a ruler point over all strokes and the turn; undefined in air */
  readonly band: DepthBand
}

export interface HandFed {
  readonly hole: Pick<Hole, 'grip_mm' | 'interfaces_mm'>
  readonly hand: NonNullable<HoleTechnique['hand_feed']>
}

/**
 * Finds the strokes of a hand-fed pass from its sliding mean. Refuses `examine/no-strokes` where air and metal can't be
 * told, `examine/strokes-untold` where stretches of metal or disturbances in them are not as many as the technique's way
 * and the joints of the hole make.
 * @param trace sliding mean over one revolution on the ruler, recorded units
 */
export function strokesOf(trace: MeanTrace, fed: HandFed): Result<Strokes> {
  const perUnit = Math.round(UNIT / (trace.at[1]! - trace.at[0]!))
  if (!(trace.at.length >= 4 * perUnit)) return noStrokes('less than four revolutions')
  const planes = planesOf(trace, perUnit)
  if (planes.length === 0) return noStrokes('no step between air and metal, or no rest of a revolution in the metal')
  const [longest, ...others] = planes.map(metalStretches)
  const fits = fitting(longest, fed)
  if (isRefusal(fits)) return fits
  const metal = agreeing(fits, others, fed)
  if (isRefusal(metal)) return metal
  return fed.hand.strokes === 'turned inside' ? turnedInside(metal[0]!, fed) : through(metal, fed)
}

type Metal = readonly MetalStretch[]

/** Stretches of metal that are as many, with as many disturbances, as the way of the hand and the joints make; else why not. */
function fitting(metal: Metal | undefined, { hole, hand }: HandFed): Result<Metal> {
  if (metal === undefined) return noStrokes('a recording that ends in the metal')
  const wanted = hand.strokes === 'through and back' ? 2 : 1
  if (metal.length !== wanted) return untold(`${metal.length} stretches of metal`, `${wanted}, fed ${hand.strokes}`)
  const joints = hole.interfaces_mm.length
  for (const { disturbances, rested } of metal) {
    const wrong =
      hand.strokes === 'turned inside' ? notTwice(disturbances.length, joints) : notOnce(disturbances.length, joints)
    if (wrong !== undefined) return wrong
    if (!rested)
      return untold('a mean that does not rest at the level of the metal in every layer', 'half a revolution of rest')
  }
  return metal
}

const notOnce = (met: number, joints: number): Refusal | undefined =>
  met === joints ? undefined : untold(`a stroke with ${met} disturbances`, `its ${joints} joints, each once`)

const notTwice = (met: number, joints: number): Refusal | undefined =>
  met % 2 === 0 && met <= 2 * joints
    ? undefined
    : untold(
        `${met} disturbances between going in and coming out`,
        `each joint reached twice, at most ${joints} joints: an odd number is a turn at a joint`
      )

const reachesOf = (metal: Metal): readonly (readonly Reach[])[] =>
  metal.map(({ in: a, disturbances, out: b }) => [a, ...disturbances, b])

/**
 * The level on which the mean stands longest has to fit; that is asked first, so that no other is sought out because it
 * does. Where others fit as well they have to say the same, and what is known is what all of them allow. None may rest in
 * every layer and show more: then the longest stand was on a joint.
 */
function agreeing(longest: Metal, others: readonly (Metal | undefined)[], fed: HandFed): Result<Metal> {
  const own = reachesOf(longest)
  const shown = countOf(longest)
  const more = others.some((metal) => metal?.every(({ rested }) => rested) && countOf(metal) > shown)
  const rest = others.flatMap((metal) => {
    const fits = fitting(metal, fed)
    return isRefusal(fits) ? [] : [reachesOf(fits)]
  })
  const same = rest.every((other) =>
    other.every((reaches, s) => reaches.length === own[s]!.length && reaches.every((one, i) => touch(one, own[s]![i]!)))
  )
  if (more || !same) return untold('a mean that rests at several levels, each of which may be the metal', 'one level')
  return longest.map((stretch, s) => {
    const joined = own[s]!.map((reach, i) => ({
      from: rest.reduce((least, other) => Math.min(least, other[s]![i]!.from), reach.from),
      to: rest.reduce((most, other) => Math.max(most, other[s]![i]!.to), reach.to)
    }))
    return { ...stretch, in: joined[0]!, disturbances: joined.slice(1, -1), out: joined.at(-1)! }
  })
}

const countOf = (metal: Metal): number => metal.reduce((sum, { disturbances }) => sum + disturbances.length, 0)
const touch = (a: Reach, b: Reach): boolean => a.from <= b.to && a.to >= b.from

function through(metal: Metal, { hole, hand }: HandFed): Strokes {
  const places = placesOf(hole, hole.interfaces_mm.length + 1)
  const strokes = metal.map(({ in: first, disturbances, out: last }, k) => {
    const reaches = [first, ...disturbances, last]
    return strokeOf(k === 0 ? 'in' : 'out', { reaches, places: k === 0 ? places : [...places].reverse(), hand })
  })
  return whole(strokes, undefined)
}

function turnedInside({ in: first, disturbances, out: last }: MetalStretch, { hole, hand }: HandFed): Strokes {
  const met = disturbances.length / 2
  const places = placesOf(hole, met)
  const going = strokeOf('in', { reaches: [first, ...disturbances.slice(0, met)], places, hand })
  const coming = strokeOf('out', { reaches: [...disturbances.slice(met), last], places: [...places].reverse(), hand })
  const deepest = going.ties.at(-1)!
  const next = placesOf(hole, met + 1)[met + 1]!
  const turn = { from: deepest.from, to: coming.ties[0]!.to, least_m: deepest.depth_m, most_m: next.depth_m }
  return whole([going, coming], turn)
}

type Place = Pick<TiePoint, 'what' | 'depth_m'>

/** Entry face, joints and exit face, from the entry face to place number `last`. */
function placesOf({ grip_mm, interfaces_mm }: HandFed['hole'], last: number): readonly Place[] {
  const joints = interfaces_mm.map((mm, i) => ({ what: `joint ${i + 1}`, depth_m: mm * 1e-3 }))
  const all = [{ what: 'entry face', depth_m: 0 }, ...joints, { what: 'exit face', depth_m: grip_mm * 1e-3 }]
  return all.slice(0, last + 1)
}

interface Matched {
  readonly reaches: readonly Reach[]
  readonly places: readonly Place[]
  readonly hand: HandFed['hand']
}

function strokeOf(sense: Stroke['sense'], { reaches, places, hand }: Matched): Stroke {
  const ties = reaches.map((reach, i) => ({ ...places[i]!, ...reach }))
  const ratio = hand.fastest_to_mean
  return { sense, ties, stretches: stretchesOf(ties, ratio), band: bandOf(ties, ratio) }
}

function whole(strokes: readonly Stroke[], turn: Turn | undefined): Strokes {
  const turning = (point: number): readonly Depths[] =>
    turn !== undefined && point >= turn.from && point <= turn.to ? [{ least_m: turn.least_m, most_m: turn.most_m }] : []
  const at = (point: number) => together([...strokes.flatMap(({ band }) => band.at(point) ?? []), ...turning(point)])
  return { strokes, turn, band: { at } }
}

const noStrokes = (found: string) =>
  refuse('examine/no-strokes', {
    found,
    needed: 'a recording that begins in air before the entry face and ends in air',
    remedy:
      'scan again from air, by even strokes of the hand, and let the recording end after the probe has left the hole'
  })

const untold = (found: string, needed: string) =>
  refuse('examine/strokes-untold', {
    found,
    needed,
    remedy:
      'check joints and grip of the hole and the way of the strokes in the technique, and scan again by even strokes; use an encoder where joints do not show'
  })
