/** Oracles: the rules as stated, written out as tables; SciPy's correlation for side lobes is in kernels.test.ts. */
import { describe, expect, it } from 'vitest'
import type { Candidate } from './candidates.ts'
import { classOf, type Features } from './classes.ts'
import { type InterpretInput, interpret } from './interpret.ts'
import { thresholdOf } from './threshold.ts'

const UNIT = 512
const DEG = Math.PI / 180

describe('thresholdOf', () => {
  it.each([
    // reference, hole, alarm → value, noise, too noisy
    [0.02, 0.01, 0.5, 0.1, 0.02, false],
    [0.01, 0.03, 0.5, 0.15, 0.03, false],
    [0.2, 0.05, 0.5, 0.5, 0.2, false],
    [0.02, 0.1, 0.5, 0.5, 0.1, false],
    [0.02, 0.11, 0.5, 0.5, 0.11, true]
  ])('noise %f and %f under an alarm of %f: %f', (reference, hole, alarm, value, noise, tooNoisy) => {
    const found = thresholdOf(reference, hole, alarm)
    expect(found.value).toBeCloseTo(value, 12)
    expect(found).toMatchObject({ noise, tooNoisy })
  })
})

const features = (change: Partial<Features> & { deg?: number }): Features => ({
  phase_rad: (change.deg ?? 88) * DEG,
  lobeOrder: 1,
  rows: 4,
  expectedRows: 4,
  wander: 0.01,
  notchPhases: [85 * DEG, 95 * DEG],
  mayClass: ['scratch', 'wobble', 'loose particle'],
  ...change
})

describe('classOf', () => {
  it.each<[string, Partial<Features> & { deg?: number }]>([
    ['relevant', {}],
    ['relevant', { deg: 46 }],
    ['relevant', { deg: 134 }],
    ['undecided', { deg: 44 }],
    ['undecided', { deg: 136 }],
    ['undecided', { deg: 26, notchPhases: [70 * DEG] }],
    ['relevant', { deg: 26, notchPhases: [170 * DEG] }],
    ['nonrelevant', { deg: 24 }],
    ['nonrelevant', { deg: 156 }],
    ['nonrelevant', { deg: 3, lobeOrder: -1 }],
    ['damage, not a crack', { deg: 10, rows: 13 }],
    ['nonrelevant', { deg: 10, rows: 12 }],
    ['false', { lobeOrder: -1 }],
    ['relevant', { rows: 40 }],
    ['undecided', { deg: 10, mayClass: [] }],
    ['undecided', { deg: 10, rows: 13, mayClass: ['wobble'] }],
    ['undecided', { lobeOrder: -1, mayClass: ['scratch', 'wobble'] }]
  ])('%s: %o', (expected, change) => expect(classOf(features(change)).class).toBe(expected))

  it('says its reasons with their figures, for and against', () => {
    const { evidence } = classOf(features({ deg: 60, rows: 2, wander: 0.01 }))
    expect(evidence.map(({ what, speaks }) => [what, speaks])).toEqual([
      ['angle', 'for'],
      ['lobe order', 'for'],
      ['repeat', 'for']
    ])
    expect(evidence[0]!.sentence).toBe('Its angle is 60°: 60° from lift-off, 25° from the nearest notch.')
    expect(evidence[2]!.sentence).toContain('on 2 revolutions')
    expect(evidence[2]!.sentence).toContain('3.6°')
    const against = classOf(features({ deg: 12, lobeOrder: -1, rows: 1, wander: 0 })).evidence
    expect(against.map(({ speaks }) => speaks)).toEqual(['against', 'against', 'against'])
  })
})

const candidate = (id: string, peak: number, matched: number, change: Partial<Candidate> = {}): Candidate => ({
  id,
  sign: 1,
  peak,
  matched,
  swing: matched,
  x: new Float64Array(3),
  y: new Float64Array(3),
  rows: [{ at: peak, matched }],
  ...change
})

/** The notch answers −0.3 of itself 40 points beside, and nothing elsewhere. */
const answer = new Float64Array(UNIT)
answer[256] = 1
answer[256 - 40] = -0.3
answer[256 + 40] = -0.3

const input = (candidates: readonly Candidate[], change: Partial<InterpretInput> = {}): InterpretInput => ({
  candidates,
  threshold: { value: 0.2, noise: 0.01, tooNoisy: false },
  alarm: { matched: 0.5, swing: 0.5 },
  sideLobes: { answer, unit: UNIT, noise: 0.01 },
  fit: () => ({ x: 0.1, y: 1 }),
  notchPhases: [85 * DEG],
  expectedRows: 3,
  mayClass: [],
  ...change
})

