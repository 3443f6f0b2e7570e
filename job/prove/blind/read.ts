import type { Refusal } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { schemaRefusals } from '../../plan/index.ts'
import { checkTrial } from './check.ts'
import { type Answers, type RunningTrial, siteSchema, type TrialInput, trialInputSchema } from './trial.ts'

type Refused = { readonly refusals: readonly Refusal[] }

/**
 * A plain value read as a trial: schema, then what only the whole shows. Refuses: plan/unknown-key, plan/bad-value,
 * plan/missing-value, and as checkTrial.
 */
export function trialOf(value: unknown): { readonly trial: TrialInput } | Refused {
  const read = parsed(trialInputSchema, value)
  if ('refusals' in read) return read
  const refusals = checkTrial(read.value)
  return refusals.length > 0 ? { refusals } : { trial: read.value }
}

const { name, procedure, size_is, specimens } = trialInputSchema.shape

const runningSchema = z.strictObject({
  trueloop: z.literal('running-trial/1'),
  ...{ name, procedure, size_is, specimens },
  analysis: trialInputSchema.shape.analysis,
  answers_sha256: z.string().regex(/^[0-9a-f]{64}$/, 'a hash has 64 hexadecimal digits'),
  orders: z.array(z.strictObject({ inspector: z.string().min(1), sites: z.array(z.string().min(1)).min(2) })).min(1)
})

const answersSchema = z.strictObject({
  trueloop: z.literal('trial-answers/1'),
  name,
  sites: z.array(siteSchema).min(2)
})

/** What was built, read again. Refuses: plan/unknown-key, plan/bad-value, plan/missing-value. */
export function runningTrialOf(value: unknown): { readonly running: RunningTrial } | Refused {
  const read = parsed(runningSchema, value)
  return 'refusals' in read ? read : { running: read.value }
}

/** Refuses: plan/unknown-key, plan/bad-value, plan/missing-value. */
export function answersOf(value: unknown): { readonly answers: Answers } | Refused {
  const read = parsed(answersSchema, value)
  return 'refusals' in read ? read : { answers: read.value }
}

function parsed<T>(schema: z.ZodType<T>, value: unknown): { readonly value: T } | Refused {
  const read = schema.safeParse(value)
  return read.success ? { value: read.data } : { refusals: schemaRefusals(read.error.issues, { schema, value }) }
}
