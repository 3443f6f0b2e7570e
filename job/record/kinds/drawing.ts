import { z } from 'zod'
import { drawingForms } from '../../plan/index.ts'
import { hashSchema, headSchema, signedSchema, subjectSchema } from './parts.ts'

/** A drawing or photo of the component is kept as an original. Unsigned where the job sheet has brought it. */
export const drawingKept = z.strictObject({
  kind: z.literal('drawing-kept'),
  version: z.literal(1),
  ...headSchema,
  sha256: hashSchema,
  bytes: z.number().int().min(1),
  file: z.string().min(1).max(200),
  form: z.enum(drawingForms),
  title: z.string().min(1).max(500).optional(),
  signed: signedSchema
})

const share = z.number().min(0).max(1)

/**
 * Where places lie on a drawing: shares of its width from the left and of its height from above, so that no size of the
 * picture comes in. What is said last of a place holds; it decides nothing.
 */
export const placesDrawn = z.strictObject({
  kind: z.literal('places-drawn'),
  version: z.literal(1),
  ...headSchema,
  drawing: hashSchema,
  places: z
    .array(
      z.strictObject({
        place: subjectSchema,
        /** absent: it was put there by mistake, and is taken off */
        at: z.strictObject({ x: share, y: share, page: z.number().int().min(1) }).optional()
      })
    )
    .min(1),
  signed: signedSchema
})
