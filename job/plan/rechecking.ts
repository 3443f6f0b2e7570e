import { z } from 'zod'
import { parameter } from './parameter.ts'

/** When the set-up is looked at again, and how far it may have moved. ISO 15549, 10.2 and 10.3, read in excerpts. */

/** What may happen between one recording and the next and asks for a recheck. */
export const happeningNames = [
  ...(['person', 'probe', 'tape', 'cable', 'battery', 'instrument', 'drop', 'temperature'] as const)
] as const

export type HappeningName = (typeof happeningNames)[number]

export const happeningsSchema = z
  .array(z.enum(happeningNames))
  .max(happeningNames.length)
  .describe('What was changed (person, probe, tape, cable, battery, instrument) or happened (drop, temperature)')

export const recheckRulesSchema = z
  .strictObject({
    interval_min: parameter({
      unit: 'min',
      least: 1,
      most: 1440,
      help: 'Longest time from a good check to a scan; every recording then needs its time',
      why: 'the procedure states it; 30 to 60 min are common practice, no source'
    }).optional(),
    after: happeningsSchema
      .optional()
      .describe('What asks for a recheck before the next scan; all of them where absent'),
    gain_of_sensitivity: z
      .enum(['fails', 'is noted'])
      .default('fails')
      .describe('Whether a recheck fails where a notch answers more strongly than the allowance, and not less')
  })
  .describe('When the set-up has to be checked again')

export type RecheckRules = z.output<typeof recheckRulesSchema>

export const recheckAllowanceSchema = z.strictObject({
  amplitude: parameter({
    unit: '1',
    least: 0.01,
    most: 0.5,
    help: 'Largest drift of any notch amplitude, as a share',
    why: 'the procedure states it; beyond a half nothing is checked'
  }),
  angle_deg: parameter({
    unit: 'deg',
    least: 0.5,
    most: 30,
    help: 'Largest drift of any notch angle',
    why: 'the procedure states it'
  }),
  noise: parameter({
    unit: '1',
    least: 0.05,
    most: 10,
    help: 'Largest growth of the noise of the wall of the reference standard, as a share',
    why: 'the procedure states it; beyond eleven times the noise nothing is checked'
  }).optional()
})
