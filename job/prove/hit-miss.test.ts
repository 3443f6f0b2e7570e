import { createHash } from 'node:crypto'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  type GivenRow,
  type HitMissResult,
  type HitMissStudy,
  hitMissStudySchema,
  proposedStudy,
  proveAgain,
  proveHitMiss
} from './index.ts'
import reference from './reference/hit-miss.json' with { type: 'json' }

/** Oracle: R 4.2.2 and 40-digit arithmetic (reference/hit-miss.json); the difficult cases with the verdict each must have. */

const hash = (text: string): string => createHash('sha256').update(text).digest('hex')
const by = { hash, program: 'test 1' }

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

interface Columns {
  readonly size: readonly (number | null)[]
  readonly hit: readonly (number | null)[]
}

const rowsOf = ({ size, hit }: Columns): GivenRow[] =>
  size.map((value, i) => ({
    ...{ row: `${i + 2}`, size: value ?? Number.NaN, unit: 'mm', hit: hit[i] ?? Number.NaN },
    specimen: `S${i}`
  }))

const rowsNamed = (name: string): GivenRow[] =>
  rowsOf((reference.sets as Readonly<Record<string, Columns>>)[name] as Columns)

const prove = (rows: readonly GivenRow[], change: Partial<HitMissStudy> = {}): HitMissResult =>
  sound(proveHitMiss({ ...study, ...change }, rows, by))

const near = (got: number | undefined, expected: number, at: string, within = reference.tolerance): void =>
  expect(
    expected === 0 ? Math.abs(got ?? Number.NaN) : Math.abs((got ?? Number.NaN) / expected - 1),
    `${at}: ${got} for ${expected}`
  ).toBeLessThanOrEqual(within)

const mm = (size_m: unknown): number => (isRefusal(size_m) ? Number.NaN : 1000 * (size_m as number))

describe('difficult cases have the verdict that is due', () => {
  for (const one of reference.cases)
    it(one.name, () => {
      const result = prove(rowsNamed(one.name))
      const [group] = result.groups
      if (group === undefined) throw new Error('no group')
      const { curve } = group
      if ('curve' in one) {
        expect(code(curve)).toBe(one.curve)
        expect(result.stated_m).toEqual(curve)
      }
      const drawn = isRefusal(curve) ? undefined : curve
      if ('a50' in one) near(mm(drawn?.a50_m), one.a50 as number, 'a50')
      if ('a90' in one) near(mm(drawn?.asked_m), one.a90 as number, 'a90')
      for (const [method, expected] of Object.entries('bounds' in one ? (one.bounds ?? {}) : {}))
        near(mm(drawn?.bounds.find((bound) => bound.method === method)?.size_m), expected, method)
      if ('bounds' in one) near(mm(result.stated_m), one.bounds?.likelihood as number, 'stated')
      if ('stated' in one) expect(code(result.stated_m)).toBe(one.stated)
      if ('never' in one) {
        expect(code(drawn?.bounds.find(({ method }) => method === 'likelihood')?.size_m)).toBe('prove/not-demonstrated')
        expect(drawn?.bounds.map(({ method }) => method)).not.toContain('propagation')
        expect(JSON.stringify(result)).not.toContain(`${(one.never as number) / 1000}`.slice(0, 8))
      }
      if ('overall' in one) near(group.overall?.lower, one.overall as number, 'overall')
      if ('penalized' in one) {
        const [a50, a90, bound] = one.penalized as number[]
        const { looser } = reference
        expect(group.split).toMatchObject({ below: (one.below as number) / 1000, above: (one.above as number) / 1000 })
        near(mm(group.penalized?.a50_m), a50!, 'a50', looser.penalized)
        near(mm(group.penalized?.asked_m), a90!, 'a90', looser.penalized)
        near(mm(group.penalized?.bound?.size_m), bound!, 'bound', looser.penalized)
        expect(group.penalized?.note).toContain('for information')
      }
      if ('ceiling' in one) {
        const levels = sound(drawn!.asymptotes)
        expect(levels.needed).toBe(true)
        near(levels.floor.value, one.floor as number, 'floor', reference.looser.asymptotes)
        near(levels.ceiling.value, one.ceiling as number, 'ceiling', reference.looser.asymptotes)
        near(mm(levels.asked_m), one.asked as number, 'a90', reference.looser.asymptotes)
      }
      if ('deviance' in one) {
        const [deviance, p] = one.deviance as number[]
        near(drawn?.tests.sizes?.deviance.statistic, deviance!, 'deviance')
        near(drawn?.tests.sizes?.deviance.p, p!, 'p')
      }
      if ('used' in one) {
        expect(result.data).toMatchObject({ rows: 74, flaws: one.used, blanks: one.blanks })
        expect(result.data.exclusions.map(({ why }) => why.code).sort()).toEqual(one.exclusions)
        const calls = sound(result.falseCalls)
        expect([calls.blanks, calls.calls, calls.rate]).toEqual([one.blanks, one.calls, one.rate])
        near(calls.upper, one.upper as number, 'upper')
        near(calls.interval.lower, one.interval![0]!, 'lower')
        near(calls.interval.upper, one.interval![1]!, 'upper')
      }
    })
  it('a table of the verdicts has them all', () => expect(reference.cases.length).toBe(12))
})

