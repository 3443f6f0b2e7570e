import { createHash } from 'node:crypto'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  criterionText,
  type GivenRow,
  type HitMissResult,
  type HitMissStudy,
  proposedStudy,
  proveAgain,
  proveHitMiss
} from '../index.ts'
import hitMiss from '../reference/hit-miss.json' with { type: 'json' }
import reference from '../reference/resampled.json' with { type: 'json' }

/** Oracle: R 4.2.2 on the same draws (reference/resampled.json). */

const by = { hash: (text: string) => createHash('sha256').update(text).digest('hex'), program: 'test 1' }

const study: HitMissStudy = {
  ...proposedStudy,
  ...{ kind: 'hit-miss', version: 1, name: 'trial', conditions: 'invented', flaws: 'real', measure: 'depth' },
  ...{ inspectors: 'one', excluded: [] }
}

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const rowsNamed = (name: 'hm1' | 'hm_weakslope'): GivenRow[] => {
  const { size, hit } = hitMiss.sets[name]
  return size.map((value, i) => ({ row: `${i + 2}`, size: value, unit: 'mm', hit: hit[i], specimen: `S${i}` }))
}

const prove = (rows: readonly GivenRow[], change: Partial<HitMissStudy>): HitMissResult =>
  sound(proveHitMiss({ ...study, ...change }, rows, by))

const curveOf = (result: HitMissResult) => sound(result.groups[0]!.curve)

const near = (got: unknown, expected: number, at: string): void =>
  expect(Math.abs(Number(got) / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(reference.tolerance)

const [hm1] = reference.cases
const asked = { count: hm1!.count, seed: hm1!.seed, quantile: 7 } as const

describe('a bound by resampled flaws', () => {
  it('as R has it on the same draws, by both definitions of a share', () => {
    for (const [quantile, bound] of [
      [7, hm1!.bound7],
      [6, hm1!.bound6]
    ] as const) {
      const curve = curveOf(prove(rowsNamed('hm1'), { resamples: { ...asked, quantile } }))
      const { criterion, size_m } = curve.bounds.find(({ method }) => method === 'resamples')!
      near(1000 * sound(size_m), bound, 'bound')
      near(criterion.value, hm1!.level, 'level')
      expect(criterion).toMatchObject({ law: 'resamples', share: 0.95, count: 2000, seed: 4242, quantile, lost: 3 })
      near(curve.resampled!.bias, hm1!.bias, 'bias')
      near(curve.resampled!.acceleration, hm1!.acceleration, 'acceleration')
      if (quantile === 6) continue
      near(1000 * sound(curve.resampled!.share_m), hm1!.share, 'share')
      near(1000 * sound(curve.resampled!.mirrored_m), hm1!.mirrored, 'mirrored')
      expect(criterionText(criterion)).toBe('98.49 % of 2000 resamples, 3 left out, seed 4242')
    }
  })
  it('is never there unless asked for, and changes no other figure', () => {
    const plain = prove(rowsNamed('hm1'), {})
    expect(JSON.stringify(plain)).not.toContain('resample')
    const { bounds, resampled: _, ...rest } = curveOf(prove(rowsNamed('hm1'), { resamples: asked }))
    expect({ ...rest, bounds: bounds.filter(({ method }) => method !== 'resamples') }).toEqual(curveOf(plain))
  })
  it('is stated only where the study names it beforehand, with number and seed', () => {
    const beside = prove(rowsNamed('hm1'), { resamples: asked })
    near(1000 * sound(beside.stated_m), 2.08708301543126, 'likelihood')
    near(
      1000 * sound(prove(rowsNamed('hm1'), { resamples: asked, bound: 'resamples' }).stated_m),
      hm1!.bound7,
      'stated'
    )
    const without = proveHitMiss({ ...study, bound: 'resamples' }, rowsNamed('hm1'), by)
    expect(without).toMatchObject({ code: 'prove/bad-question', where: { path: 'resamples' } })
    for (const bad of [{ count: 999 }, { seed: 0 }, { seed: 2147483647 }, { quantile: 5 }])
      expect(code(proveHitMiss({ ...study, resamples: { ...asked, ...bad } }, rowsNamed('hm1'), by))).toBe(
        'prove/bad-question'
      )
  })
  it('is worked out again from result and rows', () => {
    const kept = JSON.parse(JSON.stringify(prove(rowsNamed('hm1'), { resamples: asked }))) as HitMissResult
    expect(sound(proveAgain(kept, rowsNamed('hm1'), by)).same).toBe(true)
    const other = { ...kept, study: { ...kept.study, resamples: { ...asked, seed: 4243 } } }
    expect(sound(proveAgain(other, rowsNamed('hm1'), by)).same).toBe(false)
  })
  it('is no number where too many resamples have no rising curve, or the stream would repeat itself', () => {
    const { name, lost, ...few } = reference.tooManyLost
    const weak = curveOf(prove(rowsNamed(name as 'hm_weakslope'), { resamples: { ...few, quantile: 7 } }))
    const bound = weak.bounds.find(({ method }) => method === 'resamples')!
    expect(bound.size_m).toMatchObject({ code: 'prove/not-demonstrated' })
    expect(isRefusal(bound.size_m) && bound.size_m.found).toContain(`${lost} of ${few.count}`)
    expect(weak.resampled).toBeUndefined()
    const many = Array.from({ length: 22_000 }, (_, i): GivenRow => {
      return { row: `${i}`, size: 0.2 + (i % 9) / 10, unit: 'mm', hit: i % 9 > i % 5 ? 1 : 0, specimen: `S${i}` }
    })
    const endless = curveOf(prove(many, { resamples: { ...asked, count: 100_000 } }))
    expect(code(endless.bounds.find(({ method }) => method === 'resamples')?.size_m)).toBe('prove/bound-not-for-this')
  })
})
