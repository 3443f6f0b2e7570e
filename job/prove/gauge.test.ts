import { createHash } from 'node:crypto'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type GaugeResult, type GaugeStudy, type GivenReading, proveGauge } from './index.ts'
import reference from './reference/gauge.json' with { type: 'json' }

/** Oracles: two published gauge studies, R 4.2.2, 40-digit arithmetic (reference/gauge.json). */

const by = { hash: (text: string): string => createHash('sha256').update(text).digest('hex'), program: 'test 1' }

const study: GaugeStudy = {
  ...{ kind: 'gauge', version: 1, name: 'study', conditions: 'invented', reading: 'amplitude', scale: 'reading' },
  ...{ method: 'mean squares', interaction: { pooledAbove: 0.25 }, width: 6, tolerance: null, confidence: 0.95 }
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

interface Table {
  readonly part: readonly string[]
  readonly operator: readonly string[]
  readonly reading: readonly number[]
}

const rowsOf = ({ part, operator, reading }: Table): GivenReading[] =>
  reading.map((value, i) => ({
    ...{ row: `${i + 2}`, part: part[i], operator: operator[i], reading: value, unit: 'V' }
  }))

function prove(rows: readonly GivenReading[], change: Partial<GaugeStudy> = {}): GaugeResult {
  const result = proveGauge({ ...study, ...change }, rows, by)
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result
}

const near = (got: number | undefined, expected: number, at: string, within = reference.tolerance): void => {
  const error = expected === 0 ? Math.abs(got ?? 1) : Math.abs((got ?? Number.NaN) / expected - 1)
  expect(error, `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(within)
}

const shareOf = (result: GaugeResult, source: string) => result.shares.find((share) => share.source === source)

const names = {
  repeat: 'rep',
  interaction: 'part_op',
  operator: 'op',
  gauge: 'grr',
  part: 'part',
  total: 'total'
} as const

describe.each(reference.studies)('a gauge study: $name', (one) => {
  const rows = rowsOf(one.table)
  it.each(['kept', 'left out'] as const)('shares with the interaction %s', (interaction) => {
    const want = interaction === 'kept' ? one.with_interaction : one.pooled
    const result = prove(rows, { interaction })
    for (const [source, name] of Object.entries(names)) {
      const share = shareOf(result, source)
      near(share?.deviation, want.sd[name], source)
      near(share?.contribution, want.pct_contribution[name], source)
      near(share?.variation, want.pct_study_variation[name], source)
      near(share?.spread, want.study_variation_6sd[name], source)
    }
    expect(result.categories).toBe(want['ndc_aiag_1.41'])
    const { raw, pooled } = result.components!
    near(raw.operator, want.variance_raw.op, 'operator')
    near(raw.interaction, want.variance_raw.part_op, 'interaction')
    if (interaction === 'left out') {
      near(pooled?.ratioOfParts, one.ratios[0]!, 'parts')
      near(pooled?.ratioOfOperators, one.ratios[1]!, 'operators')
    }
  })
  it('the interaction by its chance, and intervals of both deviations', () => {
    expect(prove(rows).components?.isInteractionKept).toBe(!one.pool)
    const { ofRepeat, ofGauge } = prove(rows, { interaction: 'kept' }).components!
    near(ofRepeat[0]?.limits.lower, one.ci95.sd_repeatability_chisq[0]!, 'repeat')
    near(ofRepeat[0]?.limits.upper, one.ci95.sd_repeatability_chisq[1]!, 'repeat')
    near(ofGauge[0]?.dof, one.ci95.satterthwaite_df, 'dof')
    near(ofGauge[0]?.limits.lower, one.ci95.sd_grr_satterthwaite[0]!, 'gauge')
    near(ofGauge[0]?.limits.upper, one.ci95.sd_grr_satterthwaite[1]!, 'gauge')
    near(ofGauge[1]?.limits.lower, one.ci95.sd_grr_modified_large_sample[0]!, 'gauge')
    near(ofGauge[1]?.limits.upper, one.ci95.sd_grr_modified_large_sample[1]!, 'gauge')
  })
  it('restricted likelihood says the same of equal repeats where every variance is positive', () => {
    const { variance_raw: raw } = one.with_interaction
    if (Object.values(raw).some((value) => value < 0)) {
      const { components } = prove(rows, { method: 'restricted likelihood', interaction: 'kept' })
      expect(components?.raw.interaction).toBe(0)
      return
    }
    const { components } = prove(rows, { method: 'restricted likelihood', interaction: 'kept' })
    for (const source of ['repeat', 'interaction', 'operator', 'part'] as const)
      near(components?.raw[source], raw[names[source]], source, 1e-8)
  })
})

describe('published gauge studies', () => {
  const [gasket, parts] = ['gasket', 'aiag_msa'].map((name) =>
    rowsOf(reference.studies.find((one) => one.name === name)!.table)
  ) as [GivenReading[], GivenReading[]]
  const { printed } = reference

  it('gaskets: total of the gauge, its share, categories', () => {
    const result = prove(gasket)
    expect((shareOf(result, 'gauge')!.deviation ** 2).toFixed(7)).toBe(printed.gasket.grr.toFixed(7))
    expect(shareOf(result, 'gauge')!.contribution.toFixed(2)).toBe(printed.gasket.percent.toFixed(2))
    expect(result.categories).toBe(printed.gasket.categories)
  })
  it('ten parts by ranges', () => {
    const result = prove(parts, { method: 'ranges' })
    const want = printed.aiag_ranges
    for (const source of ['repeat', 'operator', 'gauge', 'part', 'total'] as const)
      expect(shareOf(result, source)!.deviation.toFixed(4)).toBe(want[source].toFixed(4))
    expect(shareOf(result, 'gauge')!.variation.toFixed(1)).toBe(want.percent.toFixed(1))
    expect(result.categories).toBe(want.categories)
    expect(result.advice.map(({ about }) => about)).toContain('no-interval')
    for (const [name, rows] of [
      ['gasket', gasket],
      ['aiag_msa', parts]
    ] as const) {
      const figures = reference.studies.find((one) => one.name === name)!.range_method!
      const { ranges } = prove(rows, { method: 'ranges' })
      near(ranges?.repeat, figures.EV, 'repeat')
      near(ranges?.operator, figures.AV, 'operator')
      near(ranges?.part, figures.PV, 'part')
    }
  })
  it('ten parts by mean squares, the interaction pooled', () => {
    const result = prove(parts)
    const want = printed.aiag_pooled
    for (const source of ['repeat', 'operator', 'gauge', 'part'] as const)
      expect(Math.abs(shareOf(result, source)!.deviation - want[source])).toBeLessThan(2e-6) // printed to six places, the gauge from rounded ones
    const { ofRows, ofColumns, within } = result.components!.anova!
    expect((ofRows.mean / within.mean).toFixed(3)).toBe(want.ratios[0]!.toFixed(3))
    expect((ofColumns.mean / within.mean).toFixed(4)).toBe(want.ratios[1]!.toFixed(4))
    expect(result.advice.map(({ about }) => about)).toEqual(['verdict', 'few-operators'])
    expect(prove(parts, { interaction: 'kept' }).advice.map(({ about }) => about)).toContain('negative')
  })
  it('against a tolerance, and in logarithms: a factor of the readings changes nothing', () => {
    expect(shareOf(prove(gasket, { tolerance: 2 }), 'gauge')!.ofTolerance).toBeCloseTo(
      50 * shareOf(prove(gasket), 'gauge')!.spread,
      10
    )
    const doubled = gasket.map((row) => ({ ...row, reading: 2 * (row.reading as number) }))
    const gauge = (rows: readonly GivenReading[]) => shareOf(prove(rows, { scale: 'ln reading' }), 'gauge')!.deviation
    near(gauge(doubled), gauge(gasket), 'factor', 1e-9)
  })
  it('gives words for good, conditional and poor gauges', () => {
    const finer = parts.map((row) => ({
      ...row,
      reading: 100 * Number(row.part) + (row.reading as number)
    }))
    const texts = [finer, parts, gasket].map((rows) => prove(rows).advice[0]!.text)
    expect(texts.map((text) => /: (.*) by common/.exec(text)?.[1])).toEqual(['good', 'fit under conditions', 'not fit'])
  })
})

describe('unequal repeats', () => {
  const rows = rowsOf(reference.unbalanced.table)
  it('by restricted likelihood, as 40-digit arithmetic; refused by mean squares and ranges', () => {
    const { components } = prove(rows, { method: 'restricted likelihood', interaction: 'left out' })
    const [repeat, part, operator] = reference.unbalanced.variances
    near(components?.raw.repeat, repeat!, 'repeat')
    near(components?.raw.part, part!, 'part')
    near(components?.raw.operator, operator!, 'operator')
    expect(components!.ofGauge[0]!.limits.lower).toBeLessThan(Math.sqrt(repeat! + operator!))
    expect(components!.ofGauge[0]!.limits.upper).toBeGreaterThan(Math.sqrt(repeat! + operator!))
    expect(code(proveGauge(study, rows, by))).toBe('prove/unbalanced')
    expect(code(proveGauge({ ...study, method: 'ranges' }, rows, by))).toBe('prove/unbalanced')
  })
  it('its interaction by the likelihood: none shown at 5 %, as the F test says of the equal repeats', () => {
    const asked = { method: 'restricted likelihood', interaction: { pooledAbove: 0.001 } } as const
    expect(prove(rows, asked).components?.isInteractionKept).toBe(false)
    const told = reference.studies.find(({ name }) => name === 'sim_interaction')!
    expect(prove(rowsOf(told.table), asked).components?.isInteractionKept).toBe(true)
  })
})

describe('bad readings are refused, with what was found and what to do', () => {
  const good = rowsOf(reference.studies[0]!.table)
  const refusal = (rows: readonly GivenReading[], change: Partial<GaugeStudy> = {}): Refusal => {
    const result = proveGauge({ ...study, ...change }, rows, by)
    if (!isRefusal(result)) throw new Error('answered')
    for (const part of [result.found, result.needed, result.remedy]) expect(part.length).toBeGreaterThan(3)
    return result
  }
  const changed = (change: Partial<GivenReading>): GivenReading[] =>
    good.map((row, i) => (i === 3 ? { ...row, ...change } : row))

  it('rows', () => {
    expect(refusal([]).code).toBe('prove/no-rows')
    expect(refusal(changed({ part: '' })).code).toBe('prove/no-part-name')
    expect(refusal(changed({ operator: undefined })).code).toBe('prove/no-part-name')
    for (const reading of [Number.NaN, '0.6', null]) expect(refusal(changed({ reading })).code).toBe('prove/no-reading')
    expect(refusal(changed({ unit: 'mV' })).code).toBe('prove/mixed-units')
    expect(refusal(changed({ reading: 0 }), { scale: 'ln reading' }).code).toBe('prove/signal-not-positive')
  })
  it('tables', () => {
    const once = good.filter((_, i) => i % 2 === 0)
    expect(refusal(once).code).toBe('prove/too-few-repeats')
    expect(refusal(once, { method: 'restricted likelihood', interaction: 'kept' }).code).toBe('prove/too-few-repeats')
    expect(refusal(good.filter(({ operator }) => operator === good[0]!.operator)).code).toBe('prove/too-few-repeats')
    const coarse = good.map((row) => ({ ...row, reading: Number(row.part) }))
    expect(refusal(coarse).code).toBe('prove/no-scatter')
    expect(refusal(coarse, { method: 'ranges' }).code).toBe('prove/no-scatter')
    expect(code(proveGauge({ ...study, width: undefined }, good, by))).toBe('prove/bad-question')
  })
})
