import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import * as n from './index.ts'
import reml from './reference/reml.json' with { type: 'json' }
import reference from './reference/variance.json' with { type: 'json' }

/** Oracles: NIST certified values, R 4.2.2 and lme4 (reference/variance.json), mpmath (reference/reml.json), closed forms of the range of two and three. */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: unknown, within = reference.tolerance): void =>
  expect(Math.abs(got / expected - 1), `${String(at)}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

describe.each(reference.groups)('groups of NIST: $name', (set) => {
  it('has the certified ratio', () => {
    const one = set as Partial<Record<'groups' | 'first_low_high', number[][]>> & { readonly pairs?: number }
    const groups =
      one.groups ??
      one.first_low_high!.map(([first, low, high]) => [
        first!,
        ...Array.from({ length: one.pairs! }, () => [low!, high!]).flat()
      ])
    near(sound(n.groupAnova(groups)).ratio, set.ratio, set.name, set.tolerance)
  })
})

describe.each(reference.studies)('two crossed factors: $name', ({ cells, anova, ci95 }) => {
  it('sums of squares, degrees of freedom, chances', () => {
    const got = sound(n.crossedAnova(cells))
    const sources = [got.ofRows, got.ofColumns, got.interaction, got.within]
    for (const [i, name] of (['part', 'op', 'part_op', 'rep'] as const).entries()) {
      near(sources[i]!.sum, anova.SS[name], name)
      expect(sources[i]!.dof).toBe(anova.DF[name])
      near(sources[i]!.mean, anova.MS[name], name)
    }
    near(got.ofRows.mean / got.interaction.mean, anova.F_part, 'F')
    near(got.chances.rows, anova.p_part, 'rows')
    near(got.chances.columns, anova.p_op, 'columns')
    near(got.chances.interaction, anova.p_interaction, 'interaction')
  })
  it('intervals of a variance and of a sum of mean squares', () => {
    const { ofColumns, interaction, within, rows: p, repeats: r } = sound(n.crossedAnova(cells))
    const { lower, upper } = n.varianceLimits(within.mean, within.dof, 0.95)
    near(Math.sqrt(lower), ci95.sd_repeatability_chisq[0]!, 'lower')
    near(Math.sqrt(upper), ci95.sd_repeatability_chisq[1]!, 'upper')
    const terms = [
      { value: ofColumns.mean, dof: ofColumns.dof, weight: 1 / (p * r) },
      { value: interaction.mean, dof: interaction.dof, weight: (p - 1) / (p * r) },
      { value: within.mean, dof: within.dof, weight: (r - 1) / r }
    ]
    const dof = n.satterthwaite(terms)
    near(dof, ci95.satterthwaite_df, 'dof')
    const sum = terms.reduce((total, { value, weight }) => total + weight * value, 0)
    const limits = n.varianceLimits(sum, dof, 0.95)
    near(Math.sqrt(limits.lower), ci95.sd_grr_satterthwaite[0]!, 'lower')
    near(Math.sqrt(limits.upper), ci95.sd_grr_satterthwaite[1]!, 'upper')
    const finer = n.modifiedLargeSample(terms, 0.95)
    near(Math.sqrt(finer.lower), ci95.sd_grr_modified_large_sample[0]!, 'lower')
    near(Math.sqrt(finer.upper), ci95.sd_grr_modified_large_sample[1]!, 'upper')
  })
})

describe('restricted maximum likelihood', () => {
  const { unbalanced, interaction, repeated } = reference.mixed

  it('unbalanced readings, as 40-digit arithmetic; lme4 stops a little below the best', () => {
    const fit = sound(n.mixedFit({ columns: [], y: unbalanced.y, factors: [unbalanced.part, unbalanced.operator] }))
    for (const [i, value] of reml.variances.entries()) near(fit.variances[i]!, value, i, reml.tolerance)
    near(fit.coefficients[0]!, reml.mean, 'mean', reml.tolerance)
    near(Math.sqrt(fit.covariance.values[0]!), reml.error, 'error', reml.tolerance)
    const [part, operator, residual] = unbalanced.variances
    for (const [i, value] of [residual!, part!, operator!].entries()) near(fit.variances[i]!, value, i, reference.lme4)
    near(fit.logLikelihood, reml.logLikelihood, 'likelihood', 1e-13)
    expect(fit.logLikelihood - reml.logLikelihoodOfLme4).toBeGreaterThan(1e-8)
  })

  it('balanced readings, as mean squares', () => {
    const cell = interaction.part.map((part, i) => 3 * part + interaction.operator[i]!)
    const factors = [interaction.part, interaction.operator, cell]
    const fit = sound(n.mixedFit({ columns: [], y: interaction.y, factors }))
    const { rep, part, op, part_op } = interaction.exact
    for (const [i, value] of [rep, part, op, part_op].entries()) near(fit.variances[i]!, value, i, 1e-9)
    // variance of a mean square: 2 (mean square)^2/dof, here 48
    near(fit.ofVariances.values[0]!, (2 * rep * rep) / 48, 'variance of the residual one', 1e-9)
  })

  it('repeats by several inspectors about a line, as mean squares and as lme4', () => {
    const { size, signal, flaw, inspector, anova_ms, varcomp_REML } = repeated
    const fit = sound(n.mixedFit({ columns: [size.map(n.log)], y: signal.map(n.log), factors: [flaw, inspector] }))
    const exact = [anova_ms.var_resid, anova_ms.var_flaw, anova_ms.var_insp]
    for (const [i, value] of exact.entries()) near(fit.variances[i]!, value, i, 1e-9)
    const lme4 = [varcomp_REML.Residual, varcomp_REML.flaw, varcomp_REML.insp]
    for (const [i, value] of lme4.entries()) near(fit.variances[i]!, value, i, reference.lme4)
    for (const [i, value] of repeated.b.entries()) near(fit.coefficients[i]!, value, i, 1e-9)
    for (const [i, value] of repeated.cov_b.flat().entries()) near(fit.covariance.values[i]!, value, i, reference.lme4)
    near(fit.logLikelihood, repeated.loglik_REML, 'likelihood', 1e-9)
  })

  it('holds a variance at zero that would be negative', () => {
    const { cells } = reference.studies.find(({ name }) => name === 'aiag_msa')!
    const rows = cells.flatMap((row, i) => row.flatMap((cell, j) => cell.map((y) => ({ y, i, j }))))
    const factors = [rows.map(({ i }) => i), rows.map(({ j }) => j), rows.map(({ i, j }) => 3 * i + j)]
    const fit = sound(n.mixedFit({ columns: [], y: rows.map(({ y }) => y), factors }))
    expect(fit.variances[3]).toBe(0)
    expect(fit.ofVariances.values[15]).toBe(0)
    // then the readings within and the interaction are one: as the pooled analysis has it
    const pooled = reference.studies.find(({ name }) => name === 'aiag_msa')!.pooled.variance_raw
    for (const [i, value] of [pooled.rep, pooled.part, pooled.op].entries()) near(fit.variances[i]!, value, i, 1e-9)
  })

  it('refuses what can not be told apart', () => {
    const y = [1, 2.5, 3, 4.2, 5, 6.1]
    expect(code(n.mixedFit({ columns: [], y, factors: [[0, 1, 2, 3, 4, 5]] }))).toBe('numerics/degenerate')
    const same = [0, 0, 1, 1, 2, 2]
    expect(code(n.mixedFit({ columns: [], y, factors: [same, same] }))).toBe('numerics/degenerate')
    expect(code(n.mixedFit({ columns: [], y: [1, 1, 1, 1], factors: [[0, 0, 1, 1]] }))).toBe('numerics/degenerate')
    expect(code(n.mixedFit({ columns: [], y: [1, 2], factors: [[0, 1]] }))).toBe('numerics/too-few-points')
    expect(() => n.mixedFit({ columns: [[1]], y, factors: [] })).toThrow(RangeError)
  })
})

describe('the range of normal values', () => {
  it('of two and of three by closed forms; rounded as the tables print their inverses', () => {
    near(n.rangeLaw(2).mean, 2 / Math.sqrt(n.PI), 'two', 1e-13)
    near(n.rangeLaw(3).mean, 3 / Math.sqrt(n.PI), 'three', 1e-13)
    near(n.rangeLaw(2).rootMeanSquare, Math.SQRT2, 'two', 1e-12)
    near(n.rangeLaw(3).rootMeanSquare, Math.sqrt(2 + (3 * Math.sqrt(3)) / n.PI), 'three', 1e-12)
    const printed = (value: number): string => (1 / value).toFixed(4)
    expect([2, 3].map((m) => printed(n.rangeLaw(m).mean))).toEqual(['0.8862', '0.5908'])
    expect([2, 3, 10].map((m) => printed(n.rangeLaw(m).rootMeanSquare))).toEqual(['0.7071', '0.5231', '0.3146'])
    expect(() => n.rangeLaw(1)).toThrow(RangeError)
  })
})

describe('analyses of variance', () => {
  it('refuse what has no groups, and throw for cells of unlike size', () => {
    expect(
      code(
        n.crossedAnova([
          [[1], [2]],
          [[3], [4]]
        ])
      )
    ).toBe('numerics/too-few-points')
    expect(code(n.groupAnova([[1], [2]]))).toBe('numerics/too-few-points')
    expect(() => n.crossedAnova([[[1, 2]], [[1, 2, 3]]])).toThrow(RangeError)
  })
})
