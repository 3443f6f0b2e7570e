import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { placeOf } from '@trueloop/host/chain'
import { sha256 } from '@trueloop/host/hash'
import type { Signer } from '@trueloop/host/keys'
import { replayed } from '@trueloop/host/memory'
import { registeredPerson } from '@trueloop/host/signing'
import { canonical, type Entry, type EntryRow, type JobState } from '@trueloop/job/record'
import type { Stated, Statement } from '../api/schemas/index.ts'
import { Blind } from '../blind.ts'
import { refuse } from '../codes.ts'
import { changedMeanwhile } from './changed.ts'
import { perform } from './perform.ts'

export interface Stating {
  readonly archive: Archive
  readonly job: string
  readonly asked: Statement
  readonly signer: Signer
}

/**
 * Records what a person states, once: its entries are named by the id that the page has made, so that sending it again
 * finds them. Refuses what the command of the same meaning refuses, service/changed-meanwhile, service/id-used,
 * service/register-changed, service/no-such-entry; undefined where there is no such job.
 */
export async function stated(stating: Stating): Promise<Result<Stated | undefined>> {
  const { archive, job, asked, signer } = stating
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return undefined
  const name = nameOf(asked, signer.row.name)
  const before = rows.filter(({ id }) => id.startsWith(`${asked.id}-`))
  if (before.length > 0) {
    const isSame = before.every(({ id }) => id.startsWith(`${name}.`))
    return isSame
      ? answer(rows, { asked, reader: signer.row.name, entries: before, recorded: 'already' })
      : idUsed(asked.id, before)
  }
  const no = await registerChanged(stating)
  if (no !== undefined) return no
  const now = replayed(rows)
  const places = placesIn(asked, rows)
  if (isRefusal(places)) return places
  const changed = changedMeanwhile({ rows, state: now, seen: asked.seen, places: places as readonly string[] })
  if (changed !== undefined) return changed
  const hidden = hiddenIn(now, Blind.of(rows, signer.row.name), places as readonly string[])
  const done = await perform(asked, { archive, job, signer, statement: name }, hidden)
  if (isRefusal(done)) return done
  const { rows: added = [], lines } = done
  const own = added.filter(({ id }) => id.startsWith(`${name}.`))
  const after = await archive.entries(job)
  if (isRefusal(after)) return after
  return answer(after, {
    asked,
    reader: signer.row.name,
    entries: own,
    recorded: 'now',
    ...(lines === undefined ? {} : { lines })
  })
}

/** By content too: another statement under the same id is another one, and by another person too. */
function nameOf({ seen: _, ...asked }: Statement, by: string): string {
  return `${asked.id}-${sha256(canonical({ asked, by })).slice(0, 16)}`
}

/** A row of the register that has changed since the key was opened: the signature would name a person as they were. */
async function registerChanged({ archive, signer }: Stating): Promise<Refusal | undefined> {
  const { name } = signer.row
  const now = await registeredPerson(name, archive)
  if (!isRefusal(now) && now.document === signer.person) return undefined
  return refuse('service/register-changed', {
    found: isRefusal(now) ? now.found : `a row of the register for ${name} that is newer than their open key`,
    needed: 'the row under which the key was opened',
    remedy: 'sign in again'
  })
}

/** Names of the places that it is about. */
function placesIn(asked: Statement, rows: readonly EntryRow[]): Result<readonly string[]> {
  if ('places' in asked) return asked.places
  if ('place' in asked) return [asked.place]
  if (asked.what !== 'withdraw') return []
  const row = rows.find(({ id }) => id === asked.entry)
  if (row === undefined) return noEntry(asked.entry)
  const entry = JSON.parse(row.body) as Entry
  return 'subject' in entry ? [entry.subject.name] : []
}

interface Answering {
  /** who is answered */
  readonly reader: string
  readonly asked: Statement
  readonly entries: readonly EntryRow[]
  readonly recorded: Stated['recorded']
  readonly lines?: readonly string[]
}

function answer(rows: readonly EntryRow[], { asked, reader, entries, recorded, lines }: Answering): Stated {
  const state = replayed(rows)
  const names = placesIn(asked, rows)
  return {
    recorded,
    entries: entries.map(({ seq, id, kind, hash }) => ({ seq, id, kind, hash })),
    places: isRefusal(names) ? [] : detailsOf(state, names as readonly string[], Blind.of(rows, reader)),
    ...(lines === undefined ? {} : { lines: [...lines] }),
    count: state.count,
    head: state.head
  }
}

const detailsOf = (state: JobState, names: readonly string[], blind: Blind | undefined): Stated['places'] =>
  wholeDetails(state, names).map((one) => blind?.place(one) ?? one) as Stated['places']

const wholeDetails = (state: JobState, names: readonly string[]) =>
  state.places.filter(({ place }) => names.includes(place.name)).flatMap(({ place }) => placeOf(state, place) ?? [])

/** Ids of the indications of these places whose proposal the person has not been told yet. */
const hiddenIn = (state: JobState, blind: Blind | undefined, names: readonly string[]): readonly string[] =>
  blind === undefined
    ? []
    : wholeDetails(state, names).flatMap(({ indications }) =>
        indications.filter((one) => blind.isHidden(one)).map(({ id }) => id)
      )

const idUsed = (id: string, [first]: readonly EntryRow[]): Refusal =>
  refuse('service/id-used', {
    found: `the id ${id} of a statement that is recorded already as "${first?.kind}", entry ${first?.seq}`,
    needed: 'an id of its own for every statement',
    remedy: 'make a new id, and send the statement under it',
    where: { path: 'id' }
  })

const noEntry = (entry: string): Refusal =>
  refuse('service/no-such-entry', {
    found: `no entry "${entry}" in this job`,
    needed: 'the id of an own entry of this job',
    remedy: 'load the page again',
    where: { path: 'entry' }
  })
