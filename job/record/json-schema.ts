import { z } from 'zod'
import { entrySchema } from './kinds.ts'

/** The published JSON Schema of an entry (draft 2020-12), every kind in every version that was ever written. */
export const entryJsonSchema = (): Record<string, unknown> => ({
  title: 'Entry of a record',
  ...z.toJSONSchema(entrySchema)
})