const kept = (candidates: readonly Candidate[], change: Partial<InterpretInput> = {}) =>
  interpret(input(candidates, change)).kept.map((one) => one.candidate.id)

describe('interpret', () => {
  it('keeps what passes the threshold, in ruler order, and says why the rest goes', () => {
    const out = interpret(input([candidate('a', 5000, 0.3), candidate('b', 1000, 0.21), candidate('c', 3000, 0.19)]))
    expect(out.kept.map(({ candidate: { id } }) => id)).toEqual(['b', 'a'])
    expect(out.withdrawn).toEqual([{ id: 'c', reason: 'below the threshold that the noise asks for' }])
  })

  it('never drops what crosses the alarm of the technique, by either measure', () => {
    const high = { threshold: { value: 0.9, noise: 0.2, tooNoisy: false } }
    const out = interpret(
      input([candidate('a', 1000, 0.5), candidate('b', 3000, 0.1, { swing: 0.51 }), candidate('c', 5000, 0.49)], high)
    )
    expect(out.kept.map(({ candidate: { id }, crossedAlarm }) => [id, crossedAlarm])).toEqual([
      ['a', true],
      ['b', true]
    ])
    expect(interpret(input([candidate('a', 1000, 0.3)])).kept[0]!.crossedAlarm).toBe(false)
  })

  it('withdraws the side lobes of a stronger one, and nothing that is stronger than a lobe can be', () => {
    const main = candidate('main', 10_000, 2)
    const lobe = (peak: number, matched: number, sign: 1 | -1 = -1) =>
      candidate('lobe', peak, matched, { sign, swing: 0 })
    const out = interpret(input([lobe(10_040, 0.6), main]))
    expect(out.withdrawn).toEqual([{ id: 'lobe', reason: 'side lobe of main' }])
    // 1.5 times the notch's own 0.3 · 2, and three times the noise
    expect(kept([main, lobe(9_960, 0.92)])).toEqual(['main'])
    expect(kept([main, lobe(9_960, 0.94)])).toEqual(['lobe', 'main'])
    // elsewhere, of the other sign, or where the main one has no revolution
    expect(kept([main, lobe(10_100, 0.6)])).toEqual(['main', 'lobe'])
    expect(kept([main, lobe(10_040, 0.6, 1)])).toEqual(['main', 'lobe'])
    expect(kept([main, lobe(10_040 + 3 * UNIT, 0.6)])).toEqual(['main', 'lobe'])
  })

  it('measures a lobe against the main one in its own revolution', () => {
    const rows = [0, 1, 2].map((k) => ({ at: 10_000 + k * UNIT, matched: [2, 1, 0.4][k]! }))
    const main = candidate('main', 10_000, 2, { rows })
    const lobe = (matched: number) => candidate('lobe', 10_040 + 2 * UNIT, matched, { sign: -1, swing: 0 })
    expect(kept([main, lobe(0.205)])).toEqual(['main'])
    expect(kept([main, lobe(0.25)])).toEqual(['main', 'lobe'])
  })

  it('hands the features to the rules: angle as a line, lobe order, rows, wander', () => {
    const rows = [0, 1, 2, 3, 4].map((k) => ({
      at: 1000 + k * UNIT + [0, 0, 6, 6, 100][k]!,
      matched: [0.5, 0.9, 1, 0.51, 0.49][k]!
    }))
    const [one] = interpret(
      input([candidate('a', 2030, 1, { sign: -1, rows })], {
        fit: () => ({ x: 0, y: -2 }),
        mayClass: ['loose particle']
      })
    ).kept
    expect(one!.features).toMatchObject({ lobeOrder: -1, rows: 4, expectedRows: 3 })
    expect(one!.features.phase_rad / DEG).toBeCloseTo(90, 9)
    expect(one!.features.wander).toBeCloseTo(6 / UNIT, 12)
    expect(one!.class).toBe('false')
    expect(one!.evidence).toHaveLength(3)
  })

  it('does not depend on the order in which candidates come', () => {
    const all = [
      candidate('a', 10_000, 2),
      candidate('b', 10_040, 0.6, { sign: -1, swing: 0 }),
      candidate('c', 4000, 0.25),
      candidate('d', 900, 0.1)
    ]
    expect(interpret(input([...all].reverse()))).toEqual(interpret(input(all)))
  })
})
