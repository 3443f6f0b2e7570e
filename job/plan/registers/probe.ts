import { z } from 'zod'
import { day, parameter, text } from '../parameter.ts'
import type { Register } from './register.ts'

const mm = (help: string) =>
  parameter({ unit: 'mm', least: 0.01, most: 50, help, why: 'larger than any coil of a probe of this kind' })

const kHz = (help: string) =>
  parameter({ unit: 'kHz', least: 1, most: 10_000, help, why: 'range of eddy-current instruments for surface cracks' })

/** A probe. It carries no certificate of its own: each reference scan shows what it is worth that day. */
export const probeRowSchema = z.strictObject({
  register: z.literal('probe'),
  version: z.literal(1),
  serial: text('Serial number'),
  type: text('Type: arrangement of its coils, as the technique names it'),
  coil: z.strictObject({
    width_mm: mm('Effective width of the coil on the metal'),
    lobe_spacing_mm: mm('Distance between the two lobes of a notch signal, where it is differential').optional(),
    frequency_kHz: z.strictObject({ least: kHz('Lowest frequency'), most: kHz('Highest frequency') })
  }),
  diameter_mm: mm('Diameter of the hole it is made for').optional(),
  tape: text('Tape over the coil').optional(),
  expires: day('Last day on which it may be used, where the shop states one').optional()
})

export type ProbeRow = z.output<typeof probeRowSchema>

export const probes: Register<ProbeRow> = {
  list: 'probes',
  schema: probeRowSchema,
  nameOf: ({ serial }) => serial,
  editionOf: () => '',
  spansOf: ({ expires }) =>
    expires === undefined ? [] : [{ of: 'time of use', until: { steps: ['expires'], day: expires } }]
}
