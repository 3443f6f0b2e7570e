import {
  chanceAbove,
  expm1,
  fitLaw,
  type Law,
  type LawFit,
  laws,
  log1p,
  placeAbove,
  placeAboveBound,
  quantile
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Code, refuse } from '../codes.ts'
import { read } from '../question.ts'

/** How a threshold is to follow from readings without a flaw. Nothing in it has a default. */
export const noiseThresholdSchema = z.strictObject({
  law: z
    .enum([...laws, 'as counted'])
    .describe('law of the noise, chosen by its upper tail; or the readings as they are'),
  chance: z.number().gt(0).lt(0.5).describe('of a false call per opportunity'),
  opportunity: z.string().min(1).describe('what one reading stands for: a hole, a millimeter of weld'),
  confidence: z
    .number()
    .gt(0.5)
    .lt(1)
    .nullable()
    .describe('one-sided, that the chance is not larger; null: the best estimate. For normal and log-normal noise only')
})

export type NoiseThresholdAsked = z.output<typeof noiseThresholdSchema>

export interface NoiseThreshold {
  readonly kind: 'noise-threshold'
  readonly asked: NoiseThresholdAsked
  readonly readings: number
  readonly threshold: number
  /** every law that was tried: the upper tail decides, not the fit as a whole */
  readonly tried: readonly TriedLaw[]
}

export interface TriedLaw {
  readonly law: Law
  readonly outcome: 'fitted' | Refusal
  readonly parameters?: readonly number[]
  readonly logLikelihood?: number
  readonly akaike?: number
  /** place passed with the chance asked */
  readonly threshold?: number
}

/**
 * Threshold that a reading without a flaw passes with the chance asked, per opportunity. Tails of laws that fit alike may
 * differ by a third at small chances: look at the tail.
 * Refuses: prove/bad-question (also a confidence for a law that has no exact bound), prove/noise-too-few (fewer than 3,
 * or 'as counted' with fewer than 1/chance), prove/no-fit (readings that the law can not take). source: owen-1968
 */
export function thresholdFromNoise(asked: unknown, readings: readonly number[]): Result<NoiseThreshold, Code> {
  const question = read(noiseThresholdSchema, asked, 'prove/bad-question')
  if (isRefusal(question)) return question
  const fault = noiseFault(question, readings)
  if (fault !== undefined) return fault
  const fits = laws.map((law) => ({ law, fit: fitLaw(law, readings) }))
  const threshold = thresholdOf(question, readings, fits.find(({ law }) => law === question.law)?.fit)
  if (isRefusal(threshold)) return threshold
  const tried = fits.map(({ law, fit }) => triedLaw(law, fit, question.chance))
  return { kind: 'noise-threshold', asked: question, readings: readings.length, threshold, tried }
}

function thresholdOf(
  { law, chance, confidence }: NoiseThresholdAsked,
  readings: readonly number[],
  fit: Result<LawFit> | undefined
): Result<number, Code> {
  if (law === 'as counted' || fit === undefined) return quantile(readings, 1 - chance)
  if (isRefusal(fit)) return refuse('prove/no-fit', { found: fit.found, needed: fit.needed, remedy: fit.remedy })
  if (confidence === null) return placeAbove(fit, chance)
  return placeAboveBound(fit, { chance, confidence, count: readings.length })
}

function triedLaw(law: Law, fit: Result<LawFit>, chance: number): TriedLaw {
  if (isRefusal(fit)) return { law, outcome: fit }
  const { parameters, logLikelihood, aic } = fit
  return { law, outcome: 'fitted', parameters, logLikelihood, akaike: aic, threshold: placeAbove(fit, chance) }
}

function noiseFault(
  { law, chance, confidence }: NoiseThresholdAsked,
  readings: readonly number[]
): Refusal<Code> | undefined {
  const needed = law === 'as counted' ? Math.ceil(1 / chance) : 3
  if (readings.length < needed || !readings.every(Number.isFinite)) return tooFew(readings, needed)
  if (confidence === null || law === 'normal' || law === 'log-normal') return undefined
  return refuse('prove/bad-question', {
    found: `a confidence for the law "${law}"`,
    needed: 'normal or log-normal noise, for which an exact bound is known',
    remedy: 'ask for the best estimate (null), and say that it is one'
  })
}

const tooFew = (readings: readonly number[], needed: number): Refusal<Code> =>
  refuse('prove/noise-too-few', {
    found: `${readings.filter(Number.isFinite).length} readings of ${readings.length}`,
    needed: `${needed} readings or more, each a number`,
    remedy: 'read more blanks, or state a law for the tail'
  })

/** Chance of a false call per opportunity at a threshold. */
export const falseCallChance = (fit: LawFit, threshold: number): number => chanceAbove(fit, threshold)

/** 1 - (1 - p)^m: chance of one false call or more in m independent opportunities. */
export const chanceInScan = (chance: number, opportunities: number): number => -expm1(opportunities * log1p(-chance))
