import type { Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import type { Code } from './codes.ts'
import { read } from './question.ts'

/** What is there in practice that is mixed into daily work; kept apart until it is marked. */
export const practiceAnswersSchema = z.strictObject({
  trueloop: z.literal('mixed-practice/1'),
  job: z.string().min(1),
  seed: z.number().int().min(0),
  places: z
    .array(z.strictObject({ name: z.string().min(1), flawed: z.boolean(), what: z.string().min(1).max(500) }))
    .min(1)
    .max(20)
})

export type PracticeAnswers = z.output<typeof practiceAnswersSchema>

/** A plain value read as such answers. Refuses: prove/bad-question. */
export const practiceAnswersOf = (value: unknown): Result<PracticeAnswers, Code> =>
  read(practiceAnswersSchema, value, 'prove/bad-question')
