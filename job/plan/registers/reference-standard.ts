import { z } from 'zod'
import { parameter, text } from '../parameter.ts'
import { holeStandardSchema, weldStandardSchema } from '../standard.ts'
import { certificateSchema, certificateSpan, uncertainty_mm } from './parts.ts'
import type { Register } from './register.ts'

/** A reference standard as it was measured: the standard as a job sheet has it, and how well its notches are known. */
export const referenceStandardRowSchema = z.strictObject({
  register: z.literal('reference standard'),
  version: z.literal(1),
  standard: z.union([holeStandardSchema, weldStandardSchema]).describe('The standard as a job sheet has it'),
  notch_uncertainty: z
    .array(
      z.strictObject({
        id: text('Name of the notch or slot'),
        uncertainty_mm: uncertainty_mm('Uncertainty of its depth')
      })
    )
    .min(1)
    .max(64)
    .describe('How well the depth of each notch or slot is known: all of them, each once'),
  certificate: certificateSchema,
  conductivity_percent_IACS: parameter({
    unit: '%IACS',
    least: 0.1,
    most: 110,
    help: 'Conductivity of its metal, where it was measured',
    why: 'between the poorest alloys and pure silver'
  }).optional()
})

export type ReferenceStandardRow = z.output<typeof referenceStandardRowSchema>

export const referenceStandards: Register<ReferenceStandardRow> = {
  list: 'reference_standards',
  schema: referenceStandardRowSchema,
  nameOf: ({ standard }) => standard.id,
  editionOf: ({ certificate }) => certificate.number,
  spansOf: ({ certificate }) => [certificateSpan(certificate)]
}
