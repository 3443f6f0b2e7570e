/**
 * Oracles: recordings whose turns and values are known functions; the gain law of the band written out with Math.
 * Cutting: bitwise equality with the recording in one piece.
 */
import { cubicBSpline, randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bandFromFootprint } from '../plan/index.ts'
import type { AngleSource } from './angle-ruler.ts'
import { knotSpacing, UNIT } from './band.ts'
import { MarkTracker } from './marks.ts'
import { farthest } from './testing/columns.ts'
import { type Columns, columnsOf, refusalOf, ruled, segmentsOf, sound } from './testing/recording.ts'

const band = bandFromFootprint(6.35e-3, 1.3e-3)
const source: AngleSource = { rate_Hz: 6400, speed_Hz: 25, tolerance: 0.2, indexed: true, band }

const HARMONICS = [3, 5, 7, 9, 12, 14, 17, 21]
const phase = (k: number) => 1.7 * k * k

/** A wall that repeats every turn: run-out, ovality and harmonics within the band. */
const wallX = (turn: number) =>
  3 + 5 * Math.cos(2 * Math.PI * turn) + 4 * Math.sin(4 * Math.PI * turn) + sum(turn, Math.cos)
const wallY = (turn: number) => -2 + 2 * Math.sin(2 * Math.PI * turn) + sum(turn, Math.sin)
const sum = (turn: number, of: (angle: number) => number) =>
  HARMONICS.reduce((total, k) => total + of(2 * Math.PI * k * turn + phase(k)) / k, 0)

/** What the band has to leave of it: its law, written out. */
const law = (k: number) =>
  Math.exp(-0.5 * Math.LN2 * (k / band.high) ** 4) * (1 - Math.exp(Math.log(1 - Math.SQRT1_2) * (k / band.low) ** 4))
const banded = (turn: number, of: (angle: number) => number) =>
  HARMONICS.reduce((total, k) => total + (law(k) * of(2 * Math.PI * k * turn + phase(k))) / k, 0)

/** Turn 0 lies at sample 77; the speed breathes by ± 8 %. */
const breathing = (rate: number) => (i: number) => {
  const nominal = ((i / rate) * 6400 - 77) / 256
  return nominal + 0.08 * Math.sin(nominal)
}
const recording = (rate = 6400, revolutions = 20): Required<Pick<Columns, 'x' | 'y' | 'index'>> =>
  columnsOf({ samples: Math.floor((256 * revolutions * rate) / 6400), turn: breathing(rate), x: wallX, y: wallY })

/** Longer than a block of the time axis, so that one ends inside it. */
const base = recording()

