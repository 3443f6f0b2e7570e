/** Oracle: what the test drew along the track: where it begins, ends, how high it stands and on what. */
import { describe, expect, it } from 'vitest'
import { valuesOf } from './parameters.ts'
import { StretchTracker } from './track.ts'
import { pairsOf, partOfPair } from './track-ends.ts'
import { following } from './track-numbers.ts'
import { drawnOf, type PartRule, partsOf } from './track-parts.ts'
import { stepOf } from './track-steps.ts'

const FIELD = 24
const rule: PartRule = { field: FIELD, screen: 0.125, alarm: 0.5, least: 0.25, around: 20 * FIELD, narrow: 0.5 * FIELD }
const numbers = valuesOf(following)
/** Slots lie along 75°, the plate’s own changes along 10°, as a line. */
const SLOTS = (75 * Math.PI) / 180
const PLATE = (10 * Math.PI) / 180

/** Between 0 and 1 over about so many points around a place. */
const step = (i: number, at: number, width = 8) => 1 / (1 + Math.exp((4.4 * (at - i)) / width))
const flaw = (i: number, from: number, to: number, height: number) => height * (step(i, from) - step(i, to))

interface Drawn {
  readonly length: number
  readonly of: (i: number) => number
  readonly scale?: (i: number) => number
  /** what of it is the plate's, by its vertical part */
  readonly plate?: (i: number) => number
}

function followed({ length, of, scale = () => 1, plate = () => 0 }: Drawn, cut = length) {
  const column = (f: (i: number) => number) => Float64Array.from({ length }, (_, i) => f(i))
  const y = column((i) => of(i) + plate(i))
  const x = column((i) => of(i) / Math.tan(SLOTS) + plate(i) / Math.tan(PLATE))
  const points = { x, y, scale: column(scale), coating: column(() => 1) }
  const tracker = new StretchTracker({ field: FIELD, alarm: 0.5, numbers })
  const events = []
  for (let at = 0; at < length; at += cut) {
    const part = (values: Float64Array) => values.slice(at, at + cut)
    const { scale: s, coating } = points
    events.push(...tracker.take(1000 + at, { x: part(x), y: part(y), scale: part(s), coating: part(coating) }))
  }
  const closed = tracker.close()
  const { stretches } = closed
  const parts = stretches.flatMap((one) => partsOf(one, rule))
  const steps = stretches.flatMap((one) => {
    const found = stepOf(one, rule, {
      reach: FIELD,
      sharp: numbers.sharp,
      slots_rad: SLOTS,
      own_rad: (numbers.own * Math.PI) / 180,
      parts: partsOf(one, rule)
    })
    return found === undefined ? [] : [found]
  })
  return { events: [...events, ...closed.events], stretches, parts, steps, overflow: tracker.overflow }
}

const ends = (parts: ReturnType<typeof followed>['parts']) =>
  parts.map(({ half }) => [Math.round(half.from) - 1000, Math.round(half.to) - 1000])