describe('a study', () => {
  it('logs every fit that was tried', () => {
    const [group] = prove(rowsNamed('hm1')).groups
    const expected = Object.entries(reference.cases[0]?.aic ?? {})
    expect(group?.fits.length).toBe(8)
    for (const [key, aic] of expected) {
      const [link, x] = key.split('_')
      const tried = group?.fits.find(
        (one) => one.link.replaceAll('-', '') === link && one.scale === (x === 'loga' ? 'ln size' : 'size')
      )
      expect(tried?.outcome).toBe('converged')
      near(tried?.akaike, aic, key)
    }
  })
  it('states the bound of its own method with the criterion, and shows the others beside it', () => {
    const rows = rowsNamed('hm1')
    for (const bound of ['likelihood', 'crossing', 'joint likelihood'] as const) {
      const result = prove(rows, { bound })
      const [group] = result.groups
      const bounds = isRefusal(group?.curve) ? [] : (group?.curve.bounds ?? [])
      expect(result.stated_m).toBe(bounds.find(({ method }) => method === bound)?.size_m)
      expect(bounds.map(({ method }) => method)).toEqual(['likelihood', 'crossing', 'joint likelihood', 'propagation'])
      expect(bounds[0]?.criterion).toMatchObject({ law: 'chi-square', dof: 1, share: 0.9 })
      near(bounds[0]?.criterion.value, 2.7055434540954, 'chi-square')
      near(bounds[2]?.criterion.value, 5.99146454710798, 'chi-square of two')
    }
  })
  it('shows what was observed, with exact bars: ten groups, or each size where they are few', () => {
    const observed = (name: string) => prove(rowsNamed(name)).groups[0]?.observed ?? []
    const ten = observed('hm1')
    expect(ten.map(({ flaws }) => flaws)).toEqual(Array(10).fill(6))
    expect(ten.reduce((sum, { hits }) => sum + hits, 0)).toBe(34)
    const six = observed('hm_ties_grouped')
    expect(six.map(({ hits }) => hits)).toEqual([0, 8, 14, 15, 17, 20])
    for (const { smallest_m, largest_m, flaws } of six) expect([smallest_m, flaws]).toEqual([largest_m, 20])
    // Beta quantiles of SciPy 1.17.1: 8 of 20
    near(six[1]?.interval.lower, 0.1911900607253072, 'lower')
    near(six[1]?.interval.upper, 0.6394574126925103, 'upper')
    expect([six[0]?.interval.lower, six[5]?.interval.upper]).toEqual([0, 1])
  })
  it('shows a penalized fit beside few flaws that have a bound, and not beside many', () => {
    const rows = rowsNamed('hm1')
    const few = prove(rows.slice(0, 29)).groups[0]
    expect(few?.fits.map(({ estimate }) => estimate)).toContain('penalized')
    expect(few?.penalized?.note).toContain('never a statement')
    expect(prove(rows).groups[0]?.penalized).toBeUndefined()
    expect(prove(rowsNamed('hm_tiny')).groups[0]?.penalized).toBeUndefined()
  })
  it('gives its coefficients intervals by the profile', () => {
    const curve = prove(rowsNamed('hm1')).groups[0]?.curve
    const got = isRefusal(curve) ? undefined : curve?.coefficients
    near(got?.slope.lower, 1.78509479549555, 'R, profile of hm1', 1e-8)
    near(got?.slope.upper, 4.65560637984591, 'R, profile of hm1', 1e-8)
  })
  it('gives the same sizes from inches', () => {
    const inches = rowsNamed('hm1').map((row) => ({ ...row, size: (row.size as number) / 25.4, unit: 'in' }))
    near(mm(prove(inches).stated_m), mm(prove(rowsNamed('hm1')).stated_m), 'stated', 1e-12)
  })
  it('gives the same figures whatever the order of the rows', () => {
    const rows = rowsNamed('hm1')
    expect(prove(rows.toReversed()).groups).toEqual(prove(rows).groups)
  })
  it('keeps blanks out of the curve', () => {
    const blank = (i: number): GivenRow => ({ row: `b${i}`, size: 0, unit: 'mm', hit: 0, specimen: `B${i}` })
    const rows = rowsNamed('hm1')
    const with30 = prove([...rows, ...Array.from({ length: 30 }, (_, i) => blank(i))])
    expect(with30.groups.map(({ curve }) => curve)).toEqual(prove(rows).groups.map(({ curve }) => curve))
    expect(sound(with30.falseCalls)).toMatchObject({ blanks: 30, calls: 0, rate: 0 })
    near(sound(with30.falseCalls).upper, 1 - 0.05 ** (1 / 30), 'upper')
  })
  it('keeps a row that a person took out, with the reason and the name', () => {
    const excluded = [{ row: '5', reason: 'specimen bent', by: 'C. Invented' }]
    const result = prove(rowsNamed('hm1'), { excluded })
    expect(result.data.flaws).toBe(59)
    expect(result.data.exclusions).toMatchObject([{ row: '5', why: { code: 'prove/no-result' } }])
    expect(result.data.exclusions[0]?.why.found).toContain('C. Invented: specimen bent')
    const stray = proveHitMiss({ ...study, excluded: [{ ...excluded[0]!, row: '99' }] }, rowsNamed('hm1'), by)
    expect(code(stray)).toBe('prove/no-such-row')
  })
  it('advises what its figures can not say', () => {
    const about = (name: string, change: Partial<HitMissStudy> = {}) =>
      prove(rowsNamed(name), change).advice.map((one) => one.about)
    expect(about('hm_weakslope')).toEqual(expect.arrayContaining(['few', 'small', 'not-demonstrated', 'no-blanks']))
    expect(about('hm1', { flaws: 'simulated' })).toContain('not-real')
    expect(about('hm1')).not.toContain('not-demonstrated')
    expect(about('hm_asymptotes')).toEqual(expect.arrayContaining(['levels', 'not-demonstrated']))
    expect(about('hm1', { scale: 'size', link: 'c-log-log' })).toContain('other-fit')
    expect(about('hm_blank_nan')).not.toContain('no-blanks')
  })
})