describe('the ruler of a hole', () => {
  const out = sound(source, segmentsOf(base, [1000]))

  it('gives whole revolutions in order, half a unit less when conditioned', () => {
    expect(out.revolutions.map(({ number }) => number)).toEqual(out.revolutions.map((_, k) => k))
    expect(out.revolutions.length).toBe(out.turning.marks.seen - 1)
    expect(out.conditioned.map(({ signal }) => signal.first)).toEqual(out.conditioned.map((_, k) => (k + 0.5) * UNIT))
    expect(out.revolutions.every(({ hollow, unread, lost }) => hollow === 0 && unread === 0 && !lost)).toBe(true)
  })

  it('knows the speeds met', () => {
    const { speed, samples } = out.turning
    expect(samples).toBe(base.x.length)
    // the turns change by 1 + 0.08·cos: their means over a revolution stay inside
    expect(speed.least).toBeGreaterThan(25 * 0.92)
    expect(speed.least).toBeLessThan(24.2)
    expect(speed.most).toBeLessThan(25 * 1.08)
    expect(speed.most).toBeGreaterThan(25.8)
    expect(speed.mean).toBeGreaterThan(speed.least)
    expect(speed.mean).toBeLessThan(speed.most)
  })

  it('logs what lies before the first and after the last turn', () => {
    const before = out.dropped.find(({ reason }) => reason === 'before the first turn')!
    const after = out.dropped.find(({ reason }) => reason === 'after the last turn')!
    const first = Array.from(base.x.keys()).findIndex((i) => breathing(6400)(i) >= 0)
    const last = Array.from(base.x.keys()).findLastIndex((i) => breathing(6400)(i) < out.revolutions.length)
    expect(Math.abs(before.to - first)).toBeLessThanOrEqual(1)
    expect(Math.abs(after.from - last)).toBeLessThanOrEqual(2)
    expect(after.to).toBe(base.x.length)
    expect(out.dropped).toHaveLength(2)
  })

  it.each([0.5, 1, 2, 4])('at %f times the sample rate the band leaves what its law says, within 1 %', (times) => {
    const rate = 6400 * times
    const turn = (i: number) => (i - 77.3) / (256.37 * times)
    const columns = columnsOf({ samples: 3584 * times, turn, x: wallX, y: wallY })
    const { conditioned } = sound({ ...source, rate_Hz: rate }, segmentsOf(columns, [997]))
    const off = conditioned.map(({ signal }) => {
      const expected = (of: (angle: number) => number) => signal.x.map((_, i) => banded((signal.first + i) / UNIT, of))
      return Math.max(farthest(signal.x, expected(Math.cos)), farthest(signal.y, expected(Math.sin)))
    })
    expect(conditioned.length).toBeGreaterThan(10)
    const most = Math.max(...Array.from({ length: UNIT }, (_, i) => banded(i / UNIT, Math.cos)))
    expect(Math.max(...off) / most).toBeLessThan(0.01)
  })

  it.each([0.5, 2, 4])(
    'at %f times the sample rate it gives the same, within 1 %, whatever the speed does',
    (times) => {
      const rate = 6400 * times
      const other = sound({ ...source, rate_Hz: rate }, segmentsOf(recording(rate), [997])).conditioned
      expect(Math.abs(other.length - out.conditioned.length)).toBeLessThanOrEqual(1)
      for (const [k, { signal }] of out.conditioned.slice(0, other.length).entries()) {
        const size = Math.max(...signal.x) - Math.min(...signal.x)
        expect(farthest(signal.x, other[k]!.signal.x) / size).toBeLessThan(0.01)
        expect(farthest(signal.y, other[k]!.signal.y) / size).toBeLessThan(0.01)
      }
    }
  )

  it('has the noise of the samples in its noise gain', () => {
    const random = randomFrom('noise gain')
    const columns = { ...base, x: base.x.map(() => random.normal()), y: base.y.map(() => random.normal()) }
    const { revolutions } = sound(source, segmentsOf(columns, [4096]))
    const variance = revolutions.map(({ signal: { x, y }, noiseGain }) => {
      const square = x.reduce((total, v, i) => total + v * v + y[i]! * y[i]!, 0) / (2 * UNIT)
      return square / noiseGain
    })
    // 12 revolutions, about 2 · 256/2 independent values each: √(2/3000) = 2.6 %, three times that
    expect(Math.abs(variance.reduce((a, b) => a + b, 0) / variance.length - 1)).toBeLessThan(0.08)
  })
})

