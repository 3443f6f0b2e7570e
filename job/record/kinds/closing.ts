import { z } from 'zod'
import { hashSchema, headSchema, signatureSchema, signedSchema, subjectSchema } from './parts.ts'

/**
 * A person closes a place: all of it was examined, the set-up held, and nothing found in it waits for anybody. It holds
 * until something of the place is examined again. Unsigned only where the archive has no registers.
 */
export const placeClosed = z.strictObject({
  kind: z.literal('place-closed'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  signed: signedSchema
})

/** A place, or what is missing of it, will not be examined under this job, and why. It stays "not examined". */
export const leftOut = z.strictObject({
  kind: z.literal('left-out'),
  version: z.literal(1),
  ...headSchema,
  subject: subjectSchema,
  reason: z.string().min(1).max(2000),
  signed: signatureSchema
})

/** Every place is closed or left out. Nothing more is examined until a person opens the job again. */
export const jobClosed = z.strictObject({
  kind: z.literal('job-closed'),
  version: z.literal(1),
  ...headSchema,
  remarks: z.string().min(1).max(2000).optional(),
  signed: signatureSchema
})

export const jobReopened = z.strictObject({
  kind: z.literal('job-reopened'),
  version: z.literal(1),
  ...headSchema,
  reason: z.string().min(1).max(2000),
  signed: signatureSchema
})

/** A report has left the house. `places` where it was not all of them. */
export const delivered = z.strictObject({
  kind: z.literal('delivered'),
  version: z.literal(1),
  ...headSchema,
  to: z.string().min(1).max(500),
  report: hashSchema,
  places: z.array(subjectSchema).min(1).optional(),
  signed: signatureSchema
})