describe('several inspectors', () => {
  const { site, size, hit, inspector, a90 } = reference.inspectors
  const rows = site.map((flaw, i): GivenRow => {
    return { row: `${i + 2}`, size: size[i], unit: 'mm', hit: hit[i], specimen: flaw, inspector: inspector[i] }
  })
  it('are fitted apart, and the worst is stated', () => {
    const result = prove(rows, { inspectors: 'apart' })
    expect(result.groups.map((group) => group.inspector)).toEqual(['1', '2', '3', '4'])
    for (const [i, { curve }] of result.groups.entries()) near(mm(sound(curve).asked_m), a90[i]!, `${i}`)
    const stated = result.groups.map(({ curve }) => sound(curve).stated as number)
    expect(result.stated_m).toBe(Math.max(...stated))
    expect(result.advice.map(({ about }) => about)).toContain('few-inspectors')
  })
  it('tell of others as a sample: the one in the middle, and whoever comes (glmer of lme4)', () => {
    const { sigma, median, population, amongTolerance: within } = reference.inspectors
    const among = sound(prove(rows, { inspectors: 'apart' }).among as Exclude<HitMissResult['among'], undefined>)
    expect(among.inspectors).toBe(4)
    near(among.sigma, sigma, 'sigma', within)
    near(mm(among.median_m), median, 'median', within)
    near(mm(among.population_m), population, 'population', within)
    expect(prove(rowsNamed('hm1')).among).toBeUndefined()
  })
  it('of whom nothing is said together where all hit or none', () => {
    const all = rows.map((row) => ({ ...row, hit: 1 }))
    expect(code(prove(all, { inspectors: 'apart' }).among)).toBe('prove/no-fit')
  })
  it('have blanks of their own, and the worst false-call rate is stated', () => {
    const blanks = ['1', '2', '3', '4'].flatMap((name) =>
      Array.from({ length: 20 }, (_, i): GivenRow => {
        const hit = name === '3' && i < 2 ? 1 : 0
        return { row: `${name}-${i}`, size: 0, unit: 'mm', hit, specimen: `B${i}`, inspector: name }
      })
    )
    const result = prove([...rows, ...blanks], { inspectors: 'apart' })
    expect(sound(result.falseCalls)).toMatchObject({ blanks: 20, calls: 2 })
    // Beta quantile (0.95; 3, 18) of SciPy 1.17.1
    near(sound(result.falseCalls).upper, 0.28261852488586087, 'upper')
    const stranger = [...rows, ...blanks.map((row) => ({ ...row, inspector: '9' })).slice(0, 20)]
    const refused = proveHitMiss({ ...study, inspectors: 'apart' }, stranger, by) as Refusal
    expect([refused.code, refused.found]).toEqual(['prove/no-rows', 'no flaw that is used, 20 blanks of inspector 9'])
  })
  it('are no independent rows', () => {
    const refused = proveHitMiss(study, rows, by) as Refusal
    expect(refused.code).toBe('prove/repeats-as-rows')
    expect(refused.found).toContain('another inspector')
    const twice = [...rows, { ...rows[0]!, row: 'again' }]
    expect(code(proveHitMiss({ ...study, inspectors: 'apart' }, twice, by))).toBe('prove/repeats-as-rows')
  })
})

