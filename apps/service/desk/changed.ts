import type { Refusal } from '@trueloop/ground/refusal'
import { placeOf } from '@trueloop/host/chain'
import { replayed } from '@trueloop/host/memory'
import { canonical, type Entry, type EntryRow, type JobState } from '@trueloop/job/record'
import { refuse } from '../codes.ts'

/** What has come into the record since a person looked. */

export interface Looked {
  readonly rows: readonly EntryRow[]
  readonly state: JobState
  /** entries that the record had when they looked */
  readonly seen: number
  /** names of the places that they speak of; none: of the job as a whole */
  readonly places: readonly string[]
}

/** Refuses service/changed-meanwhile where a place is another one than the person has seen; other places don't hinder. */
export function changedMeanwhile({ rows, state, seen, places }: Looked): Refusal | undefined {
  if (seen === rows.length) return undefined
  if (seen > rows.length || seen < 1) return otherRecord(seen, rows.length)
  const since = rows.slice(seen).map(({ body }) => JSON.parse(body) as Entry)
  if (places.length === 0) return ofJob(since)
  const before = replayed(rows.slice(0, seen))
  const other = places.find((name) => detailText(before, name) !== detailText(state, name))
  return other === undefined ? undefined : changed(other, aboutPlace(since, other, rows))
}

function detailText(state: JobState, name: string): string {
  const place = state.places.find((one) => one.place.name === name)?.place
  return canonical((place === undefined ? undefined : placeOf(state, place)) ?? null)
}

/** The entries that name the place; where none does (a recheck that voids it), all. */
function aboutPlace(since: readonly Entry[], name: string, rows: readonly EntryRow[]): readonly Entry[] {
  const own = since.filter((one) => nameIn(one, rows) === name)
  return own.length > 0 ? own : since
}

function nameIn(entry: Entry, rows: readonly EntryRow[]): string | undefined {
  if ('subject' in entry) return entry.subject.name
  if (entry.kind === 'recording-kept') return 'name' in entry.of ? entry.of.name : undefined
  if (entry.kind !== 'corrected') return undefined
  const row = rows.find(({ id }) => id === entry.corrects)
  return row === undefined ? undefined : nameIn(JSON.parse(row.body) as Entry, rows)
}

const ofJobKinds: readonly Entry['kind'][] = ['job-closed', 'job-reopened', 'handed-over', 'taken-over', 'merged']

function ofJob(since: readonly Entry[]): Refusal | undefined {
  const own = since.filter(({ kind }) => ofJobKinds.includes(kind))
  return own.length === 0 ? undefined : changed('the job', own)
}

const said = ({ kind, by, at }: Entry): string => `"${kind}" by ${by.name}, ${at.time}`

function changed(name: string, entries: readonly Entry[]): Refusal {
  const told = entries.filter(({ kind }) => kind !== 'document-stored').slice(-3)
  return refuse('service/changed-meanwhile', {
    found: `${name} was changed since you looked at it: ${told.map(said).join('; ')}`,
    needed: 'a decision on the place as it stands now',
    remedy: 'look at it again as it is now; where your decision still holds, state it again',
    where: { path: 'seen' }
  })
}

const otherRecord = (seen: number, count: number): Refusal =>
  refuse('service/changed-meanwhile', {
    found: `a page that has seen ${seen} entries of a record of ${count}`,
    needed: 'the record that the page has shown',
    remedy: 'load the page again: another archive may have been put in its place',
    where: { path: 'seen' }
  })
