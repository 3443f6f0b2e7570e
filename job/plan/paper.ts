import { z } from 'zod'
import { parameter, text } from './parameter.ts'

/** What every technique says of the paper it comes from, who answers for it, and what is done with what is found. */

export const procedureSchema = z.strictObject({
  id: text('Procedure that authorizes the technique'),
  revision: text('Revision of the procedure'),
  page: text('Page or paragraph of the procedure').optional(),
  effectivity: text('What the procedure is effective for: types, serial numbers, dates').optional()
})

export const acceptanceSchema = z
  .strictObject({
    criteria: text('Acceptance criteria, as the procedure has them'),
    recording_share: parameter({
      unit: '1',
      least: 0.01,
      most: 5,
      help: 'Level from which an indication is recorded, as a share of the named notch',
      why: 'below a hundredth of a notch lies noise, above five notches nothing is left to record'
    }).optional(),
    reject_share: parameter({
      unit: '1',
      least: 0.05,
      most: 10,
      help: 'Level from which a relevant indication is rejectable, as a share of the named notch',
      why: 'the procedure states it; beyond ten notches nothing is compared'
    }).optional()
  })
  .describe('Acceptance criteria; a person applies them')

/** Members that techniques of every application have. */
export const paperShape = {
  procedure: procedureSchema,
  approver: text('Level III who answers for this technique: only their approval counts').optional(),
  proposed: z
    .array(text('Key of this technique, such as "frequency_kHz"'))
    .max(100)
    .optional()
    .describe('Keys whose values were proposed and not taken from the procedure: a signed approval confirms them'),
  approved_method: z
    .int()
    .min(1)
    .max(1_000_000)
    .optional()
    .describe('Number of the method of examination that is approved for this technique; another one is refused'),
  second_look: z
    .enum(['every place', 'what was found'])
    .optional()
    .describe('What another person has to look at before a place is closed'),
  class_first: z
    .boolean()
    .optional()
    .describe(
      'Whether the workbench shows what the program proposes only after the person has stated a class: one that was seen first is hard to judge apart from (ours)'
    ),
  acceptance: acceptanceSchema.optional()
}
