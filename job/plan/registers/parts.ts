import { z } from 'zod'
import { day, parameter, text } from '../parameter.ts'
import type { Span } from './register.ts'

/** What rows of several registers have. */

export const certificateSchema = z.strictObject({
  number: text('Number of the certificate'),
  issued: day('Day of issue'),
  expires: day('Last day on which it holds; the procedure or the shop states how long that is')
})

export const certificateSpan = ({ issued, expires }: z.output<typeof certificateSchema>): Span => ({
  of: 'certificate',
  from: { steps: ['certificate', 'issued'], day: issued },
  until: { steps: ['certificate', 'expires'], day: expires }
})

export const uncertainty_mm = (help: string) =>
  parameter({
    unit: 'mm',
    least: 0,
    most: 1,
    help: `${help}, expanded (k = 2) as the certificate states it`,
    why: 'an uncertainty of a millimeter tells nothing of a notch or a hole'
  })
