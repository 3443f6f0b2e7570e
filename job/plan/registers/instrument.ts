import { z } from 'zod'
import { text } from '../parameter.ts'
import { certificateSchema, certificateSpan } from './parts.ts'
import type { Register } from './register.ts'

/**
 * An instrument and its verification. How long a verification holds is stated, never assumed: typically once a year.
 * source: iso15549, 10.3
 */
export const instrumentRowSchema = z.strictObject({
  register: z.literal('instrument'),
  version: z.literal(1),
  serial: text('Serial number'),
  maker: text('Maker'),
  model: text('Model'),
  certificate: certificateSchema.describe(
    'Its verification; detailed functional checks and verification are typically done once a year (ISO 15549, 10.3)'
  )
})

export type InstrumentRow = z.output<typeof instrumentRowSchema>

export const instruments: Register<InstrumentRow> = {
  list: 'instruments',
  schema: instrumentRowSchema,
  nameOf: ({ serial }) => serial,
  editionOf: ({ certificate }) => certificate.number,
  spansOf: ({ certificate }) => [certificateSpan(certificate)]
}