describe('a revolution placed on fewer elements', () => {
  /** Speeds that jump by a third from turn to turn, so that neighbors reach in with another spacing. */
  const jumping = (i: number) => {
    const turn = (i - 77.3) / 256
    return turn + 0.13 * Math.abs(turn - 2 * Math.round(turn / 2))
  }
  const random = randomFrom('fewer elements')
  const made = columnsOf({ samples: 30_000, turn: jumping, x: wallX, y: wallY })
  const noisy = { ...made, x: made.x.map((v) => v + 0.1 * random.normal()), y: made.y.map((v) => v + random.normal()) }
  const knot = knotSpacing(band)
  const tracker = new MarkTracker(256)
  const marks = [...tracker.take(0, noisy.index), ...tracker.end()].map(({ at }) => at)

  /** The definition: each sound sample has its coordinate by the marks; those beyond the end go on at the turn's speed. */
  function defined({ x, y }: Columns, turn: number, step: number) {
    const [before, a, b] = [marks[turn - 1] ?? 2 * marks[0]! - marks[1]!, marks[turn]!, marks[turn + 1]!]
    const coordinate = (i: number) => ((i - a) / (i < a ? a - before : b - a)) * UNIT
    const near: { at: number; x: number; y: number }[] = []
    for (let i = Math.max(0, Math.floor(before)); i < Math.min(x.length, b + 200); i++)
      if (!Number.isNaN(x[i])) near.push({ at: coordinate(i), x: x[i]!, y: y[i]! })
    const elements = Array.from({ length: UNIT / step }, (_, n) => {
      const weights = near.map(({ at }) => cubicBSpline((at - n * step) / knot))
      const sum = weights.reduce((total, w) => total + w, 0)
      const mean = (of: 'x' | 'y') => near.reduce((total, sample, i) => total + weights[i]! * sample[of], 0) / sum
      return { x: mean('x'), y: mean('y'), noise: weights.reduce((total, w) => total + w * w, 0) / (sum * sum) }
    })
    const noise = elements.reduce((total, one) => total + one.noise, 0) / elements.length
    return { x: elements.map((one) => one.x), y: elements.map((one) => one.y), noise }
  }

  it.each([1, 2, 4, 8] as const)('%i points apart is the weighted mean by the definition', (step) => {
    const { revolutions } = sound({ ...source, step }, segmentsOf(noisy, [5000]))
    expect(revolutions.length).toBeGreaterThan(90)
    for (const turn of [0, 1, 2, 40, 41, revolutions.length - 1]) {
      const { signal, noiseGain } = revolutions[turn]!
      const slow = defined(noisy, turn, step)
      expect(signal.first).toBe(turn * UNIT)
      expect(signal.x).toHaveLength(UNIT / step)
      expect(Math.max(farthest(signal.x, slow.x), farthest(signal.y, slow.y))).toBeLessThan(1e-10)
      expect(Math.abs(noiseGain / slow.noise - 1)).toBeLessThan(0.02)
    }
  })

  it('is that also where samples are missing', () => {
    const x = noisy.x.slice()
    for (const at of [-2, 3, 100, 180]) x[Math.round(marks[20]!) + at] = Number.NaN
    x.fill(Number.NaN, Math.round(marks[30]!) + 60, Math.round(marks[30]!) + 66)
    const { revolutions } = sound({ ...source, step: 4 }, segmentsOf({ ...noisy, x }, [5000]))
    for (const turn of [19, 20, 21, 30]) {
      const { signal, hollow } = revolutions[turn]!
      const slow = defined({ ...noisy, x }, turn, 4)
      expect(hollow).toBe(0)
      expect(Math.max(farthest(signal.x, slow.x), farthest(signal.y, slow.y))).toBeLessThan(1e-10)
    }
  })

  it('is the same however the recording is cut, to the bit', () => {
    const x = noisy.x.map((v, i) => (i % 4111 === 4000 ? v + 60 : v))
    const whole = sound({ ...source, step: 4 }, segmentsOf({ ...noisy, x }, [x.length]))
    for (const lengths of [[1], [777], [5000, 1, 20], [16_384]])
      expect(sound({ ...source, step: 4 }, segmentsOf({ ...noisy, x }, lengths))).toEqual(whole)
  })
})

/** Sample number of a turn, by bisection. */
const sampleOf = (turn: number): number => {
  let [low, high] = [-1000, 1e5]
  for (let k = 0; k < 80; k++) {
    const middle = 0.5 * (low + high)
    if (breathing(6400)(middle) < turn) low = middle
    else high = middle
  }
  return 0.5 * (low + high)
}

/** A block of the time axis has 4096 samples. */
const SPIKES = [700, 1501, 2950, 4095]

