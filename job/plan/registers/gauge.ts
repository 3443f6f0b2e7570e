import { z } from 'zod'
import { text } from '../parameter.ts'
import { certificateSchema, certificateSpan, uncertainty_mm } from './parts.ts'
import type { Register } from './register.ts'

/** A gauge: what a diameter, a thickness or a depth was measured with. */
export const gaugeRowSchema = z.strictObject({
  register: z.literal('gauge'),
  version: z.literal(1),
  serial: text('Serial number'),
  measures: text('What it measures, for example "diameter of a hole"'),
  uncertainty_mm: uncertainty_mm('Uncertainty of a reading'),
  certificate: certificateSchema
})

export type GaugeRow = z.output<typeof gaugeRowSchema>

export const gauges: Register<GaugeRow> = {
  list: 'gauges',
  schema: gaugeRowSchema,
  nameOf: ({ serial }) => serial,
  editionOf: ({ certificate }) => certificate.number,
  spansOf: ({ certificate }) => [certificateSpan(certificate)]
}
