import type { JobBrief, JobSummary, PlaceRow } from '@trueloop/host/chain'
import { z } from 'zod'
import { drawingRow } from './drawing.ts'
import { count, hash, of, stateName, text, texts } from './parts.ts'
import { same } from './same.ts'

/** How jobs stand. */

export const placeRow = {
  of,
  name: text,
  state: stateName,
  provisional: z.boolean().describe('its set-up has not been checked by a good recheck yet'),
  zonesExamined: count,
  zones: count,
  relevant: count,
  undecided: count,
  aboveAlarm: count.describe('above the alarm level, whatever they were classed as'),
  why: texts.describe('why it, or a part of it, was not examined or is void'),
  open: texts.describe('what waits for a person or for another scan: the place can not be closed'),
  latest: hash.describe('the examination that stands for the place; absent where none does').exactOptional()
}

const nonconformance = z.object({
  place: text,
  had: z.enum(['been closed', 'been delivered']),
  at: text,
  why: texts,
  examinedAgain: z.boolean()
})

const brief = {
  job: text,
  component: text,
  demonstration: z.boolean(),
  confirmed: text,
  counts: z.array(z.object({ state: stateName, count })),
  counted: z
    .object({ listed: count, scanned: count, without: texts })
    .describe('the list of the job against what was scanned of it'),
  redo: z.array(z.object({ place: text, files: texts, why: texts })),
  nonconformances: z.array(nonconformance).describe('places that had left the hands on scans that are void since'),
  practice: z
    .object({ count, marked: z.boolean() })
    .describe('places that are practice: how many, and whether they are marked')
    .exactOptional(),
  classFirst: z.literal(true).describe('a person states a class before they are told what is proposed').exactOptional(),
  waiting: z.boolean().describe('something waits for a person'),
  entries: count,
  head: hash
}

export const jobBrief = same<JobBrief>()(z.object(brief))
export const jobBriefs = z.array(jobBrief)

export const jobSummary = same<JobSummary>()(
  z.object({
    ...brief,
    setUpUnknown: texts.describe('values of the set-up that nobody knows: sizes and proposals are withheld'),
    places: z.array(same<PlaceRow>()(z.object(placeRow))),
    capability: z
      .object({ words: text, source: text, by: text })
      .describe('what has been demonstrated for this set-up; absent: nobody has shown how small a flaw it finds')
      .exactOptional(),
    drawings: z.array(drawingRow).describe('drawings and photos of the component'),
    rechecks: z.array(z.object({ file: text, passed: z.boolean(), voids: texts })),
    unjudged: texts.describe('files of rechecks and reference scans that nobody has judged')
  })
)
