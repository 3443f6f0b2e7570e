import { z } from 'zod'
import { sheetSchema } from './sheet.ts'

/** The published JSON Schema of a job sheet (draft 2020-12), as editors read it: what may be written, defaults not needed. */
export const sheetJsonSchema = (): Record<string, unknown> => ({
  title: 'Job sheet',
  ...z.toJSONSchema(sheetSchema, { io: 'input' })
})
