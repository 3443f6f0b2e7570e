import { z } from 'zod'
import { hash, of, refusal, text } from './parts.ts'

/** What comes in: recordings from a page or from the watched folder, and what became of each. */

const subject = z.discriminatedUnion('of', [
  z.strictObject({ of, name: z.string().min(1).max(200) }),
  z.strictObject({ of: z.enum(['reference', 'recheck']) }),
  z.strictObject({ of: z.literal('parent'), track: z.string().min(1).max(200).describe('track beside which it lies') })
])

export const intakeFile = z.object({
  file: text,
  state: z
    .enum([
      ...['being written', 'lies there', 'recorded', 'waits', 'being read'],
      ...['complete', 'scan again', 'passed over']
    ] as const)
    .describe(
      'lies there: since before the watch, and not recorded; recorded: known by its content; waits: nobody has said which place it is of; passed over: it is no recording of this job'
    ),
  subject: subject.exactOptional(),
  why: z.array(refusal).describe('why it has to be scanned again, or was passed over'),
  recording: hash.exactOptional(),
  examination: hash.exactOptional(),
  before: z.boolean().describe('it was recorded before, and nothing was added').exactOptional(),
  at: text.describe('when this became so: ISO 8601')
})

export type IntakeFile = z.output<typeof intakeFile>

export const watch = z.object({
  watches: z.boolean().describe('false: the service was started without a folder to watch'),
  job: text.exactOptional(),
  expects: subject.describe('what the next file is of; absent: nobody has said').exactOptional(),
  by: text.describe('who scans').exactOptional(),
  trouble: refusal.describe('why the folder can not be looked at').exactOptional(),
  files: z.array(intakeFile).describe('the latest ones, the newest last')
})

export type WatchView = z.output<typeof watch>

export const watching = z.strictObject({
  expects: subject.nullable().describe('what the next file is of; null: what comes waits'),
  take: z
    .string()
    .min(1)
    .max(255)
    .describe('name of a file that lies in the folder since before the watch, to be taken as that')
    .exactOptional()
})

export type Watching = z.output<typeof watching>
export type IntakeSubject = z.output<typeof subject>

export const uploading = z.strictObject({
  of: z.enum(['hole', 'track', 'loop', 'reference', 'recheck', 'parent']),
  name: z
    .string()
    .min(1)
    .max(200)
    .describe('of the hole, track or loop; of parent metal, of the track beside it')
    .exactOptional(),
  file: z.string().min(1).max(255).describe('name of the file, for the record: no path')
})