describe('a result is worked out again from itself and its rows', () => {
  const rows = rowsNamed('hm_blank_nan')
  const kept = JSON.parse(JSON.stringify(prove(rows))) as HitMissResult
  it('to the bit, after it was written and read', () => {
    const again = sound(proveAgain(kept, rows, { hash, program: 'test 2' }))
    expect(again.same).toBe(true)
    expect(again.result.program).toBe('test 2')
  })
  it('not from other rows, nor by another method; a figure that was changed is seen', () => {
    expect(code(proveAgain(kept, rows.slice(1), by))).toBe('prove/other-data')
    expect(code(proveAgain({ ...kept, method: 0 }, rows, by))).toBe('prove/other-method')
    expect(sound(proveAgain({ ...kept, stated_m: 0.001 }, rows, by)).same).toBe(false)
  })
})

describe('bad rows are refused, with what was found and what to do', () => {
  const good = rowsNamed('hm1')
  const changed = (change: Partial<GivenRow>, at = 3): GivenRow[] =>
    good.map((row, i) => (i === at ? { ...row, ...change } : row))
  const refusal = (rows: readonly GivenRow[], asked: unknown = study): Refusal => {
    const result = proveHitMiss(asked, rows, by)
    if (!isRefusal(result)) throw new Error('answered')
    for (const part of [result.found, result.needed, result.remedy]) expect(part.length).toBeGreaterThan(3)
    return result
  }
  const excluded = (rows: readonly GivenRow[]): readonly string[] =>
    prove(rows).data.exclusions.map(({ why }) => why.code)

  it('tables as a whole', () => {
    expect(refusal([]).code).toBe('prove/no-rows')
    expect(refusal(good.slice(0, 1)).code).toBe('prove/one-row')
    expect(refusal(good.map((row) => ({ ...row, size: 0 }))).code).toBe('prove/no-rows')
    expect(refusal(changed({ specimen: ' ' })).code).toBe('prove/no-flaw-name')
    for (const hit of ['1', 'yes', 2, 0.4]) expect(refusal(changed({ hit })).code).toBe('prove/hits-as-text')
    expect(refusal(changed({ unit: 'in' })).code).toBe('prove/mixed-units')
    expect(refusal(good.map((row) => ({ ...row, unit: undefined }))).code).toBe('prove/unknown-unit')
    expect(refusal(good.map((row) => ({ ...row, unit: 'kHz' }))).code).toBe('prove/unknown-unit')
    expect(refusal(changed({ specimen: 'S7' })).code).toBe('prove/flaw-of-two-sizes')
    expect(refusal(changed({ specimen: 'S7', size: good[7]!.size })).code).toBe('prove/repeats-as-rows')
    expect(prove(changed({ specimen: 'S7', flaw: 'second' })).data.flaws).toBe(60)
  })
  it('single rows, which are left out and counted', () => {
    for (const size of [Number.NaN, Number.POSITIVE_INFINITY, '0.5', null])
      expect(excluded(changed({ size }))).toEqual(['prove/no-size'])
    expect(excluded(changed({ size: -0.3 }))).toEqual(['prove/negative-size'])
    for (const hit of [Number.NaN, null, undefined]) expect(excluded(changed({ hit }))).toEqual(['prove/no-result'])
  })
  it('rows without a curve in them', () => {
    const curve = (rows: readonly GivenRow[]) => code(prove(rows).groups[0]?.curve)
    expect(curve(rowsNamed('hm_allhit'))).toBe('prove/all-hits')
    expect(curve(rowsNamed('hm_allmiss'))).toBe('prove/all-misses')
    expect(curve(good.map((row) => ({ ...row, size: 1 })))).toBe('prove/one-size')
    expect(curve(rowsNamed('hm_sep_quasi'))).toBe('prove/separated')
    expect(curve(rowsNamed('hm_negslope'))).toBe('prove/falling')
    const swapped = rowsNamed('hm_sep_complete').map((row) => ({ ...row, hit: 1 - (row.hit as number) }))
    expect(curve(swapped)).toBe('prove/falling')
    expect(prove(swapped).groups[0]?.penalized).toBeUndefined()
  })
  it('no blanks', () => expect(code(prove(good).falseCalls)).toBe('prove/no-blanks'))
  it('a question with a setting that is missing, wrong or unknown', () => {
    const { link: _, ...rest } = study
    expect(refusal(good, rest)).toMatchObject({ code: 'prove/bad-question', where: { path: 'link' } })
    for (const bad of [null, { ...study, share: 1 }, { ...study, bound: 'propagation' }, { ...study, extra: 1 }])
      expect(refusal(good, bad).code).toBe('prove/bad-question')
    expect(hitMissStudySchema.safeParse(study).success).toBe(true)
  })
  it('a floor and a ceiling that no search settles, or that few flaws can not tell: then that is said', () => {
    const size = [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.2, 1.5, 2]
    const hit = [0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 1]
    for (const [times, found] of [
      [1, '12 flaws'],
      [2, 'steps']
    ] as const) {
      const all = {
        size: size.flatMap((one) => Array(times).fill(one)),
        hit: hit.flatMap((one) => Array(times).fill(one))
      }
      const result = prove(rowsOf(all))
      const curve = result.groups[0]?.curve
      const levels = isRefusal(curve) ? undefined : (curve?.asymptotes as Refusal)
      expect(levels?.code).toBe('prove/no-fit')
      expect(levels?.found).toContain(found)
      expect(result.advice.map(({ about }) => about)).toEqual(expect.arrayContaining(['levels-unsettled']))
    }
  })
  it('a curve between floor and ceiling where the study asked for a bound that knows neither', () => {
    const { size, hit } = reference.sets.hm_asymptotes
    const floor = rowsOf({ size, hit })
    const result = prove(floor, { share: 0.8, bound: 'crossing' })
    expect(code(result.stated_m)).toBe('prove/inadequate-model')
    expect(mm(prove(floor, { share: 0.8 }).stated_m)).toBeCloseTo(1.2901434924, 8)
  })
})
