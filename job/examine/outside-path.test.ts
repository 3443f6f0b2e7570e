/**
 * Stage scans of a real plate, with one coil and without a reference: complex numbers as text, along a path. Oracle: where
 * the magnitude of the rows passes half way between air and plate, worked out here row by row.
 */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import {
  drawnOf,
  following,
  judgeTrack,
  pairsOf,
  partOfPair,
  partsOf,
  StretchTracker,
  stepOf,
  trackFeatures,
  valuesOf
} from '../interpret/index.ts'
import { survey } from '../scan/index.ts'
import { opened, readIn } from '../scan/testing/read.ts'
import { Conditioning, DropLog, PositionRuler, type TrackUnit } from '../signal/index.ts'
import { lead, trackBand, trackStep, trail } from '../standardize/index.ts'
import { sound } from './testing/hole.ts'

/** The coil is not stated: a field as wide as the edges are. */
const FIELD_MM = 4
const numbers = valuesOf(following)

interface Line {
  readonly place: Float64Array
  readonly re: Float64Array
  readonly im: Float64Array
}

interface Found {
  readonly kind: string
  readonly is: string
  readonly from_mm: number
  readonly to_mm: number
}

/** A straight part of the path as a track; the way from air into the plate counts as 5 alarm slots. */
function examinedLine({ place, re, im }: Line, plateEnds_mm: readonly number[]): readonly Found[] {
  const step_m = trackStep(FIELD_MM * 1e-3)
  const field = Math.round((FIELD_MM * 1e-3) / step_m)
  const rule = { field, screen: 0.125, alarm: 0.5, least: 0.25, around: 20 * field, narrow: 0.5 * field }
  const tracker = new StretchTracker({ field, alarm: 0.5, numbers })
  const conditioning = new Conditioning<'position', TrackUnit>(trackBand(), ({ signal, a, b }) => {
    const isHeld = (i: number) => (i < 256 ? a.hollow === 512 : b.hollow === 512)
    const keep = [...signal.x.keys()].filter((i) => !isHeld(i) && ![...a.empty, ...b.empty].includes(signal.first + i))
    const of = (column: Float64Array) => Float64Array.from(keep, (i) => column[i]!)
    const flat = new Float64Array(keep.length)
    if (keep.length > 0)
      tracker.take(signal.first + keep[0]!, {
        x: of(signal.x),
        y: of(signal.y),
        scale: flat.fill(0.2),
        coating: flat.map(() => Number.NaN)
      })
  })
  let last: TrackUnit | undefined
  const ruler = new PositionRuler({ rate_Hz: 1000, step_m, band: trackBand() }, new DropLog(), (unit) => {
    if (last === undefined) conditioning.take(lead(unit))
    last = unit
    return conditioning.take(unit)
  })
  sound(ruler.take({ first: 0, channels: [{ x: re, y: im }], aux: { position: place } }))
  const { sense } = sound(ruler.end())
  conditioning.take(trail(last!))
  const { stretches } = tracker.close()
  const own_rad = (numbers.own * Math.PI) / 180
  // no reference: where slots would lie is not known, and is taken at right angles to the way into the plate
  const slots_rad = 0
  const found = stretches.map((one) => ({ one, parts: partsOf(one, rule) }))
  const steps = found.flatMap(({ one, parts }) => {
    const step = stepOf(one, rule, { reach: field, sharp: numbers.sharp, slots_rad, own_rad, parts })
    return step === undefined ? [] : [step]
  })
  const pairs = pairsOf(steps, numbers.alike).map((pair) => partOfPair(pair, drawnOf(pair.from.stretch)))
  const plateEnds = plateEnds_mm.map((mm) => (sense * mm * 1e-3) / step_m)
  return [...found.flatMap(({ parts }) => parts), ...pairs].map((part) => {
    const judged = judgeTrack(trackFeatures(part, { field, slots_rad, plateEnds }), {
      crossedAlarm: part.level >= 0.5,
      mayClass: ['end of plate']
    })
    const mm = [part.half.from, part.half.to].map((at) => sense * at * step_m * 1e3).sort((a, b) => a - b)
    return { kind: judged.cause, is: judged.class, from_mm: mm[0]!, to_mm: mm[1]! }
  })
}

/** Straight parts of a path: so many rows in which one coordinate stays. */
function linesOf(
  x: Float64Array,
  y: Float64Array
): readonly { readonly rows: readonly number[]; readonly along: 'x' | 'y' }[] {
  const lines: { rows: number[]; along: 'x' | 'y' }[] = []
  for (let i = 1; i < x.length; i++) {
    const along = Math.abs(x[i]! - x[i - 1]!) > Math.abs(y[i]! - y[i - 1]!) ? 'x' : 'y'
    const last = lines.at(-1)
    if (last?.along === along) last.rows.push(i)
    else lines.push({ rows: [i], along })
  }
  return lines.filter(({ rows }) => rows.length > 100)
}

