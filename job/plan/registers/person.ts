import { z } from 'zod'
import { day, text } from '../parameter.ts'
import { certificateSpan } from './parts.ts'
import type { Register } from './register.ts'

/** The public half of a key, as Ed25519 (RFC 8032) has it: 32 bytes in base64. */
export const publicKeySchema = z.strictObject({
  kind: z.literal('Ed25519'),
  public: z.string().regex(/^[A-Za-z0-9+/]{43}=$/, 'a public key is 32 bytes in base64')
})

/**
 * A person as the register has them: an immutable document, named by the hash of its canonical JSON. What changes
 * (a new certificate, a new key) makes a new document; signatures name the one they were made under.
 */
export const personRowSchema = z.strictObject({
  register: z.literal('person'),
  version: z.literal(1),
  name: text('Name of the person; one name, one person'),
  method: z.literal('eddy current').describe('Method of the certificate'),
  level: z.enum(['I', 'II', 'III']).describe('Level of qualification in eddy-current testing'),
  certificate: z.strictObject({
    number: text('Number of the certificate'),
    issued: day('Day of issue'),
    expires: day('Last day on which it holds')
  }),
  near_vision: z.strictObject({
    examined: day('Day of the examination of near vision'),
    expires: day('Last day on which it holds')
  }),
  key: publicKeySchema
})

export type PersonRow = z.output<typeof personRowSchema>

/** Near vision is examined more often than a certificate is issued: each examination makes an edition of its own. */
export const people: Register<PersonRow> = {
  list: 'people',
  schema: personRowSchema,
  nameOf: ({ name }) => name,
  editionOf: ({ certificate, near_vision }) => `${certificate.number}, near vision ${near_vision.examined}`,
  spansOf: ({ certificate, near_vision }) => [
    certificateSpan(certificate),
    {
      of: 'near vision',
      from: { steps: ['near_vision', 'examined'], day: near_vision.examined },
      until: { steps: ['near_vision', 'expires'], day: near_vision.expires }
    }
  ]
}
