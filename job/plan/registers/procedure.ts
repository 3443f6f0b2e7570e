import { z } from 'zod'
import { day, text } from '../parameter.ts'
import type { Register, RowDay } from './register.ts'

/** A procedure in one of its revisions: what authorizes a technique, for what, from when, and who approved it. */
export const procedureRowSchema = z.strictObject({
  register: z.literal('procedure'),
  version: z.literal(1),
  id: text('Procedure, as a technique names it'),
  revision: text('Revision'),
  page: text('Page or task of it').optional(),
  effectivity: text('What it holds for: types, serial numbers, components'),
  in_force_from: day('First day on which it holds'),
  superseded: day('First day on which a later revision holds in its place').optional(),
  expires: day('Last day on which it holds, where it states one').optional(),
  approved: z
    .strictObject({
      by: text('Name of the Level III who approved it'),
      level: z.literal('III').describe('Only a Level III approves a procedure'),
      on: day('Day of the approval')
    })
    .describe('Who answers for it')
})

export type ProcedureRow = z.output<typeof procedureRowSchema>

const at = (key: string, day: string | undefined): RowDay | undefined =>
  day === undefined ? undefined : { steps: [key], day }

export const procedures: Register<ProcedureRow> = {
  list: 'procedures',
  schema: procedureRowSchema,
  nameOf: ({ id }) => id,
  editionOf: ({ revision }) => revision,
  spansOf: ({ revision, in_force_from, superseded, expires }) => [
    {
      of: `revision ${revision}`,
      from: at('in_force_from', in_force_from),
      until: at('expires', expires),
      ends: at('superseded', superseded)
    }
  ]
}