describe('cutting', () => {
  const spoiled = (): Columns => {
    const random = randomFrom('cutting')
    const x = base.x.map((v) => v + 0.02 * random.normal())
    const y = base.y.map((v) => v + 0.02 * random.normal())
    const index = base.index.slice()
    for (const [from, to] of [
      [1300, 1340],
      [2200, 2201]
    ] as const) {
      x.fill(Number.NaN, from, to)
      y.fill(Number.NaN, from, to)
    }
    for (const spike of SPIKES) x[spike] = 60
    // one mark gone, one doubled
    index.fill(0, sampleAt(4) - 20, sampleAt(4) + 20)
    index.fill(5, sampleAt(7) + 110, sampleAt(7) + 116)
    return { x, y, index }
  }
  const sampleAt = (turn: number) => Math.round(sampleOf(turn))
  const columns = spoiled()
  const whole = sound(source, segmentsOf(columns, [base.x.length]))

  it('has something to cut', () => {
    expect(whole.turning.marks).toMatchObject({ filled: 1, doubled: 1 })
    const reasons = whole.dropped.map(({ reason }) => reason)
    expect(new Set(reasons)).toEqual(
      new Set([
        'sample could not be read',
        'no sample for a part of the revolution',
        'spike',
        'before the first turn',
        'after the last turn',
        'samples that could not be read'
      ])
    )
    expect(whole.revolutions.reduce((total, { unread }) => total + unread, 0)).toBe(41)
  })

  it.each([4093, 4094, 4095, 4096, 4097, 4098])('finds a spike at sample %i, beside the border of a block', (at) => {
    const x = columns.x.map((v, i) => (i === at ? v + 60 : i > 4000 ? base.x[i]! : v))
    const spikes = sound(source, segmentsOf({ ...columns, x }, [10, 4096])).dropped.filter(
      ({ reason }) => reason === 'spike'
    )
    expect(spikes.filter(({ from, to }) => from > 4000 || to > 4001)).toEqual([
      { from: at, to: at + 1, unit: 'sample', samples: 1, reason: 'spike' }
    ])
  })

  it('anywhere changes nothing, to the bit', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 6000 }), { minLength: 1, maxLength: 12 }), (lengths) => {
        expect(sound(source, segmentsOf(columns, lengths))).toEqual(whole)
      }),
      { numRuns: 15 }
    )
  })

  it('one sample at a time changes nothing, to the bit', () => {
    expect(sound(source, segmentsOf(columns, [1]))).toEqual(whole)
  })

  it('nor does it where turns come from the signal', () => {
    const { x, y } = columns
    const free = { ...source, indexed: false }
    const one = sound(free, segmentsOf({ x, y }, [base.x.length]))
    for (const lengths of [[1], [613], [5000, 3, 77]]) expect(sound(free, segmentsOf({ x, y }, lengths))).toEqual(one)
  })
})

