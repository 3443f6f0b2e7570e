import { z } from 'zod'
import { drawnAt } from './drawing.ts'
import { count, hash, text } from './parts.ts'
import { placeDetail } from './place.ts'

/** What a person states of a job, and what became of it. */

const words = (most: number) => z.string().trim().min(1).max(most)
const reason = words(2000)
const place = words(200).describe('name of the hole, track or loop')
const classes = z.enum(['false', 'nonrelevant', 'damage, not a crack', 'relevant'])

const common = {
  id: z
    .string()
    .regex(/^[0-9a-f]{32}$/)
    .describe('made by the page for this statement: sent twice it is recorded once'),
  seen: count.describe('how many entries the record had when the person looked: what came since is looked at first')
}

const say = <What extends string, Shape extends z.core.$ZodShape>(what: What, shape: Shape) =>
  z.strictObject({ ...common, what: z.literal(what), ...shape })

export const statement = z.discriminatedUnion('what', [
  say('decide', {
    place,
    classes: z
      .array(z.strictObject({ indication: words(200), class: classes }))
      .max(200)
      .exactOptional(),
    disposition: z.enum(['no recordable indication', 'clean-up ream', 'reject', 'refer']).exactOptional(),
    size_mm: z.number().positive().max(1000).describe('of a clean-up ream').exactOptional(),
    reason: reason.exactOptional()
  }),
  say('look again', { place, agrees: z.boolean(), reason: reason.exactOptional() }),
  say('withdraw', { entry: words(200).describe('id of the own entry that is taken back'), reason }),
  say('close places', { places: z.array(place).min(1).max(5000) }),
  say('leave out', { places: z.array(place).min(1).max(5000), reason }),
  say('cut', { place, aimed_mm: z.number().positive().max(1000), tool: words(200).exactOptional() }),
  say('note', { place, text: words(2000) }),
  say('place on a drawing', {
    drawing: hash,
    marks: z
      .array(
        z.strictObject({ place, at: drawnAt.describe('absent: the place is taken off the drawing').exactOptional() })
      )
      .min(1)
      .max(5000)
  }),
  say('hand over', { to: words(200), note: words(5000) }),
  say('take over', {}),
  say('close job', { remarks: reason.exactOptional() }),
  say('open job again', { reason })
])

export type Statement = z.output<typeof statement>

export const stated = z.object({
  recorded: z.enum(['now', 'already']).describe('already: it had been sent before, and nothing was added'),
  entries: z.array(z.object({ seq: count, id: text, kind: text, hash })).min(1),
  places: z.array(placeDetail).describe('the places that it is about, as they stand now'),
  lines: z.array(text).describe('arithmetic that was recorded with it').exactOptional(),
  count: count.describe('entries of the record: what to send as "seen" next'),
  head: hash
})

export type Stated = z.output<typeof stated>
