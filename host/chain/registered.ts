import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import {
  type DayOfRecording,
  dueNotes,
  editionOfRow,
  type LookedUp,
  lookUp,
  noRegisters,
  type RegisterName,
  usesOf
} from '@trueloop/job/plan'
import type { Entry, EntryOf } from '@trueloop/job/record'
import { wallClock } from '../clock/index.ts'
import type { JobContext } from './context.ts'
import type { Kept } from './keep.ts'

/** What a job uses, looked up in the registers of the shop on the day on which it is used. */

export interface Held {
  /** what the job keeps of the registers */
  readonly entries: readonly Entry[]
  /** what falls due, in words */
  readonly notes: readonly string[]
}

const nothing: Held = { entries: [], notes: [] }

/**
 * Looks up what the recordings use that the record does not hold yet; a job that was opened without registers asks for
 * nothing. All complaints are listed, each at its place in the sheet: plan/not-registered, plan/out-of-date,
 * plan/register-differs. Nothing is recorded yet; documents lie in the archive, named by nothing.
 */
export async function heldFor(
  context: JobContext,
  kept: readonly Kept[]
): Promise<Held | { readonly refusals: readonly Refusal[] }> {
  const fresh = kept.filter(({ sha256 }) => !context.recorded.has(sha256))
  const found = lookedUp(
    context,
    fresh.map(({ index, facts }) => ({ index, day: facts.taken?.time.slice(0, 10) ?? today(context) }))
  )
  if ('refusals' in found) return found
  if (found.all.length === 0) return nothing
  const entries = await entriesOf(context, found.all)
  return isRefusal(entries) ? { refusals: [entries] } : { entries, notes: dueNotes(found.all) }
}

/** The first complaint that examining would meet now; recordings of which no day is stated count as taken today. */
export function notHeld(context: JobContext): Refusal | undefined {
  const { recordings } = context.input.sheet
  const days = recordings.map(({ taken }, index) => ({ index, day: taken?.slice(0, 10) ?? today(context) }))
  const found = lookedUp(context, days)
  return 'refusals' in found ? found.refusals[0] : undefined
}

/** Certificates hold on days of the wall. */
const today = ({ input }: JobContext): string => (input.clock ?? wallClock)().time.slice(0, 10)

interface Found {
  readonly all: readonly LookedUp[]
}

function lookedUp(
  context: JobContext,
  recordings: readonly DayOfRecording[]
): Found | { readonly refusals: readonly Refusal[] } {
  const { shop, input, isSigned } = context
  if (!isSigned) return { all: [] }
  const place = input.place ?? ((one: Refusal) => one)
  const answers = usesOf(input.sheet, recordings).map((use) => lookUp(shop?.registers ?? noRegisters, input.sheet, use))
  const refusals = answers.filter((one) => isRefusal(one)).map(place)
  return refusals.length > 0 ? { refusals } : { all: answers as readonly LookedUp[] }
}

/** As a job names documents: its own reference standard and technique bear the plain names. */
const whatOf: Readonly<Record<RegisterName, EntryOf<'document-stored'>['what']>> = {
  ...{ person: 'person', instrument: 'instrument', probe: 'probe', gauge: 'gauge' },
  'reference standard': 'registered standard',
  procedure: 'registered procedure'
}

/** One entry a day, with the rows that the record does not hold for that day; before it, their documents. */
async function entriesOf(context: JobContext, all: readonly LookedUp[]): Promise<Result<readonly Entry[]>> {
  const fresh = all.filter((one) => !isHeld(context, one))
  const documents = await documentsOf(context, fresh)
  if (isRefusal(documents)) return documents
  const days = [...new Set(fresh.map(({ day }) => day))].sort()
  return [
    ...documents,
    ...days.map((day) =>
      entryOf(
        context,
        day,
        fresh.filter((one) => one.day === day)
      )
    )
  ]
}

const isHeld = ({ state }: JobContext, { day, registered }: LookedUp): boolean =>
  state?.held.some((one) => one.day === day && one.rows.some(({ document }) => document === registered.document)) ===
  true

async function documentsOf(context: JobContext, all: readonly LookedUp[]): Promise<Result<readonly Entry[]>> {
  const known = new Set(context.state?.documents.map(({ document }) => document))
  const entries: Entry[] = []
  for (const { what, name, registered } of all) {
    if (known.has(registered.document)) continue
    known.add(registered.document)
    const document = await context.input.archive.storeDocument(whatOf[what], registered.row)
    if (isRefusal(document)) return document
    const about = { kind: 'document-stored', what: whatOf[what], document } as const
    entries.push(context.entry({ ...about, name }, about))
  }
  return entries
}

function entryOf(context: JobContext, day: string, all: readonly LookedUp[]): Entry {
  const shopRows = context.shop?.rows ?? []
  const last = shopRows.at(-1)
  if (shopRows[0] === undefined || last === undefined) throw new Error('a row of registers that have none')
  const rows = all.map(({ what, name, registered: { row, document, seq }, spans }) => ({
    ...{ what, name, edition: editionOfRow(row), document, seq, entry: shopRows[seq]!.hash },
    spans: spans.map(
      ({ left_days: _, ...span }) => span as EntryOf<'held-in-register'>['rows'][number]['spans'][number]
    )
  }))
  const shop = { first: shopRows[0].hash, count: shopRows.length, head: last.hash }
  const about = { kind: 'held-in-register', day, rows }
  return context.entry({ kind: 'held-in-register', day, shop, rows }, about)
}
