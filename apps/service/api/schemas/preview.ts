import type { Preview } from '@trueloop/host/chain'
import { z } from 'zod'
import { count, text } from './parts.ts'

/** Columns and recipe are those of the program that examines: whoever has it knows their form. */
const whole = <T extends object>() => z.record(z.string(), z.unknown()) as unknown as z.ZodType<T>

export const preview: z.ZodType<Preview> = z.object({
  name: text.describe('how messages name the recording'),
  bytes: count,
  mapping: whole<Preview['mapping']>().describe('columns of the recording, and what their numbers mean'),
  recipe: whole<Preview['recipe']>().describe('application, and all that its examination is opened with')
})
