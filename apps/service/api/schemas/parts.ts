import type { Refusal, Where } from '@trueloop/ground/refusal'
import type { PlaceRow } from '@trueloop/host/chain'
import type { After, Moment } from '@trueloop/job/record'
import { stateNames } from '@trueloop/job/record'
import { z } from 'zod'
import { same } from './same.ts'

/** What several answers have in them. */

export const text = z.string()
export const texts = z.array(text)
export const count = z.number().int().min(0)
export const hash = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .describe('hex SHA-256: the name of a document, a recording or the end of a chain')

const where = same<Where>()(
  z.object({
    file: text.exactOptional(),
    line: z.number().exactOptional(),
    column: z.number().exactOptional(),
    byte: z.number().exactOptional(),
    sample: z.number().exactOptional(),
    path: text.describe('place inside a document, such as recordings[3].hole').exactOptional()
  })
)

const reason = {
  code: text.describe('room and reason; never changes its meaning'),
  found: text,
  needed: text,
  remedy: text.describe('what to do'),
  where: where.exactOptional()
}

/** A refusal inside a stored document, as it was stored. */
export const storedRefusal = same<Refusal>()(z.object({ refused: z.literal(true), ...reason }))

export const refusal = same<Omit<Refusal, 'refused'>>()(z.object(reason))
export const refusals = z.object({ refusals: z.array(refusal).min(1) })

export const stateName = z.enum(stateNames)
export const of = same<PlaceRow['of']>()(z.enum(['hole', 'track', 'loop']))
export const moment = same<Moment>()(
  z.object({
    time: text.describe('ISO 8601'),
    known: z.enum(['clock of this computer', 'in the recording', 'job sheet'])
  })
)
export const after = same<After>()(
  z.enum(['cleaned and entered again', 'other sense', 'second probe', 'second frequency'])
)
export const className = z.enum(['false', 'nonrelevant', 'damage, not a crack', 'relevant', 'undecided'])
