import { z } from 'zod'
import { parameter, text } from './parameter.ts'

/** What a report is asked for and only a person can say. All of it may be left out; the report then says "not stated". */

export const surface = text('Surface and coating as they were examined: roughness, paint and its thickness, corrosion')

/** Kept by law or contract. A repair station in the United States: at least 2 years (source: cfr-14-145-219). */
const retentionSchema = z
  .strictObject({
    years: parameter({
      unit: 'years',
      least: 0,
      most: 200,
      help: 'How long this record is kept, from the approval for return to service',
      why: 'longer than any part is in service'
    }),
    basis: text('Law, contract or procedure that asks for it').optional()
  })
  .describe('How long the record is kept; a repair station in the United States keeps it at least 2 years')

export const toldShape = {
  laboratory: text('Laboratory or shop that examines, with its address').optional(),
  client: text('Who has asked for the examination').optional(),
  condition: text('Condition of the component as it was received').optional(),
  surface: surface.optional(),
  standard_followed: text('Standard that the examination follows, with its date').optional(),
  data_review: text('How the recordings are reviewed after the scan, and by whom').optional(),
  deviations: text('What was done otherwise than the procedure says; "none" is an answer').optional(),
  retention: retentionSchema.optional()
}
