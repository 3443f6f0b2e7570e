/** Oracles: places that the test drew on the ruler; connected components by a plain slow search. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Candidate, CandidateTracker, MOST_CANDIDATES, type Screened } from './candidates.ts'
import type { ExamineEvent } from './event.ts'

const UNIT = 512
const screen = { swing: 10, unit: UNIT }

/** Points [from, to) of the ruler at a height; the peak is in their middle, a little higher. */
interface Run {
  readonly from: number
  readonly to: number
  readonly height: number
}

const peakOf = ({ from, to }: Run) => Math.floor((from + to - 1) / 2)

function columnOf(units: number, runs: readonly Run[]): Float64Array {
  const column = new Float64Array(units * UNIT)
  for (const run of runs) {
    column.fill(run.height, run.from, run.to)
    column[peakOf(run)] = 1.25 * run.height
  }
  return column
}

interface Tracked {
  readonly events: readonly ExamineEvent[]
  readonly candidates: readonly Candidate[]
  readonly overflow: boolean
}

function stretch(first: number, size: Float64Array, swing: Float64Array | undefined): Screened {
  return { first, step: 1, level: size.map((v) => v * v), size, swing }
}

function track(size: Float64Array, swing?: Float64Array, first = 0): Tracked {
  const tracker = new CandidateTracker(screen)
  const events: ExamineEvent[] = []
  for (let at = 0; at < size.length; at += UNIT) {
    const unit = stretch(first + at, size.slice(at, at + UNIT), swing?.slice(at, at + UNIT))
    events.push(...tracker.take(unit))
    for (const column of [unit.level, unit.size, unit.swing]) column?.fill(99)
  }
  const closed = tracker.close()
  return { events: [...events, ...closed.events], candidates: closed.candidates, overflow: tracker.overflow }
}

const kinds = (events: readonly ExamineEvent[]) => events.map(({ kind, id }) => `${kind} ${id}`)

describe('a candidate', () => {
  it('is one place over one revolution', () => {
    const column = columnOf(4, [{ from: 700, to: 711, height: 2 }])
    const { candidates, events } = track(
      column,
      column.map((v) => 3 * v)
    )
    expect(candidates).toHaveLength(1)
    expect(candidates[0]).toMatchObject({
      id: 'c1',
      sign: 1,
      peak: 705,
      matched: 2.5,
      swing: 7.5,
      swingAt: 705,
      from: 700,
      to: 711,
      rows: [{ at: 705, matched: 2.5 }]
    })
    expect(kinds(events)).toEqual(['opened c1', 'settled c1'])
    expect(events[0]).toMatchObject({ ruler: 705 / UNIT, matched: 2.5 })
  })

  it('has a sign, and another sign is another candidate', () => {
    const column = columnOf(3, [
      { from: 600, to: 610, height: -2 },
      { from: 610, to: 620, height: 3 }
    ])
    expect(track(column).candidates.map(({ sign, matched }) => [sign, matched])).toEqual([
      [-1, 2.5],
      [1, 3.75]
    ])
  })

  it('is opened within one revolution, and settled when a revolution has passed without it', () => {
    const tracker = new CandidateTracker(screen)
    const column = columnOf(5, [{ from: 520, to: 530, height: 2 }])
    const take = (unit: number) =>
      kinds(tracker.take(stretch(unit * UNIT, column.slice(unit * UNIT, (unit + 1) * UNIT), undefined)))
    expect([take(0), take(1), take(2), take(3)]).toEqual([[], ['opened c1'], ['settled c1'], []])
  })

  it('is kept when its vertical peak-to-peak alone passes the alarm', () => {
    const swing = new Float64Array(3 * UNIT)
    swing.fill(11, 800, 805)
    const { candidates } = track(new Float64Array(3 * UNIT).fill(0.1), swing)
    expect(candidates).toHaveLength(1)
    expect(candidates[0]).toMatchObject({ swing: 11, matched: 0.1 })
    expect(
      track(
        new Float64Array(3 * UNIT).fill(0.1),
        swing.map((v) => 0.9 * v)
      ).candidates
    ).toHaveLength(0)
  })

  it('crosses the border of a unit without a seam', () => {
    for (const from of [UNIT - 3, UNIT - 9, UNIT - 1]) {
      const column = columnOf(3, [{ from, to: from + 12, height: 2 }])
      const { candidates } = track(column)
      expect(candidates).toHaveLength(1)
      const peak = peakOf({ from, to: from + 12, height: 2 })
      expect(candidates[0]).toMatchObject({ peak, matched: 2.5 })
    }
  })

  it('is the same at every step of the ruler, to the step', () => {
    const tracker = new CandidateTracker(screen)
    const size = new Float64Array(UNIT / 4)
    size.fill(2, 30, 34)
    size[32] = 3
    const unit = { first: UNIT, step: 4, level: size.map((v) => v * v), size, swing: undefined }
    tracker.take(unit)
    const { candidates } = tracker.close()
    expect(candidates).toMatchObject([{ peak: UNIT + 128, from: UNIT + 120, to: UNIT + 136, matched: 3 }])
  })

  it('is the same whether a quiet stretch is taken or skipped', () => {
    const column = columnOf(4, [{ from: UNIT - 6, to: UNIT, height: 2 }])
    const skipping = new CandidateTracker(screen)
    const events = [
      ...skipping.take(stretch(0, column.slice(0, UNIT), undefined)),
      ...skipping.skip(UNIT, 2 * UNIT),
      ...skipping.skip(2 * UNIT, 3 * UNIT),
      ...skipping.skip(3 * UNIT, 4 * UNIT)
    ]
    const closed = skipping.close()
    const taken = track(column)
    expect([...events, ...closed.events]).toEqual(taken.events)
    expect(closed.candidates).toEqual(taken.candidates)
  })

  it('at the very end is there when closed', () => {
    const column = columnOf(3, [{ from: 3 * UNIT - 8, to: 3 * UNIT, height: 2 }])
    expect(track(column).candidates).toHaveLength(1)
  })
})

