import { z } from 'zod'
import { text } from './parts.ts'

/** Who has signed in, and who may. */

const level = z.enum(['I', 'II', 'III'])

const due = z.object({
  of: text.describe('certificate, or near vision'),
  until: text.describe('last day on which it holds').exactOptional(),
  left_days: z.number().int().exactOptional()
})

export const session = z.object({
  person: z
    .object({
      name: text,
      level,
      until: text.describe('last day on which this person may sign').exactOptional(),
      locks: text.describe('when the key is locked by itself if nothing is asked until then: ISO 8601'),
      due: z.array(due).describe('what falls due within a month')
    })
    .describe('who has signed in here; absent: nobody')
    .exactOptional(),
  idle_min: z.number().describe('a key that nothing is asked of for so long is locked'),
  registers: z.boolean().describe('false: nobody is registered in this archive, and nobody can sign'),
  people: z.array(
    z.object({
      name: text,
      level,
      may: z.boolean().describe('may sign in here today'),
      key: z.boolean().describe('the key file lies on this computer'),
      why: text.describe('what has run out, or is not in force yet').exactOptional()
    })
  ),
  demonstration: z
    .object({ passphrase: text.describe('of every invented person: no secret') })
    .describe('only where the service shows the demonstration')
    .exactOptional()
})

export type SessionView = z.output<typeof session>

export const signingIn = z.strictObject({
  name: z.string().min(1).max(200),
  passphrase: z.string().min(1).max(1000)
})
