import { z } from 'zod'
import { headSchema, subjectSchema } from './parts.ts'

/**
 * A person closes a place: all of it was examined, the set-up held, and nothing found in it waits for anybody. It holds
 * until something of the place is examined again. Unsigned: keys come with a later version of this kind.
 */
export const placeClosed = z.strictObject({
  kind: z.literal('place-closed'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  signed: z.literal(false)
})
