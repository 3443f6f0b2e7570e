import { z } from 'zod'
import { count, of, text } from './parts.ts'

/** How people have decided today: shown, never asked for. */

const stretch = z.object({ from: text, until: text, minutes: count })

export const pace = z.object({
  day: text.describe('as 2026-03-14: today, by the clock of this computer'),
  break_min: z.number().describe('a gap of so many minutes counts as a break (common practice, no source)'),
  people: z.array(
    z.object({
      name: text,
      decisions: z.array(z.object({ at: text, kind: text, of, place: text })),
      longest: stretch.describe('longest stretch without a break').exactOptional(),
      latest: stretch.describe('the stretch of the last decision').exactOptional()
    })
  )
})

export type Pace = z.output<typeof pace>
