import { links } from '@trueloop/ground/numerics'
import { z } from 'zod'
import { ofTrial } from '../question.ts'

/** A bound by resampled flaws: with these two numbers it can be worked out again from the rows in their order. */
const resamplesSchema = z
  .strictObject({
    count: z.number().int().min(1000).max(100_000).describe('resamples that are drawn'),
    seed: z.number().int().min(1).max(2_147_483_646).describe('where the stream of draws begins'),
    quantile: z.union([z.literal(6), z.literal(7)]).describe('definition of a share of the resamples')
  })
  .describe('a bound by resampled flaws beside the others; none unless asked for')

/** What is asked of the rows of a trial. It is fixed before the trial; nothing in it has a default. */
export const hitMissStudySchema = z
  .strictObject({
    kind: z.literal('hit-miss'),
    version: z.literal(1),
    ...ofTrial,
    scale: z.enum(['size', 'ln size']).describe('what the curve is straight in'),
    link: z.enum(links).describe('how the chance of a hit follows from it'),
    share: z.number().gt(0).lt(1).describe('chance of a hit that is asked for, such as 0.9'),
    confidence: z.number().gt(0.5).lt(1).describe('one-sided confidence of the bound, such as 0.95'),
    bound: z
      .enum(['likelihood', 'crossing', 'joint likelihood', 'resamples'])
      .describe('the method whose bound is stated; by resamples only with `resamples`'),
    resamples: resamplesSchema.optional(),
    inspectors: z
      .enum(['one', 'apart'])
      .describe('one row a flaw, or each inspector fitted alone and the worst stated'),
    excluded: z
      .array(z.strictObject({ row: z.string(), reason: z.string().min(1), by: z.string().min(1) }))
      .describe('rows taken out, each with reason and name')
  })
  .refine(({ bound, resamples }) => bound !== 'resamples' || resamples !== undefined, {
    path: ['resamples'],
    message: 'a bound by resamples needs their number, seed and quantile'
  })
export type HitMissStudy = z.output<typeof hitMissStudySchema>

/**
 * What common practice would ask, to be confirmed by a person, never taken silently: 90 % at 95 %, logit on ln size,
 * the likelihood ratio. Own coverage counts are short of 95 % by 1.5 to 3 points; `crossing` is on the safe side.
 * common practice, no source
 */
export const proposedStudy = {
  ...{ scale: 'ln size', link: 'logit', share: 0.9, confidence: 0.95, bound: 'likelihood' }
} as const satisfies Partial<HitMissStudy>