needsOutside('outside/cscan_xy_rms', 'stage scans of a real plate', (folder) => {
  const name = 'CoarseScanMultiFreq.csv'
  const bytes = new Uint8Array(readFileSync(join(folder, name)))
  const read = (position: string) => {
    const seen = survey(bytes, name, bytes.length)
    if ('refused' in seen) throw new Error(seen.found)
    const pair = seen.columns.filter((column) => column.name.startsWith('Spec 11'))
    const overrides = {
      x: pair[0]!.number,
      y: pair[1]!.number,
      position,
      rate_Hz: 1000,
      index: null,
      absolute: null,
      time: null
    }
    return sound(readIn(() => opened(bytes, name, overrides), bytes, [997]))
  }
  const [byX, byY] = [read('x (mm)'), read('y (mm)')]
  const place = { x: byX.aux.position!, y: byY.aux.position! }

  it('come in: complex numbers as text, with a position in mm', () => {
    expect(byX.x.length).toBe(3623)
    expect(byX.x[0]).toBeCloseTo(-15787.612316903113, 9)
    expect(byX.y[0]).toBeCloseTo(-4438.160791278326, 9)
    expect(place.x[0]).toBeCloseTo(0.138161887125, 12)
  })

  const crossing = linesOf(place.x, place.y).filter(({ rows }) => {
    const sizes = rows.map((i) => Math.hypot(byX.x[i]!, byX.y[i]!))
    return Math.max(...sizes) > 1.5 * Math.min(...sizes)
  })

  it('six lines cross the plate, three each way', () => {
    expect(crossing.map(({ along }) => along).sort()).toEqual(['x', 'x', 'x', 'y', 'y', 'y'])
  })

  describe.each(crossing.map((one, k) => [k + 1, one] as const))('line %i', (_, { rows, along }) => {
    const of = (column: Float64Array) => Float64Array.from(rows, (i) => column[i]!)
    const at = of(place[along])
    const [re, im] = [of(byX.x), of(byX.y)]
    const air = { re: mean(re.slice(0, 20)), im: mean(im.slice(0, 20)) }
    const middle = Math.floor(rows.length / 2)
    const plate = {
      re: mean(re.slice(middle - 10, middle + 10)) - air.re,
      im: mean(im.slice(middle - 10, middle + 10)) - air.im
    }
    const square = plate.re * plate.re + plate.im * plate.im
    // in units of the way from air into the plate; that way is upward, so that nothing of it is hidden
    const up = re.map((value, i) => ((value - air.re) * plate.re + (im[i]! - air.im) * plate.im) / square)
    const across = re.map((value, i) => ((im[i]! - air.im) * plate.re - (value - air.re) * plate.im) / square)
    const smooth = up.map((__, i) => mean(up.slice(Math.max(0, i - 3), i + 4)))
    const edges = [...smooth.keys()]
      .filter((i) => i > 0 && smooth[i]! >= 0.5 !== smooth[i - 1]! >= 0.5)
      .map((i) => 1e3 * at[i]!)
    const ends = [Math.min(...edges), Math.max(...edges)]

    it('shows both edges of the plate, as edges, and no flaw', () => {
      const found = examinedLine({ place: at, re: across, im: up }, ends)
      expect(found.map(({ kind, is }) => [kind, is])).toEqual([['end of plate', 'nonrelevant']])
      expect(Math.abs(found[0]!.from_mm - ends[0]!)).toBeLessThan(0.5 * FIELD_MM)
      expect(Math.abs(found[0]!.to_mm - ends[1]!)).toBeLessThan(0.5 * FIELD_MM)
    })

    it('and where no end of the plate is stated, no class that drops it', () => {
      for (const { is } of examinedLine({ place: at, re: across, im: up }, []))
        expect(['relevant', 'undecided']).toContain(is)
    })
  })

  it('the hole of the other plate is an edge too: its chord has two ends of the plate, and nothing else stands out', () => {
    const text = readFileSync(join(folder, 'square_with_hole.csv'), 'utf8')
    const rows = text
      .trim()
      .split('\n')
      .slice(1)
      .map((row) => row.split(',').map(Number))
    // from the last row inside the plate the path goes to and fro over the rim of the hole: every passage is an edge
    const rim = rows.slice(616)
    const arc = [0]
    for (const [i, [x, y]] of rim.slice(1).entries()) arc.push(arc[i]! + Math.hypot(x! - rim[i]![0]!, y! - rim[i]![1]!))
    const [low, high] = [0.0132, 0.0158]
    const metal = rim.map((row) => 1 - (row[2]! - low) / (high - low))
    const ends = metal.flatMap((value, i) => (i > 0 && value >= 0.5 !== metal[i - 1]! >= 0.5 ? [arc[i]!] : []))
    expect(ends.length).toBeGreaterThan(4)
    const line = {
      place: Float64Array.from(arc, (mm) => mm * 1e-3),
      re: new Float64Array(arc.length),
      im: Float64Array.from(metal)
    }
    const found = examinedLine(line, ends)
    expect(found.length).toBeGreaterThan(0)
    for (const { kind, is } of found) expect([kind, is]).toEqual(['end of plate', 'nonrelevant'])
  })
})

const mean = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((sum, value) => sum + value, 0) / values.length