describe('from revolution to revolution', () => {
  const rows = (shifts: readonly number[], heights = shifts.map(() => 2)) =>
    shifts.map((shift, k) => ({ from: 600 + k * UNIT + shift, to: 612 + k * UNIT + shift, height: heights[k]! }))

  it('one place is one candidate, at its strongest, with a row for each', () => {
    const runs = rows([0, 3, -2, 6], [1.5, 2, 4, 3])
    const { candidates, events } = track(columnOf(8, runs))
    expect(candidates).toHaveLength(1)
    expect(candidates[0]).toMatchObject({ peak: peakOf(runs[2]!), matched: 5 })
    expect(candidates[0]!.rows).toEqual(runs.map((run) => ({ at: peakOf(run), matched: 1.25 * run.height })))
    expect(kinds(events)).toEqual(['opened c1', 'revised c1', 'revised c1', 'settled c1'])
  })

  it('a revolution without it ends it', () => {
    const runs = rows([0, 0, 0, 0]).filter((_, k) => k !== 2)
    expect(track(columnOf(8, runs)).candidates.map((one) => one.rows.length)).toEqual([2, 1])
  })

  it('a place that moves too far in angle is another one', () => {
    // 12 points wide, 10 of freedom: 21 points further on they still touch, 23 they do not
    expect(track(columnOf(6, rows([0, 21]))).candidates).toHaveLength(1)
    expect(track(columnOf(6, rows([0, 24]))).candidates).toHaveLength(2)
  })

  it('two that meet become one: the younger is withdrawn', () => {
    const runs = [
      { from: 600, to: 610, height: 2 },
      { from: 640, to: 650, height: 3 },
      { from: 600 + UNIT, to: 650 + UNIT, height: 1.5 }
    ]
    const { candidates, events } = track(columnOf(6, runs))
    expect(candidates).toHaveLength(1)
    expect(candidates[0]).toMatchObject({ id: 'c1', peak: peakOf(runs[1]!), matched: 3.75 })
    expect(candidates[0]!.rows.map(({ at }) => at)).toEqual(runs.map(peakOf))
    expect(events).toContainEqual({ kind: 'withdrawn', id: 'c2', reason: 'joined with c1' })
  })

  it('a ring all round ends somewhere', () => {
    const { candidates } = track(new Float64Array(5 * UNIT).fill(2))
    expect(candidates).toHaveLength(1)
    expect(candidates[0]!.rows.length).toBeGreaterThanOrEqual(5)
  })
})

