import { z } from 'zod'
import { sheetSchema } from './sheet.ts'

/** The published JSON Schema of a job sheet (draft 2020-12): what has a default may be left out. */
export const sheetJsonSchema = (): Record<string, unknown> => ({
  title: 'Job sheet',
  ...z.toJSONSchema(sheetSchema, { io: 'input' })
})
