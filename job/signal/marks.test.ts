/** Oracle: edges at sample numbers that the test chose. */
import { randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Mark, MarkTracker } from './marks.ts'
import { farthest } from './testing/columns.ts'

/** An index channel with pulses eight samples wide whose rising flank passes half height at these sample numbers. */
function channel(samples: number, edges: readonly number[], width = 8): Float64Array {
  const column = new Float64Array(samples)
  for (const edge of edges) {
    const first = Math.ceil(edge)
    for (let i = first; i < first + width && i < samples; i++) column[i] = 4
    // a sample on the flank puts the crossing of 2 exactly on the edge
    if (first > edge && first >= 1) column[first - 1] = crossing(first - edge)
  }
  return column
}

/** Height of the sample before the top for which the straight line to the top (4) passes 2 `share` samples before the top. */
const crossing = (share: number): number => (share < 0.5 ? 0 : 4 - 2 / share)

const run = (column: Float64Array, nominal: number, lengths: readonly number[] = [97]) => {
  const tracker = new MarkTracker(nominal)
  const marks: Mark[] = []
  for (let at = 0, k = 0; at < column.length; k++) {
    const to = at + lengths[k % lengths.length]!
    marks.push(...tracker.take(at, column.slice(at, to)))
    at = to
  }
  marks.push(...tracker.end())
  return { marks, counts: { ...tracker.counts }, noMarks: tracker.noMarks }
}

const every = (period: number, count: number, first = 30): readonly number[] =>
  Array.from({ length: count }, (_, k) => first + k * period)
const without = (edges: readonly number[], ...gone: readonly number[]) => edges.filter((_, k) => !gone.includes(k))
const at = (marks: readonly Mark[]) => marks.map((mark) => mark.at)

