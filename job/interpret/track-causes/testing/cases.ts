/** Test help: tracks painted from first principles, whose cause is known by how they were painted. Invented throughout. */
import { valuesOf } from '../../parameters.ts'
import { StretchTracker } from '../../track.ts'
import { pairsOf, partOfPair } from '../../track-ends.ts'
import { type TrackFeatures, trackFeatures } from '../../track-features.ts'
import { following } from '../../track-numbers.ts'
import { drawnOf, type PartRule, partsOf } from '../../track-parts.ts'
import { stepOf } from '../../track-steps.ts'

export const FIELD = 24
export const SLOTS = (75 * Math.PI) / 180
const LENGTH = 2400
const numbers = valuesOf(following)
const rule: PartRule = { field: FIELD, screen: 0.125, alarm: 0.5, least: 0.25, around: 20 * FIELD, narrow: 12 }

/** What is painted: sizes at a ruler point, and the direction of each in degrees from lift-off; coating in mm. */
export interface Painted {
  readonly signals: readonly { readonly deg: number; readonly size: (i: number) => number }[]
  readonly coating?: (i: number) => number
  /** ruler points at which the plate ends */
  readonly plateEnds?: readonly number[]
}

/** From 0 to 1 around a point, over so many points from a tenth to nine tenths. */
export const step = (i: number, at: number, width = 0.5 * FIELD): number => 1 / (1 + Math.exp((4.4 * (at - i)) / width))
export const bell = (i: number, at: number, width: number): number => Math.exp(-4 * Math.LN2 * ((i - at) / width) ** 2)
export const between = (i: number, from: number, to: number, width?: number): number =>
  step(i, from, width) - step(i, to, width)

/** Features of the strongest part of a painted track. */
export function seen({ signals, coating = () => 1, plateEnds = [] }: Painted): TrackFeatures {
  const column = (f: (i: number) => number) => Float64Array.from({ length: LENGTH }, (_, i) => f(i))
  const of = (part: (rad: number) => number) =>
    column((i) => signals.reduce((sum, { deg, size }) => sum + size(i) * part((deg * Math.PI) / 180), 0))
  const tracker = new StretchTracker({ field: FIELD, alarm: 0.5, numbers })
  tracker.take(0, { x: of(Math.cos), y: of(Math.sin), scale: column(() => 1), coating: column(coating) })
  const { stretches } = tracker.close()
  const own_rad = (numbers.own * Math.PI) / 180
  const found = stretches.map((one) => ({ one, parts: partsOf(one, rule) }))
  const steps = found.flatMap(({ one, parts }) => {
    const last = stepOf(one, rule, { reach: FIELD, sharp: numbers.sharp, slots_rad: SLOTS, own_rad, parts })
    return last === undefined ? [] : [last]
  })
  const pairs = pairsOf(steps, numbers.alike).map((pair) => partOfPair(pair, drawnOf(pair.from.stretch)))
  const all = [...found.flatMap(({ parts }) => parts), ...pairs]
  if (all.length === 0) throw new Error('nothing stands out')
  const strongest = all.reduce((best, one) => (one.level > best.level ? one : best))
  return trackFeatures(strongest, { field: FIELD, slots_rad: SLOTS, plateEnds })
}

export interface Case {
  readonly shows: Painted
  /** relevant, and like it in something */
  readonly lookAlike: Painted
}

const crack = (from: number, to: number, size = 1) => ({ deg: 75, size: (i: number) => size * between(i, from, to) })

export const cases: Readonly<Record<string, Case>> = {
  crack: {
    shows: { signals: [crack(1000, 1100)] },
    lookAlike: { signals: [crack(1000, 1030, 0.6)] }
  },
  'permeability change': {
    shows: { signals: [{ deg: 140, size: (i) => 1.2 * between(i, 1000, 1300, 5 * FIELD) }] },
    lookAlike: { signals: [{ deg: 78, size: (i) => 1.2 * between(i, 1000, 1300, 3 * FIELD) }] }
  },
  'toe geometry': {
    shows: {
      signals: [{ deg: 25, size: (i) => 2 * Math.sin((2 * Math.PI * i) / 240) * between(i, 1000, 1480, 2 * FIELD) }]
    },
    lookAlike: { signals: [crack(1000, 1060), { deg: 5, size: (i) => 0.3 * Math.sin((2 * Math.PI * i) / 240) }] }
  },
  spatter: {
    shows: {
      signals: [{ deg: 20, size: (i) => 1.8 * bell(i, 1000, 1.5 * FIELD) }],
      coating: (i) => 1 + 0.3 * bell(i, 1000, 1.5 * FIELD)
    },
    lookAlike: { signals: [crack(1000, 1030)], coating: (i) => 1 + 0.1 * bell(i, 1000, 1.5 * FIELD) }
  },
  'lift-off jump': {
    shows: {
      signals: [{ deg: 16, size: (i) => 2.5 * between(i, 1000, 1250) }],
      coating: (i) => 1 + 0.7 * between(i, 1000, 1250)
    },
    lookAlike: { signals: [crack(1000, 1150)], coating: (i) => 1 + 0.2 * between(i, 900, 1250, 200) }
  },
  'edge of paint': {
    shows: {
      signals: [{ deg: 20, size: (i) => 1.8 * bell(i, 1000, 1.2 * FIELD) }],
      coating: (i) => 1 + 0.35 * step(i, 1000)
    },
    lookAlike: { signals: [crack(1000, 1060)], coating: (i) => 1 + 0.2 * step(i, 1030, 100) }
  },
  'end of plate': {
    shows: { signals: [{ deg: 120, size: (i) => 3 * step(i, 2370) }], plateEnds: [0, 2380] },
    lookAlike: { signals: [crack(2240, 2340)], plateEnds: [0, 2380] }
  }
}
