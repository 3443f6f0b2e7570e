import {
  type CrossedAnova,
  crossedAnova,
  fisherSurvival,
  type Limits,
  type MeanSquare,
  type MixedFit,
  mixedFit,
  modifiedLargeSample,
  satterthwaite,
  varianceLimits
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { cellsOf, type Readings } from './rows.ts'
import type { GaugeStudy } from './study.ts'

/** Variances as they came out; mean squares may give negative ones. */
export interface RawVariances {
  readonly repeat: number
  readonly interaction: number
  readonly operator: number
  readonly part: number
}

/** Standard deviation with its two-sided interval; by the second method where there is one. */
export interface DeviationInterval {
  readonly method: 'chi-square' | 'Satterthwaite' | 'modified large sample'
  readonly dof?: number
  readonly limits: Limits
}

export interface Components {
  readonly raw: RawVariances
  readonly isInteractionKept: boolean
  readonly anova?: CrossedAnova
  /** parts and operators against what is left where the interaction is left out */
  readonly pooled?: { readonly ratioOfParts: number; readonly ratioOfOperators: number; readonly dof: number }
  readonly ofRepeat: readonly DeviationInterval[]
  readonly ofGauge: readonly DeviationInterval[]
}

const rooted = ({ lower, upper }: Limits): Limits => ({
  lower: Math.sqrt(Math.max(0, lower)),
  upper: Math.sqrt(Math.max(0, upper))
})

/** Refuses: prove/unbalanced, prove/too-few-repeats, prove/no-scatter. source: searle-casella-mcculloch-1992, 4.3; aiag-msa-2010 */
export function byMeanSquares(readings: Readings, study: GaugeStudy): Result<Components, Code> {
  const cells = cellsOf(readings)
  if (isRefusal(cells)) return cells
  const anova = crossedAnova(cells)
  if (isRefusal(anova)) return refuse('prove/too-few-repeats', anova)
  if (!(anova.within.sum > 0)) return noScatter()
  return isKept(anova, study) ? withInteraction(anova, study) : withoutInteraction(anova, study)
}

function isKept({ chances }: CrossedAnova, { interaction }: GaugeStudy): boolean {
  if (typeof interaction === 'string') return interaction === 'kept'
  return !(chances.interaction > interaction.pooledAbove)
}

/** Gauge variance as O/(p r) + (p - 1) I/(p r) + (r - 1) E/r of the mean squares of operators, interaction, repeats. */
function withInteraction(anova: CrossedAnova, { confidence }: GaugeStudy): Components {
  const { rows: p, columns: o, repeats: r, ofRows, ofColumns, interaction, within } = anova
  const terms = [
    { value: ofColumns.mean, dof: ofColumns.dof, weight: 1 / (p * r) },
    { value: interaction.mean, dof: interaction.dof, weight: (p - 1) / (p * r) },
    { value: within.mean, dof: within.dof, weight: (r - 1) / r }
  ]
  return {
    raw: {
      repeat: within.mean,
      interaction: (interaction.mean - within.mean) / r,
      operator: (ofColumns.mean - interaction.mean) / (p * r),
      part: (ofRows.mean - interaction.mean) / (o * r)
    },
    ...{ isInteractionKept: true, anova },
    ...intervals({ mean: within.mean, dof: within.dof }, terms, confidence)
  }
}

function withoutInteraction(anova: CrossedAnova, { confidence }: GaugeStudy): Components {
  const { rows: p, columns: o, repeats: r, ofRows, ofColumns, interaction, within } = anova
  const dof = interaction.dof + within.dof
  const mean = (interaction.sum + within.sum) / dof
  const terms = [
    { value: ofColumns.mean, dof: ofColumns.dof, weight: 1 / (p * r) },
    { value: mean, dof, weight: (p * r - 1) / (p * r) }
  ]
  return {
    raw: {
      ...{ repeat: mean, interaction: 0 },
      ...{ operator: (ofColumns.mean - mean) / (p * r), part: (ofRows.mean - mean) / (o * r) }
    },
    ...{ isInteractionKept: false, anova },
    pooled: { ratioOfParts: ofRows.mean / mean, ratioOfOperators: ofColumns.mean / mean, dof },
    ...intervals({ mean, dof }, terms, confidence)
  }
}

function intervals(
  repeat: { readonly mean: number; readonly dof: number },
  terms: readonly MeanSquare[],
  confidence: number
): Pick<Components, 'ofRepeat' | 'ofGauge'> {
  const sum = terms.reduce((total, { value, weight }) => total + weight * value, 0)
  const dof = satterthwaite(terms)
  const exact = varianceLimits(repeat.mean, repeat.dof, confidence)
  return {
    ofRepeat: [{ method: 'chi-square', dof: repeat.dof, limits: rooted(exact) }],
    ofGauge: [
      { method: 'Satterthwaite', dof, limits: rooted(varianceLimits(sum, dof, confidence)) },
      { method: 'modified large sample', limits: rooted(modifiedLargeSample(terms, confidence)) }
    ]
  }
}

/**
 * Unequal repeats. Where the interaction is asked for by its chance, it is kept where its likelihood-ratio statistic has
 * a chance up to that level, half of chi-square with one degree of freedom since it lies at its end (self-liang-1987).
 * Intervals by Satterthwaite: degrees of freedom 2 v^2/(error of v)^2.
 * Refuses: prove/no-scatter, prove/too-few-repeats, prove/no-fit. source: patterson-thompson-1971; self-liang-1987, case 5
 */
export function byLikelihood(readings: Readings, study: GaugeStudy): Result<Components, Code> {
  const kept = fitted(readings, true)
  const plain = fitted(readings, false)
  const isWanted = study.interaction === 'kept' || (study.interaction !== 'left out' && isTold(kept, plain, study))
  const fit = isWanted ? kept : plain
  if (isRefusal(fit)) return unfit(fit)
  const [repeat, part, operator, interaction = 0] = Array.from(fit.variances) as [number, number, number, number?]
  if (!(repeat > 0)) return noScatter()
  return {
    raw: { repeat, interaction, operator, part },
    isInteractionKept: isWanted,
    ofRepeat: [largeSample(fit, [0], study.confidence)],
    ofGauge: [largeSample(fit, isWanted ? [0, 2, 3] : [0, 2], study.confidence)]
  }
}

function fitted({ rows, operators }: Readings, withCells: boolean): Result<MixedFit> {
  const part = rows.map((row) => row.part)
  const operator = rows.map((row) => row.operator)
  const cells = rows.map((row) => row.part * operators.length + row.operator)
  const known = [...new Set(cells)]
  const cell = cells.map((one) => known.indexOf(one))
  return mixedFit({
    columns: [],
    y: rows.map(({ y }) => y),
    factors: withCells ? [part, operator, cell] : [part, operator]
  })
}

function isTold(kept: Result<MixedFit>, plain: Result<MixedFit>, { interaction }: GaugeStudy): boolean {
  if (isRefusal(kept) || isRefusal(plain) || typeof interaction === 'string') return false
  const statistic = Math.max(0, 2 * (kept.logLikelihood - plain.logLikelihood))
  if (statistic === 0) return false
  return 0.5 * fisherSurvival(statistic, { above: 1, below: 1e9 }) <= interaction.pooledAbove
}

function largeSample(fit: MixedFit, of: readonly number[], confidence: number): DeviationInterval {
  const { size, values } = fit.ofVariances
  const sum = of.reduce((total, i) => total + fit.variances[i]!, 0)
  const square = of.reduce((total, i) => total + of.reduce((inner, j) => inner + values[i * size + j]!, 0), 0)
  const dof = (2 * sum * sum) / square
  return { method: 'Satterthwaite', dof, limits: rooted(varianceLimits(sum, dof, confidence)) }
}

const unfit = ({ code, found, needed, remedy }: Refusal): Refusal<Code> =>
  refuse(
    code === 'numerics/too-few-points' || code === 'numerics/degenerate' ? 'prove/too-few-repeats' : 'prove/no-fit',
    { found, needed, remedy }
  )

export const noScatter = (): Refusal<Code> =>
  refuse('prove/no-scatter', {
    found: 'repeated readings that are all equal',
    needed: 'repeats that differ: the instrument reads in steps too coarse to show its scatter',
    remedy: 'state the step of the reading as its limit; it is no gauge without scatter'
  })
