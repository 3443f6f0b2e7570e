import type { HoleTechnique } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import { type Along, type Layer, layerOf, type Passed, type Stretch, within } from './along.ts'
import type { ZoneCoverage } from './coverage.ts'
import { coveredByCounting, type Depths, type Stroke, type Strokes, type Stretch as Told } from './strokes.ts'
import type { Zone } from './zones.ts'

/** The place along the axis of a hand-fed pass without an encoder: a band between the faces and joints met. */

export interface ByHand {
  readonly strokes: Strokes
  readonly hand: NonNullable<HoleTechnique['hand_feed']>
  readonly layers: readonly Layer[]
}

/** A flaw's field reaches into the air before a face over so much, beside two revolutions; as for a scale. */
const BEFORE_m = 0.5e-3
const BEFORE_TURNS = 2
/** Ruler points from one look at the band to the next, where its greatest width is sought. */
const LOOK = 16
/** What rounding may leave of a share that is whole. */
const ROUNDING = 1e-9

export function byStrokes({ strokes: told, hand, layers }: ByHand): Along {
  const { strokes, turn, band } = told
  const passes = strokes.map(metalOf)
  const pitch_m = meanAdvance(strokes)
  const beyond = UNIT * (BEFORE_TURNS + BEFORE_m / pitch_m)
  const reached: readonly Stretch[] = [...passes, ...(turn === undefined ? [] : [turn])]
  const nearest = (point: number): number => {
    const away = (one: Stretch) => Math.max(0, one.from - point, point - one.to)
    if (turn !== undefined && away(turn) === 0) return strokes.length
    return passes.reduce((best, one, i) => (away(one) < away(passes[best]!) ? i : best), 0)
  }
  const bandAt = (point: number): Depths => band.at(inside(point, reached[nearest(point)]!)) ?? whole(layers)
  const layerAt = (point: number): number => {
    const pass = nearest(point)
    return pass < strokes.length ? layerIn(strokes[pass]!, layers, point) : layerOf(layers, middleOf(bandAt(point)))
  }
  return {
    basis: `hand feed by strokes (${hand.strokes}), fastest feed at most ${hand.fastest_to_mean} times its mean: depth is a band between the faces and joints met`,
    uncertainty_m: 0.5 * widest(told, reached),
    scale: undefined,
    pitch_m,
    passes: turn === undefined ? passes : [{ from: passes[0]!.from, to: passes.at(-1)!.to }],
    passAt: nearest,
    layerAt,
    isNear: (point) => reached.some(({ from, to }) => point > from - beyond && point < to + beyond),
    between: (from, to, at) => {
      const own = bandAt(at)
      const layer = layers[layerAt(at)]!
      const isTold = own.least_m >= layer.z0_m - ROUNDING && own.most_m <= layer.z1_m + ROUNDING
      // what runs on into another stroke ends, for the depth, where its own stroke does
      const stroke = reached[nearest(at)]!
      const all = joined([bandAt(inside(from, stroke)), own, bandAt(inside(to, stroke))])
      return isTold ? { least_m: within(all.least_m, layer), most_m: within(all.most_m, layer) } : all
    },
    coverageOf: (zone, passed) => counted(zone, passed, { strokes, hand })
  }
}

const joined = (all: readonly Depths[]): Depths => ({
  least_m: Math.min(...all.map(({ least_m }) => least_m)),
  most_m: Math.max(...all.map(({ most_m }) => most_m))
})

const middleOf = ({ least_m, most_m }: Depths): number => 0.5 * (least_m + most_m)
const inside = (point: number, { from, to }: Stretch): number => Math.min(to, Math.max(from, point))
const whole = (layers: readonly Layer[]): Depths => ({ least_m: 0, most_m: layers.at(-1)!.z1_m })

const metalOf = ({ ties }: Stroke): Stretch => ({ from: ties[0]!.from, to: ties.at(-1)!.to })

/** Distance over revolutions of all strokes; a turn inside the hole, whose depth is not known, left out. */
function meanAdvance(strokes: readonly Stroke[]): number {
  const stretches = strokes.flatMap((stroke) => stroke.stretches)
  const way = stretches.reduce((sum, { z0_m, z1_m }) => sum + z1_m - z0_m, 0)
  const turns = stretches.reduce((sum, { from, to }) => sum + (to - from) / UNIT, 0)
  return turns > 0 && way > 0 ? way / turns : BEFORE_m
}

/** The layer between two tie points, parted at the middle of where each of them lies. */
function layerIn({ ties }: Stroke, layers: readonly Layer[], point: number): number {
  const middles = ties.map(({ from, to }) => 0.5 * (from + to))
  let i = 0
  while (i < ties.length - 2 && point >= middles[i + 1]!) i++
  const [a, b] = [ties[i]!, ties[i + 1] ?? ties[i]!]
  return layerOf(layers, 0.5 * (a.depth_m + b.depth_m))
}

function widest({ band }: Strokes, reached: readonly Stretch[]): number {
  let most = 0
  for (const { from, to } of reached) {
    for (let point = from; point <= to; point += LOOK) {
      const at = band.at(point)
      if (at !== undefined) most = Math.max(most, at.most_m - at.least_m)
    }
  }
  return most
}

interface Counting {
  readonly strokes: readonly Stroke[]
  readonly hand: ByHand['hand']
}

/** Coverage by counting; what the recording does not reach over at its ends counts as a gap. */
function counted(zone: Zone, { unusable, range, maxPitch_m }: Passed, { strokes, hand }: Counting): ZoneCoverage {
  const ends = [
    { from: Number.NEGATIVE_INFINITY, to: range.from / UNIT, reason: 'the recording does not reach over it' },
    { from: range.to / UNIT, to: Number.POSITIVE_INFINITY, reason: 'the recording does not reach over it' }
  ]
  const gaps = [...unusable, ...ends]
  const covered = coveredByCounting(strokes, { zone, maxPitch_m, unusable: gaps })
  if (covered >= 1 - ROUNDING) return { zone, covered: 1, why: [] }
  const over = strokes
    .flatMap(({ stretches }) => stretches)
    .filter(({ z0_m, z1_m }) => z0_m < zone.z1_m && z1_m > zone.z0_m)
  if (over.length === 0) return { zone, covered, why: ['no stroke surely reached over it'] }
  const slow = over.filter(({ largestAdvance_m }) => largestAdvance_m <= maxPitch_m)
  if (slow.length === 0) return { zone, covered, why: [tooFast(over, hand, maxPitch_m)] }
  const reasons = slow.flatMap((stretch) => gaps.filter((gap) => meets(gap, stretch)).map(({ reason }) => reason))
  return { zone, covered, why: [...new Set(reasons)] }
}

const meets = (gap: Stretch, { from, to }: Told): boolean => gap.to * UNIT > from && gap.from * UNIT < to

function tooFast(over: readonly Told[], { fastest_to_mean }: ByHand['hand'], maxPitch_m: number): string {
  const least = Math.min(...over.map(({ largestAdvance_m }) => largestAdvance_m))
  return `by counting an advance of up to ${(1e3 * least).toFixed(2)} mm a revolution (fastest feed ${fastest_to_mean} times its mean; needed: at most ${(1e3 * maxPitch_m).toFixed(2)} mm)`
}