describe('turns from the signal', () => {
  /** Harmonics only: what repeats once a turn is in it. */
  const steady = (period: number, samples = 6000) => columnsOf({ samples, turn: (i) => i / period, x: wallX, y: wallY })

  it.each([221.7, 256, 291.3])('find a period of %f samples within the tolerance', (period) => {
    const { x, y } = steady(period)
    const { turning, revolutions } = sound({ ...source, indexed: false }, segmentsOf({ x, y }, [1000]))
    expect(turning.fromSignal).toBe(true)
    expect(turning.likeness).toBeGreaterThan(0.99)
    expect(Math.abs((turning.speed.mean * period) / 6400 - 1)).toBeLessThan(2e-3)
    expect(revolutions.length).toBeGreaterThan(12)
    // the same wall comes again at the same angle
    const [a, b] = [revolutions[2]!, revolutions[8]!]
    const size = Math.max(...a.signal.x) - Math.min(...a.signal.x)
    expect(farthest(a.signal.x, b.signal.x) / size).toBeLessThan(0.1)
  })

  it('are taken when the index channel never answers, from the first sample on', () => {
    const { x, y } = steady(256)
    const index = new Float64Array(x.length).fill(1.5)
    const out = sound(source, segmentsOf({ x, y, index }, [500]))
    const free = sound({ ...source, indexed: false }, segmentsOf({ x, y }, [500]))
    expect(out.turning.fromSignal).toBe(true)
    expect(out.revolutions).toEqual(free.revolutions)
    expect(out.conditioned).toEqual(free.conditioned)
  })

  it('are taken when the index channel holds noise alone', () => {
    const random = randomFrom('index')
    const { x, y } = steady(256)
    const index = x.map(() => random.normal())
    const { turning } = sound(source, segmentsOf({ x, y, index }, [500]))
    expect(turning.fromSignal).toBe(true)
    expect(Math.abs(turning.speed.mean / 25 - 1)).toBeLessThan(2e-3)
  })

  it('are not taken because of noise on an index that works', () => {
    const random = randomFrom('noisy index')
    const index = base.index.map((v) => v + 0.2 * random.normal())
    const { turning } = sound(source, segmentsOf({ ...base, index }, [500]))
    expect(turning.fromSignal).toBe(false)
    expect(turning.marks.lost).toBe(0)
    expect(turning.marks.seen + turning.marks.filled).toBe(sound(source, segmentsOf(base, [500])).turning.marks.seen)
  })
})

describe('marks that fail', () => {
  const around = (turn: number) => Math.round(sampleOf(turn))
  const without = (...turns: readonly number[]) => {
    const index = base.index.slice()
    for (const turn of turns) index.fill(0, around(turn) - 25, around(turn) + 25)
    return { ...base, index }
  }

  it('up to three missing keep their revolutions', () => {
    const { revolutions, turning } = sound(source, segmentsOf(without(5, 6, 7), [900]))
    expect(turning.marks).toMatchObject({ filled: 3, lost: 0 })
    expect(revolutions.length).toBe(sound(source, segmentsOf(base, [900])).revolutions.length)
    expect(revolutions.some(({ lost }) => lost)).toBe(false)
  })

  it('more are lost, said for each revolution and in the log', () => {
    const { revolutions, turning, dropped } = sound(source, segmentsOf(without(5, 6, 7, 8, 9), [900]))
    expect(turning.marks).toMatchObject({ filled: 0, lost: 5 })
    expect(revolutions.filter(({ lost }) => lost).map(({ number }) => number)).toEqual([4, 5, 6, 7, 8, 9])
    const entry = dropped.find(({ reason }) => reason === 'index marks lost')
    expect(entry).toMatchObject({ from: 4, to: 10, unit: 'revolution' })
  })
})

describe('gaps and unreadable samples', () => {
  const cut = (from: number, to: number) =>
    [...segmentsOf(base, [100])].filter(({ first }) => first < from || first >= to)

  it('a jump of `first` is a hole in the revolution that holds it, and in no other', () => {
    const out = sound(source, cut(1400, 1500))
    expect(out.dropped).toContainEqual({
      from: 1400,
      to: 1500,
      unit: 'sample',
      samples: 100,
      reason: 'gap in the recording'
    })
    expect(out.turning.samples).toBe(base.x.length - 100)
    const turns = [breathing(6400)(1400), breathing(6400)(1499)].map(Math.floor)
    const holed = out.revolutions.filter(({ hollow }) => hollow > 0).map(({ number }) => number)
    expect(holed.length).toBeGreaterThan(0)
    expect(holed.every((number) => number >= turns[0]! && number <= turns[1]!)).toBe(true)
    expect(out.revolutions.reduce((total, { unread }) => total + unread, 0)).toBe(100)
    for (const { signal } of out.revolutions) expect(signal.x.every(Number.isFinite)).toBe(true)
    const whole = sound(source, segmentsOf(base, [900]))
    for (const { number, signal } of out.revolutions) {
      if (number < turns[0]! - 1 || number > turns[1]! + 1) expect(signal).toEqual(whole.revolutions[number]!.signal)
    }
  })

  it('a gap is what the same samples are as unreadable ones, whatever the segments', () => {
    const nan = (column: Float64Array) => column.map((v, i) => (i >= 1400 && i < 1500 ? Number.NaN : v))
    const unreadable = sound(source, segmentsOf({ x: nan(base.x), y: nan(base.y), index: nan(base.index) }, [700]))
    expect(sound(source, cut(1400, 1500)).revolutions).toEqual(unreadable.revolutions)
  })

  it('a recording that begins late keeps its index', () => {
    const late = sound(source, cut(0, 300))
    expect(late.turning.fromSignal).toBe(false)
    expect(late.turning.marks.seen).toBe(sound(source, segmentsOf(base, [900])).turning.marks.seen - 1)
    expect(late.dropped).toContainEqual({
      from: 0,
      to: 300,
      unit: 'sample',
      samples: 300,
      reason: 'gap in the recording'
    })
  })

  it('segments out of order are a wrong program', () => {
    const [a, b] = [...segmentsOf(base, [500])]
    expect(() => ruled(source, [b!, a!])).toThrow(RangeError)
  })
})

