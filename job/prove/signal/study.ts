import { z } from 'zod'
import { ofTrial } from '../question.ts'

/** What is asked of the signals of a trial. It is fixed before the trial; nothing in it has a default. */
export const signalStudySchema = z.strictObject({
  kind: z.literal('signal-response'),
  version: z.literal(1),
  ...ofTrial,
  scale: z.enum(['size', 'ln size']).describe('what the response is straight in'),
  response: z.enum(['signal', 'ln signal']).describe('what is straight in it, with a scatter that does not change'),
  floor: z.number().nullable().describe('at and below it a signal is only known to be no larger; null: no such limit'),
  saturation: z.number().nullable().describe('at and above it a signal is only known to be no smaller; null: none'),
  threshold: z.number().describe('a signal of this or more is called'),
  threshold_from: z
    .string()
    .min(1)
    .describe('what the threshold rests on: the noise, the paper, a level of a standard'),
  share: z.number().gt(0).lt(1).describe('chance of a call that is asked for, such as 0.9'),
  confidence: z.number().gt(0.5).lt(1).describe('one-sided confidence of the bound, such as 0.95'),
  bound: z.enum(['exact', 'likelihood', 'crossing']).describe('the method whose bound is stated'),
  inspectors: z
    .enum(['one', 'repeats apart', 'repeats at random'])
    .describe('one row a flaw; or repeats, the worst of these inspectors stated, or all inspectors they stand for'),
  excluded: z
    .array(z.strictObject({ row: z.string(), reason: z.string().min(1), by: z.string().min(1) }))
    .describe('rows taken out, each with reason and name')
})

export type SignalStudy = z.output<typeof signalStudySchema>

/**
 * What we would ask, to be confirmed by a person, never taken silently: the exact bound where every signal was read, the
 * likelihood's where some lie beyond a limit, large-sample bounds for repeats. common practice, no source
 */
export const proposedBound = (isAllRead: boolean, inspectors: SignalStudy['inspectors']): SignalStudy['bound'] =>
  inspectors === 'one' ? (isAllRead ? 'exact' : 'likelihood') : 'crossing'
