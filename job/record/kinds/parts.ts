import { z } from 'zod'

/** What every entry says beside its own matter. */

/** Hex SHA-256, as `sha256sum` prints it: the name of a document or of an original. */
export const hashSchema = z.string().regex(/^[0-9a-f]{64}$/, 'a hash is 64 hex digits')

/** A moment and how it is known: a clock is a witness, and a report says which. */
export const momentSchema = z.strictObject({
  time: z.iso.datetime({ offset: true, local: true }),
  known: z.enum(['clock of this computer', 'in the recording', 'job sheet'])
})

const authorSchema = z.strictObject({
  kind: z.enum(['person', 'program']),
  name: z.string().min(1).max(200)
})

export const headSchema = {
  id: z.string().min(1).max(200).describe('Made by the client: the same entry sent twice is one entry'),
  at: momentSchema,
  by: authorSchema
}

/**
 * A person's signature on an entry (Ed25519, RFC 8032): over the canonical JSON of the job's number and the whole entry,
 * its `signed` without the value. `person` names the document of the register, which holds the public key; `over` is the
 * head of the chain that the person had before their eyes, so that a signature fits no other state of the record.
 */
export const signatureSchema = z.strictObject({
  person: hashSchema,
  over: hashSchema,
  value: z.string().regex(/^[A-Za-z0-9+/]{86}==$/, 'a signature is 64 bytes in base64')
})

/** Where nobody signs with a key yet, an entry says so. */
export const signedSchema = z.union([z.literal(false), signatureSchema])

/** What a scan or an examination is of. */
export const subjectSchema = z.discriminatedUnion('of', [
  z.strictObject({ of: z.literal('hole'), name: z.string().min(1) }),
  z.strictObject({ of: z.literal('track'), name: z.string().min(1) }),
  z.strictObject({ of: z.literal('loop'), name: z.string().min(1) })
])

export type Signature = z.output<typeof signatureSchema>
export type Moment = z.output<typeof momentSchema>
export type Subject = z.output<typeof subjectSchema>

/** People and equipment as an entry keeps them: what the sheet said that day, however the sheet's own rules change. */
export const personSchema = z.strictObject({
  name: z.string().min(1),
  level: z.enum(['I', 'II', 'III']),
  certificate: z.string().optional()
})

export const equipmentSchema = z.strictObject({
  instrument: z.string(),
  probe: z.string(),
  cable: z.string(),
  drive: z.string(),
  gain: z.string(),
  filters: z.string(),
  entered_by: z.string()
})