describe('what stands out of a plate along a track', () => {
  it('a flaw has its ends at half its height, and its height above the plate', () => {
    const { parts, steps, events } = followed({ length: 900, of: (i) => 0.7 + flaw(i, 300, 420, 0.6) })
    expect(ends(parts)).toEqual([[300, 420]])
    expect(parts[0]!.level).toBeCloseTo(0.6, 2)
    expect(parts[0]!.sense).toBe(1)
    expect(steps).toEqual([])
    expect(events.map(({ kind }) => kind)).toEqual(['opened', 'settled'])
  })

  it('is the same for any cutting', () => {
    const drawn = { length: 900, of: (i: number) => flaw(i, 300, 420, 0.6) + flaw(i, 600, 620, 0.4) }
    const whole = followed(drawn)
    for (const cut of [1, 7, 50]) expect(followed(drawn, cut)).toEqual(whole)
  })

  it('counts in answers of the alarm slot under the coating at each place', () => {
    const scale = (i: number) => 0.5 - 0.0003 * i
    const { parts } = followed({ length: 900, of: (i) => scale(i) * flaw(i, 300, 420, 0.6), scale })
    expect(parts[0]!.level).toBeCloseTo(0.6, 2)
  })

  it('a flaw that points down is followed like one that points up', () => {
    const { parts } = followed({ length: 900, of: (i) => -flaw(i, 300, 420, 0.6) })
    expect(ends(parts)).toEqual([[300, 420]])
    expect(parts[0]!.sense).toBe(-1)
  })

  it('a flaw behind a dip of noise that opened the stretch is found all the same', () => {
    for (const sign of [1, -1]) {
      const of = (i: number) => sign * (flaw(i, 330, 520, 0.9) - 0.16 * flaw(i, 290, 300, 1))
      const { parts } = followed({ length: 1200, of })
      const strongest = parts.reduce((best, one) => (one.level > best.level ? one : best))
      expect(ends([strongest])).toEqual([[330, 520]])
      expect(strongest.sense).toBe(sign)
    }
  })

  it('a slow change of the plate is none, however large', () => {
    const { parts, steps } = followed({ length: 6000, of: () => 0, plate: (i) => 3 * Math.sin(i / 1500) })
    expect(parts).toEqual([])
    expect(steps).toEqual([])
  })

  it('a border that is not sharp is a slow step: no part, told as the plate’s', () => {
    const { parts, steps } = followed({ length: 3000, of: () => 0, plate: (i) => step(i, 1000, 250) })
    expect(parts).toEqual([])
    expect(steps.map(({ isEnd }) => isEnd)).toEqual([false])
    expect(steps[0]!.height).toBeGreaterThan(0.8)
  })

  it('two flaws on a slow rise are two, each above its own surroundings', () => {
    const { parts } = followed({
      length: 4000,
      of: (i) => flaw(i, 1400, 1460, 0.5) + flaw(i, 1700, 1760, 0.4),
      plate: (i) => step(i, 1500, 900)
    })
    expect(ends(parts).map(([from]) => from)).toEqual([expect.closeTo(1400, -0.5), expect.closeTo(1700, -0.5)])
    expect(parts[0]!.level).toBeGreaterThan(0.4)
    expect(parts[1]!.level).toBeGreaterThan(0.3)
  })

  it('a flaw of any length is one, from end to end', () => {
    for (const length of [400, 2000, 30_000]) {
      const drawn = { length: length + 3000, of: (i: number) => flaw(i, 1000, 1000 + length, 0.8) }
      const { parts, steps } = followed(drawn)
      const pairs = pairsOf(steps, numbers.alike).map((pair) => partOfPair(pair, drawnOf(pair.from.stretch)))
      expect(ends([...parts, ...pairs])).toEqual([[expect.closeTo(1000, -0.5), expect.closeTo(1000 + length, -0.5)]])
      expect([...parts, ...pairs][0]!.isWhole).toBe(true)
    }
  })

  it('a long crack whose depth tapers all along is one, though its ends are gentle', () => {
    for (const length of [600, 1200, 2400]) {
      const taper = (i: number) => {
        const u = (2 * (i - 1000 - length / 2)) / length
        return Math.abs(u) < 1 ? 2.3 * (1 - u * u) ** 0.375 : 0
      }
      const seen = (i: number) => Array.from({ length: 25 }, (_, k) => taper(i + k - 12)).reduce((a, b) => a + b) / 25
      const { parts, steps } = followed({ length: length + 3000, of: seen })
      const pairs = pairsOf(steps, numbers.alike).map((pair) => partOfPair(pair, drawnOf(pair.from.stretch)))
      const all = [...parts, ...pairs]
      expect(Math.max(...all.map(({ level }) => level))).toBeGreaterThan(2)
      const [from, to] = [Math.min(...all.map(({ half }) => half.from)), Math.max(...all.map(({ half }) => half.to))]
      expect(Math.abs(from - 2000)).toBeLessThan(0.12 * length)
      expect(Math.abs(to - 2000 - length)).toBeLessThan(0.12 * length)
    }
  })

  it('a long flaw without an end on the track has one end only', () => {
    const { steps } = followed({ length: 3000, of: (i) => 0.8 * step(i, 1000) })
    const [pair, ...more] = pairsOf(steps, numbers.alike)
    expect(more).toEqual([])
    expect(partOfPair(pair!, drawnOf(pair!.from.stretch)).isWhole).toBe(false)
  })

  it('ends that are not alike are not joined', () => {
    const { steps } = followed({ length: 5000, of: (i) => step(i, 1000) - 0.3 * step(i, 3000) })
    expect(pairsOf(steps, numbers.alike).map(({ to }) => to)).toEqual([undefined, undefined])
  })

  it('tells when there are more than can be kept', () => {
    const { overflow, stretches } = followed({ length: 4100 * 200, of: (i) => flaw(i % 200, 80, 110, 0.6) })
    expect(stretches).toHaveLength(4000)
    expect(overflow).toBe(true)
  })
})
