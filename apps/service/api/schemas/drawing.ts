import type { DrawingRow } from '@trueloop/host/chain'
import { z } from 'zod'
import { hash, of, text } from './parts.ts'
import { same } from './same.ts'

/** Drawings and photos of a component. */

const share = z.number().min(0).max(1)
const at = {
  x: share.describe('share of the width, from the left'),
  y: share.describe('share of the height, from above'),
  page: z.number().int().min(1).max(10_000).describe('page of a PDF; else 1')
}

export const drawingRow = same<DrawingRow>()(
  z.object({
    sha256: hash.describe('of its bytes'),
    file: text,
    form: z.enum(['image/png', 'image/jpeg', 'image/svg+xml', 'application/pdf']),
    id: text.describe('of the entry by which it came'),
    title: text.exactOptional(),
    by: text.describe('who brought it'),
    places: z.array(z.object({ of, name: text, ...at })).describe('where places lie on it')
  })
)

/** What comes with the bytes of a drawing. */
export const bringing = z.strictObject({
  file: z.string().trim().min(1).max(200).describe('name of the file'),
  title: z.string().trim().min(1).max(500).describe('what it shows').exactOptional()
})

export const drawnAt = z.strictObject(at)
