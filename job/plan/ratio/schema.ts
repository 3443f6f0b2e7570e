import { z } from 'zod'
import { day, parameter, text } from '../parameter.ts'

/** How cracks answer compared with notches of their size: documents that a Level III has approved. Immutable. */

const mm = (help: string) =>
  parameter({ unit: 'mm', least: 0.01, most: 20, help, why: 'range of cracks in the wall of a hole' })

const kHz = (help: string) =>
  parameter({ unit: 'kHz', least: 1, most: 10_000, help, why: 'range of eddy-current instruments for surface cracks' })

const cracks = z
  .number()
  .int()
  .min(4)
  .max(100_000)
  .describe('How many cracks of known size it was found on; fewer than four have no spread worth the name')

/** What a document of either kind holds for, where it comes from and who answers for it. */
const common = {
  name: text('Name of the document'),
  kinds: z
    .array(z.enum(['corner', 'mid-bore']))
    .min(1)
    .max(2)
    .describe('Kinds of crack it holds for'),
  metal: text('Metal, as the technique names it'),
  frequency_kHz: z.strictObject({ least: kHz('Lowest frequency'), most: kHz('Highest frequency') }),
  probe_type: text('Type of probe: arrangement of its pick-ups, as the technique names it'),
  depth_mm: z
    .strictObject({ least: mm('Depth of the smallest crack'), most: mm('Depth of the deepest crack') })
    .describe('Range of the depths of the cracks'),
  cracks,
  source: text('Report, study or trial that it was found by'),
  approved: z
    .strictObject({
      by: text('Name of the Level III who approves it'),
      level: z.literal('III').describe('Only a Level III approves a response ratio or study'),
      on: day('Day of the approval')
    })
    .describe('Who answers for its use')
}

export const responseRatioSchema = z.strictObject({
  trueloop: z.literal('response-ratio/1'),
  ...common,
  ratio: parameter({
    unit: '1',
    least: 0.05,
    most: 2,
    help: 'Answer of a crack over that of a notch of its depth and length, mean over the cracks',
    why: 'below a twentieth a crack is hardly found; far above 1 something else was measured'
  }),
  spread: parameter({
    unit: '1',
    least: 0,
    most: 1,
    help: 'Standard deviation of that ratio from crack to crack',
    why: 'a spread as large as the answer itself tells nothing'
  })
})

export const responseStudySchema = z.strictObject({
  trueloop: z.literal('response-study/1'),
  ...common,
  scatter: parameter({
    unit: '1',
    least: 0,
    most: 1,
    help: 'Standard deviation of the answer about the law of depth and length fitted on the notches, as its share',
    why: 'a scatter as large as the answer itself tells nothing'
  })
})

export type ResponseRatio = z.output<typeof responseRatioSchema>
export type ResponseStudy = z.output<typeof responseStudySchema>
