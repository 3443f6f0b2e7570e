import { createHash } from 'node:crypto'
import { isRefusal } from '@trueloop/ground/refusal'
import { append, chainOf, type EntryRow } from '../chain.ts'
import type { Entry, EntryOf } from '../kinds.ts'

/** Invented entries for tests. Nothing here was ever examined. */

export const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex')

export const by = { kind: 'person', name: 'A. Invented' } as const

/** One moment for all: a test makes its entries in any order, and a clock may stand but not go back. */
const moment = { time: '2026-03-14T09:00:00Z', known: 'clock of this computer' } as const

let count = 0

/** An id and a moment for the next entry of a test; ids are never used twice in one run. */
export const head = (id = `entry-${++count}`) => ({ id, at: moment, by })

export const opened = (job: string, holes: readonly string[]): EntryOf<'job-opened'> => ({
  kind: 'job-opened',
  version: 1,
  ...head(`${job} opened`),
  job: { id: job, component: 'Invented panel 1', opened: '2026-03-14', demonstration: true },
  application: 'fastener hole',
  people: [{ name: by.name, level: 'II' }],
  examinedBy: by.name,
  places: holes.map((name) => ({ of: 'hole' as const, name, diameter_mm: 6.35, grip_mm: 9 }))
})

export const kept = (name: string, of: EntryOf<'recording-kept'>['of']): EntryOf<'recording-kept'> => ({
  kind: 'recording-kept',
  version: 1,
  ...head(),
  sha256: sha256(name),
  bytes: name.length,
  file: `${name}.csv`,
  of
})

export const standardized = (reference: string): EntryOf<'standardized'> => ({
  kind: 'standardized',
  version: 1,
  ...head(),
  standardization: sha256(`standardization of ${reference}`),
  recording: sha256(reference),
  method: 1
})

export const rechecked = (name: string, reference: string, passed: boolean): EntryOf<'recheck'> => ({
  kind: 'recheck',
  version: 1,
  ...head(),
  recording: sha256(name),
  standardization: sha256(`standardization of ${reference}`),
  passed,
  allowed: { amplitude: 0.1, angle_deg: 5 },
  drifts: [{ notch: 'mid-bore 0.5 mm', amplitude: passed ? 0.02 : -0.31, angle_deg: 1.2, met: passed }],
  voids: []
})

type Found = Partial<Pick<EntryOf<'examined'>, 'zones' | 'indications' | 'method'>>

export const whole: EntryOf<'examined'>['zones'] = [
  { zone: 'entry corner', state: 'examined', covered: 1, why: [] },
  { zone: 'mid-bore', state: 'examined', covered: 1, why: [] }
]

export const indication = (
  over: Partial<EntryOf<'examined'>['indications'][number]> = {}
): EntryOf<'examined'>['indications'][number] => ({
  id: 'a',
  zone: 'mid-bore',
  class: 'relevant',
  crossedAlarm: true,
  amplitude: 0.8,
  sizeWithheld: false,
  ...over
})

export const examined = (name: string, hole: string, reference: string, found: Found = {}): EntryOf<'examined'> => ({
  kind: 'examined',
  version: 1,
  ...head(),
  examination: sha256(`examination of ${name}`),
  subject: { of: 'hole', name: hole },
  recording: sha256(name),
  standardization: sha256(`standardization of ${reference}`),
  method: 1,
  zones: [...whole],
  indications: [],
  refusals: [],
  ...found
})

/** The entries as a sound chain. Throws where the rule refuses. */
export function chainOfEntries(job: string, entries: readonly Entry[]): readonly EntryRow[] {
  const appended = append(chainOf(job, []), { expectedSeq: 0, entries }, sha256)
  if (isRefusal(appended)) throw new Error(`${appended.code}: ${appended.found}`)
  return appended.rows
}
