import type { Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Code, refuse } from './codes.ts'

/** A plain value read by its schema, or what is wrong with it and where. Refuses `code`. */
export function read<T>(schema: z.ZodType<T>, value: unknown, code: Code): Result<T, Code> {
  const parsed = schema.safeParse(value)
  if (parsed.success) return parsed.data
  const [first] = parsed.error.issues
  const path = (first?.path ?? []).map(String).join('.')
  return refuse(code, {
    found: first?.message ?? 'another value',
    needed: 'every setting stated, none left to a default',
    remedy: path === '' ? 'state the whole of it' : `correct ${path}`,
    ...(path === '' ? {} : { where: { path } })
  })
}

/** What every study of a trial states of it. */
export const ofTrial = {
  name: z.string().min(1).describe('what the trial is called'),
  conditions: z.string().min(1).describe('technique, material, place and people for which the result holds'),
  flaws: z
    .enum(['real', 'notches', 'simulated'])
    .describe('what stood for the cracks: only real ones prove a technique'),
  measure: z.enum(['depth', 'length']).describe('which size of the flaw the sizes are')
}