describe('an encoder', () => {
  it('is read where each revolution begins', () => {
    const position = base.x.map((_, i) => 1e-6 * i)
    const { revolutions } = sound(source, segmentsOf({ ...base, position }, [800]))
    for (const { number, position: at } of revolutions) expect(Math.abs(at! * 1e6 - sampleOf(number))).toBeLessThan(2)
    expect(sound(source, segmentsOf(base, [800])).revolutions.some((revolution) => 'position' in revolution)).toBe(
      false
    )
  })
})

describe('refusals', () => {
  it('signal/too-short: fewer than two whole turns', () => {
    const { x, y, index } = columnsOf({ samples: 600, turn: (i) => (i - 20) / 256, x: wallX, y: wallY })
    const cut = (n: number) => ({ x: x.slice(0, n), y: y.slice(0, n), index: index.slice(0, n) })
    expect(refusalOf(source, segmentsOf(cut(300), [100]))).toMatchObject({ code: 'signal/too-short' })
    expect(refusalOf(source, [])).toMatchObject({ code: 'signal/too-short' })
    expect(sound(source, segmentsOf(cut(600), [100])).revolutions).toHaveLength(2)
  })

  it('signal/band-beyond-sampling: a band that the samples of a revolution cannot hold', () => {
    // reach 2 · 14.7 cycles needs 73 samples a revolution
    const thin = columnsOf({ samples: 1500, turn: (i) => (i - 20) / 70, x: wallX, y: wallY })
    const refusal = refusalOf({ ...source, rate_Hz: 70 * 25 }, segmentsOf(thin, [1500]))
    expect(refusal).toMatchObject({ code: 'signal/band-beyond-sampling' })
    expect(refusal.found).toContain('70.0 samples')
    const enough = columnsOf({ samples: 1500, turn: (i) => (i - 20) / 76, x: wallX, y: wallY })
    expect(sound({ ...source, rate_Hz: 76 * 25 }, segmentsOf(enough, [1500])).revolutions.length).toBeGreaterThan(15)
  })

  it('signal/gap-too-long', () => {
    const [a, b] = [...segmentsOf(base, [500])]
    expect(refusalOf(source, [a!, { ...b!, first: 500 + 4_000_001 }])).toMatchObject({
      code: 'signal/gap-too-long',
      where: { sample: 500 }
    })
  })

  it('signal/no-period: no index, and nothing that repeats', () => {
    const random = randomFrom('nothing repeats')
    const x = base.x.map(() => random.normal())
    const y = base.y.map(() => random.normal())
    expect(refusalOf({ ...source, indexed: false }, segmentsOf({ x, y }, [1000]))).toMatchObject({
      code: 'signal/no-period'
    })
    expect(refusalOf(source, segmentsOf({ x, y, index: x.map(() => 0) }, [1000]))).toMatchObject({
      code: 'signal/no-period'
    })
  })
})
