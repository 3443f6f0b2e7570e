import { z } from 'zod'

/** What is asked of repeated readings of parts by operators. Nothing in it has a default. */
export const gaugeStudySchema = z.strictObject({
  kind: z.literal('gauge'),
  version: z.literal(1),
  name: z.string().min(1).describe('what the study is called'),
  conditions: z.string().min(1).describe('technique, instrument, parts and people for which the result holds'),
  reading: z.string().min(1).describe('what is read, with its unit: amplitude, phase'),
  scale: z.enum(['reading', 'ln reading']).describe('what has a scatter that does not change over the parts'),
  method: z
    .enum(['mean squares', 'ranges', 'restricted likelihood'])
    .describe('mean squares and ranges need equal repeats in every cell; restricted likelihood does not'),
  interaction: z
    .union([z.enum(['kept', 'left out']), z.strictObject({ pooledAbove: z.number().gt(0).lt(1) })])
    .describe('of parts and operators: kept, left out, or left out where its chance is above a level, 0.25 or 0.05'),
  width: z.number().gt(0).describe('standard deviations that a spread is stated over: 6, in older papers 5.15'),
  tolerance: z.number().gt(0).nullable().describe('width of the tolerance in the scale asked; null: none'),
  confidence: z.number().gt(0.5).lt(1).describe('two-sided, of the intervals')
})

export type GaugeStudy = z.output<typeof gaugeStudySchema>
