import type { StoredExamination } from '@trueloop/host/chain'
import { z } from 'zod'
import { storedRefusal, text, texts } from './parts.ts'
import { same } from './same.ts'

type Size = StoredExamination['document']['indications'][number]['size']

const mm = z.number().exactOptional()
const range = { depth_mm: mm, lower_mm: mm, upper_mm: mm }

const ratio = same<NonNullable<Size['ratio']>>()(
  z.object({
    ...{ name: text, ratio: z.number(), spread: z.number(), cracks: z.number() },
    ...{ source: text, approved: text }
  })
)

/** What may be said of a size; nothing where it is withheld. */
export const size = same<Size>()(
  z.object({
    ...{ depth: text, ...range, level: z.number().exactOptional(), basis: text.exactOptional() },
    equivalent: z.object(range).describe('notch-equivalent, where the depth is that of a crack').exactOptional(),
    ratio: ratio.exactOptional(),
    ...{ extent: text, extent_mm: mm, length: text.exactOptional() },
    ...{ length_mm: mm, length_lower_mm: mm, length_upper_mm: mm, footprint_mm: mm },
    withheld: texts.describe('reasons for which no size is stated'),
    why: z.array(storedRefusal).exactOptional()
  })
)
