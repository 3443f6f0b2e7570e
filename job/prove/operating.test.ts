import { createHash } from 'node:crypto'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  type GivenSignalRow,
  type OperatingResult,
  type OperatingStudy,
  operatingBlocks,
  proveOperatingPoints,
  proveOperatingPointsAgain
} from './index.ts'
import reference from './reference/operating.json' with { type: 'json' }

/** Oracle: R 4.2.2 and its package pROC (reference/operating.json). */

const by = { hash: (text: string): string => createHash('sha256').update(text).digest('hex'), program: 'test 1' }

const study: OperatingStudy = {
  ...{ kind: 'operating-points', version: 1, name: 'trial', conditions: 'invented', flaws: 'real' },
  ...{ floor: null, saturation: null, excluded: [], normal_in: 'ln signal', confidence: 0.95 },
  thresholds: reference.points.map(({ threshold }) => threshold)
}

const rowOf = (signal: number, i: number, size: number): GivenSignalRow => ({
  ...{ row: `${size > 0 ? 'F' : 'B'}${i}`, size, unit: 'mm', signal, signal_unit: 'V' },
  specimen: `${size > 0 ? 'F' : 'B'}${i}`
})

const rows = [
  ...reference.flawed.map((signal, i) => rowOf(signal, i, 1)),
  ...reference.blank.map((signal, i) => rowOf(signal, i, 0))
]

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const prove = (given: readonly GivenSignalRow[] = rows, change: Partial<OperatingStudy> = {}): OperatingResult =>
  sound(proveOperatingPoints({ ...study, ...change }, given, by))

const near = (got: number | undefined, expected: number, at: string): void =>
  expect(
    expected === 0 ? Math.abs(got ?? 1) : Math.abs((got ?? Number.NaN) / expected - 1),
    `${at}: ${got} for ${expected}`
  ).toBeLessThanOrEqual(reference.tolerance)

const abouts = ({ advice }: OperatingResult): readonly string[] => advice.map(({ about }) => about)

describe('signals of flaws and of blanks', () => {
  it('hits and false calls of each threshold, with bounds, and of all together', () => {
    const { points, area, best, normal, data } = prove()
    for (const [i, expected] of reference.points.entries())
      for (const [key, value] of Object.entries(expected)) near(points[i]![key as keyof typeof expected], value, key)
    near(area.area, reference.area.area, 'area')
    near(area.standardError, reference.area.standardError, 'error')
    near(area.logitInterval?.lower, reference.area.logit[0]!, 'lower')
    near(best.threshold, reference.youden.threshold, 'best')
    near(sound(normal).area, reference.binormal.auc, 'of two normal laws')
    expect(data).toMatchObject({ rows: 130, flaws: 50, blanks: 80, exclusions: [] })
  })

  it('does not depend on order, unit or gain; rows without a signal are left out and counted', () => {
    expect(prove([...rows].reverse()).area).toEqual(prove().area)
    const louder = rows.map((row) => ({ ...row, signal: 8 * (row.signal as number), signal_unit: 'mV', unit: 'in' }))
    const thresholds = study.thresholds.map((threshold) => 8 * threshold)
    expect(prove(louder, { thresholds }).points.map(({ hits, falseCalls }) => [hits, falseCalls])).toEqual(
      prove().points.map(({ hits, falseCalls }) => [hits, falseCalls])
    )
    const lost = prove(rows.map((row, i) => (i === 3 ? { ...row, signal: Number.NaN } : row)))
    expect(lost.data.exclusions.map(({ why }) => why.code)).toEqual(['prove/no-signal'])
    expect(lost.data.flaws).toBe(49)
  })

  it('says what its figures do not show', () => {
    expect(abouts(prove())).toEqual(['these-flaws', 'chosen-after'])
    const few = [...rows.slice(0, 50), ...rows.slice(60, 90)]
    expect(abouts(prove(few))).toContain('few-blanks')
    const apart = rows.map((row) => ({ ...row, signal: (row.signal as number) + (row.size === 0 ? 0.01 : 9) }))
    expect(abouts(prove(apart))).toContain('apart')
    const floored = prove(rows, { floor: 0.2, thresholds: [0.2, 0.5] })
    expect(abouts(floored)).toContain('limits')
    expect(floored.area.area).not.toBe(prove().area.area)
  })

  it('comes out again to the bit from its statement and its rows, from no others', () => {
    const before = JSON.parse(JSON.stringify(prove())) as OperatingResult
    expect(sound(proveOperatingPointsAgain(before, rows, by)).same).toBe(true)
    expect(code(proveOperatingPointsAgain(before, rows.slice(1), by))).toBe('prove/other-data')
    expect(code(proveOperatingPointsAgain({ ...before, method: 0 }, rows, by))).toBe('prove/other-method')
    const changed = { ...before, best: { ...before.best, gained: 1 } }
    expect(sound(proveOperatingPointsAgain(changed, rows, by)).same).toBe(false)
  })

  it('refuses what is no study', () => {
    const refused = (given: readonly GivenSignalRow[], change: object = {}): string =>
      code(proveOperatingPoints({ ...study, ...change }, given, by))
    expect(refused([])).toBe('prove/no-rows')
    expect(refused(rows.slice(0, 50))).toBe('prove/no-blanks')
    expect(refused(rows.slice(49, 130))).toBe('prove/too-few-read')
    expect(refused([...rows, rows[0]!])).toBe('prove/repeats-as-rows')
    expect(refused(rows, { thresholds: [] })).toBe('prove/bad-question')
    expect(refused(rows, { thresholds: [0.1, 0.5], floor: 0.2 })).toBe('prove/threshold-beyond-limits')
    expect(refused(rows, { thresholds: [0.5, 3], saturation: 2 })).toBe('prove/threshold-beyond-limits')
    const alike = rows.map((row) => ({ ...row, signal: row.size === 0 ? 0.1 : 1 }))
    expect(code(prove(alike).normal)).toBe('prove/no-scatter')
  })

  it('its report tells each threshold, and that notches prove no technique', () => {
    const text = JSON.stringify(operatingBlocks(prove()))
    expect(text).toContain('45 of 50')
    expect(text).toContain('23 of 80')
    expect(text).not.toContain('Proves no technique')
    expect(JSON.stringify(operatingBlocks(prove(rows, { flaws: 'notches' })))).toContain('Proves no technique')
  })
})