describe('any places', () => {
  /** Runs apart from each other by more than they wander, so that each is a run of its own. */
  const some = fc
    .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 15 })), {
      maxLength: 30,
      selector: String
    })
    .chain((cells) =>
      fc.tuple(
        fc.constant(cells),
        fc.array(
          fc.tuple(
            fc.integer({ min: 0, max: 8 }),
            fc.integer({ min: 3, max: 22 }),
            fc.integer({ min: 1, max: 9 }),
            fc.boolean()
          ),
          {
            minLength: cells.length,
            maxLength: cells.length
          }
        )
      )
    )
    .map(([cells, forms]) =>
      cells
        .map(([row, cell], k): Run => {
          const [shift, width, height, positive] = forms[k]!
          const from = UNIT + row * UNIT + cell * 32 + shift
          return { from, to: from + width, height: positive ? height : -height }
        })
        .sort((a, b) => a.from - b.from)
    )

  /** Connected when one lies a revolution after the other, within ten points, with the same sign. */
  function components(runs: readonly Run[]): readonly (readonly Run[])[] {
    const group = runs.map((_, k) => k)
    const touching = (a: Run, b: Run) =>
      Math.sign(a.height) === Math.sign(b.height) && b.from <= a.to + UNIT + 10 && b.to >= a.from + UNIT - 10
    for (let again = true; again; ) {
      again = false
      for (const [i, a] of runs.entries())
        for (const [j, b] of runs.entries())
          if (group[i] !== group[j] && (touching(a, b) || touching(b, a))) {
            const [low, high] = [Math.min(group[i]!, group[j]!), Math.max(group[i]!, group[j]!)]
            for (const [k, g] of group.entries()) if (g === high) group[k] = low
            again = true
          }
    }
    return [...new Set(group)].map((g) => runs.filter((_, k) => group[k] === g))
  }

  it('are followed as connected components', () => {
    fc.assert(
      fc.property(some, (runs) => {
        const { candidates } = track(columnOf(9, runs))
        const found = candidates.map(({ rows, matched, sign }) => ({ rows: rows.map(({ at }) => at), matched, sign }))
        const expected = components(runs).map((group) => ({
          rows: group.map(peakOf).sort((a, b) => a - b),
          matched: Math.max(...group.map(({ height }) => 1.25 * Math.abs(height))),
          sign: Math.sign(group[0]!.height)
        }))
        const byRow = (a: { rows: readonly number[] }, b: { rows: readonly number[] }) => a.rows[0]! - b.rows[0]!
        expect(found.sort(byRow)).toEqual(expected.sort(byRow))
      }),
      { numRuns: 150 }
    )
  })

  it('are each opened once, and settled or withdrawn once', () => {
    fc.assert(
      fc.property(some, (runs) => {
        const { events, candidates } = track(columnOf(9, runs))
        const of = (kind: string) => events.filter((event) => event.kind === kind).map(({ id }) => id)
        expect([...of('settled'), ...of('withdrawn')].sort()).toEqual(of('opened').sort())
        expect(of('settled').sort()).toEqual(candidates.map(({ id }) => id).sort())
      }),
      { numRuns: 50 }
    )
  })
})

describe('overflow', () => {
  it('is told when there are more than can be kept', () => {
    // 60 a revolution in every other revolution, none a revolution away from another
    const crowd = (rows: number) => {
      const column = new Float64Array(2 * rows * UNIT)
      for (let row = 0; row < rows; row++) for (let k = 0; k < 60; k++) column[2 * row * UNIT + 8 * k] = 2
      return track(column)
    }
    expect(crowd(66)).toMatchObject({ overflow: false, candidates: { length: 3960 } })
    expect(crowd(67)).toMatchObject({ overflow: true, candidates: { length: MOST_CANDIDATES } })
  })
})