describe('marks', () => {
  it('are where the channel passes half its height upward, between samples too', () => {
    const edges = every(101, 12).map((edge, k) => edge + [0.1, 0.25, 0.4, 0.5][k % 4]!)
    const { marks, counts } = run(channel(1300, edges), 100)
    expect(counts).toMatchObject({ seen: 12, filled: 0, lost: 0, bounced: 0, doubled: 0 })
    expect(farthest(at(marks), edges)).toBeLessThan(1e-9)
  })

  it('do not need the nominal speed to be right', () => {
    expect(at(run(channel(1500, every(130, 11)), 100).marks)).toEqual(every(130, 11).map((edge) => edge - 0.5))
  })

  it.each([1, 2, 3])('%i missing are filled in evenly', (missing) => {
    const gone = Array.from({ length: missing }, (_, k) => 9 + k)
    const { marks, counts } = run(channel(2100, without(every(100, 20), ...gone)), 100)
    expect(at(marks)).toEqual(every(100, 20).map((edge) => edge - 0.5))
    expect(counts).toMatchObject({ seen: 20 - missing, filled: missing, lost: 0 })
    expect(marks.filter((mark) => mark.kind === 'filled').map((mark) => mark.at)).toEqual(
      gone.map((k) => 29.5 + 100 * k)
    )
  })

  it.each([4, 5, 9])('%i missing make the stretch lost, to the next one seen', (missing) => {
    const gone = Array.from({ length: missing }, (_, k) => 9 + k)
    const { marks, counts } = run(channel(2500, without(every(100, 23), ...gone)), 100)
    expect(counts).toMatchObject({ seen: 23 - missing, filled: 0, lost: missing })
    expect(at(marks).map((m) => Math.round(m))).toEqual(every(100, 23).map((edge) => Math.round(edge - 0.5)))
  })

  it('lost for so long that the turns can no longer be counted are never called filled', () => {
    const edges = [...every(100, 10), ...every(100, 8, 930 + 1040)]
    const { marks, counts } = run(channel(2900, edges), 100)
    expect(counts).toMatchObject({ seen: 18, filled: 0 })
    const between = marks.filter((mark) => mark.at > 940 && mark.at < 1960)
    expect(between.length).toBeGreaterThanOrEqual(9)
    expect(new Set(between.map((mark) => mark.kind))).toEqual(new Set(['lost']))
    expect(at(marks).every((m, i) => i === 0 || m - at(marks)[i - 1]! > 60)).toBe(true)
  })

  it('leave out bounces and doubles', () => {
    const bounced = run(
      channel(
        2100,
        [...every(100, 20), 430 + 14, 930 + 20].sort((a, b) => a - b)
      ),
      100
    )
    expect(at(bounced.marks)).toEqual(every(100, 20).map((edge) => edge - 0.5))
    expect(bounced.counts).toMatchObject({ seen: 20, bounced: 2, doubled: 0 })
    const doubled = run(
      channel(
        2100,
        [...every(100, 20), 930 + 45, 1330 + 50].sort((a, b) => a - b)
      ),
      100
    )
    expect(at(doubled.marks)).toEqual(every(100, 20).map((edge) => edge - 0.5))
    expect(doubled.counts).toMatchObject({ seen: 20, bounced: 0, doubled: 2 })
  })

  it('leave out a chatter within the hysteresis', () => {
    const column = channel(2100, every(100, 20))
    for (const edge of every(100, 20)) column[edge + 3] = 1.7
    expect(run(column, 100).counts).toMatchObject({ seen: 20, bounced: 0 })
  })

  it('follow a speed that drifts', () => {
    const edges: number[] = []
    for (let edge = 20, k = 0; k < 40; k++) {
      edges.push(Math.round(edge))
      edge += 100 * (1 + 0.18 * Math.sin(0.3 * k))
    }
    const { marks, counts } = run(channel(4300, edges), 100)
    expect(at(marks)).toEqual(edges.map((edge) => edge - 0.5))
    expect(counts).toMatchObject({ seen: 40, filled: 0, doubled: 0 })
  })

  it('three times as fast as stated are taken all the same', () => {
    const { marks, noMarks } = run(channel(1340, every(33, 40)), 100)
    expect(noMarks).toBe(false)
    expect(at(marks)).toEqual(every(33, 40).map((edge) => edge - 0.5))
  })

  it('begin where the channel can be read, and wait while it cannot', () => {
    const column = channel(2100, every(100, 20))
    column.fill(Number.NaN, 0, 480)
    column.fill(Number.NaN, 1110, 1170)
    const { marks, counts, noMarks } = run(column, 100)
    expect(noMarks).toBe(false)
    expect(counts).toMatchObject({ seen: 14, filled: 1 })
    expect(at(marks)[0]).toBe(529.5)
    expect(at(marks).at(-1)).toBe(1929.5)
  })
})

const noise = (seed: string, samples: number): Float64Array => {
  const random = randomFrom(seed)
  return Float64Array.from({ length: samples }, () => random.normal())
}

describe('no marks', () => {
  it.each([
    ['a flat channel', new Float64Array(2000)],
    ['one pulse only', channel(2000, [500])],
    ['a channel that cannot be read', new Float64Array(2000).fill(Number.NaN)],
    ['a hum', Float64Array.from({ length: 2000 }, (_, i) => Math.sin(i))],
    ['noise', noise('noise', 2000)],
    ['a recording shorter than three turns', new Float64Array(150)]
  ])('%s', (_, column) => {
    const { marks, noMarks } = run(column, 100)
    expect(noMarks).toBe(true)
    expect(marks).toEqual([])
  })
})

describe('cutting', () => {
  it('changes no mark and no count', () => {
    const edges = [...without(every(100, 20), 7, 12, 13), 930 + 15, 1130 + 48].sort((a, b) => a - b)
    const column = channel(2100, edges)
    const whole = run(column, 100, [2100])
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1 }), (lengths) => {
        expect(run(column, 100, lengths)).toEqual(whole)
      }),
      { numRuns: 30 }
    )
    expect(run(column, 100, [1])).toEqual(whole)
  })
})
