import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  type After,
  classOf,
  type Disposition,
  type EntryOf,
  type ExaminationState,
  type JobState,
  type JoinedIndication,
  type Moment,
  type PlaceState,
  type ReamLoop,
  type Sighting,
  type Unseen,
  waits
} from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { replayed } from '../memory/index.ts'
import { type PlaceRow, placeRow } from './summary.ts'

/** What the record says of one place, for the page of that place. A projection: nothing is decided here. */

type Outcome = ExaminationState['indications'][number]

/** One scan's sight of an indication. Angle and depths as this scan has them: those of a reversed scan run the other way. */
export interface SightingDetail
  extends Sighting,
    Pick<Outcome, 'sizeWithheld'>,
    Readonly<Partial<Pick<Outcome, 'cause' | 'angle_rad' | 'z_m' | 'z0_m' | 'z1_m'>>> {
  readonly examination: string
  readonly reversed: boolean
}

export interface IndicationDetail {
  readonly id: string
  /** class, cause and what speaks for them are not told: a person states a class first */
  readonly hidden?: true
  /** what counts: a person's class, or without one the proposed one */
  readonly class: Outcome['class']
  /** the worst that any scan took it for */
  readonly proposed: Outcome['class']
  readonly decided?: Decided & { readonly class: EntryOf<'interpreted'>['class']; readonly beforeProposal: boolean }
  readonly crossedAlarm: boolean
  /** waits for a person or for another scan */
  readonly open: boolean
  readonly standing: JoinedIndication['standing']
  readonly says: string
  /** place in `seen` of the strongest sighting: what a picture of the place marks */
  readonly strongest: number
  readonly seen: readonly SightingDetail[]
  readonly unseen: readonly Unseen[]
}

/** An entry by which a person said something. */
export interface Decided {
  readonly entry: string
  readonly by: string
  readonly at: Moment
  readonly reason?: string
}

export interface ExaminationRow {
  readonly examination: string
  readonly recording: string
  readonly file: string
  readonly standardization: string | 'none'
  readonly method: number
  readonly standing: ExaminationState['standing']
  readonly zones: ExaminationState['zones']
  /** how many indications it has; an empty list of zones is no examination */
  readonly indications: number
  /** codes of its refusals; the document has the whole ones */
  readonly refusals: readonly string[]
  readonly after?: After
  readonly setUp?: NonNullable<ExaminationState['setUp']>
  readonly standardDiameter_mm?: number
}

export interface PlaceDetail extends PlaceRow {
  readonly job: string
  readonly application: EntryOf<'job-opened'>['application']
  /** of every amplitude here: 1 = the named notch, or as recorded */
  readonly amplitudeUnit: 'notch' | 'recorded'
  /** what the job sheet says of the place */
  readonly listed: Omit<PlaceState['place'], 'of' | 'name'>
  readonly indications: readonly IndicationDetail[]
  /** latest examination of each scan since the last cut, in the order of the scans */
  readonly examinations: readonly ExaminationRow[]
  /** scans of the wall as it was before the last cut: they count for nothing now */
  readonly beforeCut: readonly ExaminationRow[]
  readonly missing: PlaceState['missing']
  readonly disposition?: Decided & { readonly disposition: Disposition }
  readonly looks: readonly (Decided & { readonly of: string; readonly agrees: boolean })[]
  readonly notes: readonly (Decided & { readonly text: string })[]
  readonly leftOut?: Decided
  readonly closed?: Decided
  readonly reaming?: ReamLoop
}

/** One place of a job; undefined where the archive has no such job or place. Practice that was marked is no place of the part. */
export async function placeIn(
  archive: Archive,
  job: string,
  { of, name }: Pick<PlaceRow, 'of' | 'name'>
): Promise<Result<PlaceDetail | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  return rows.length === 0 ? undefined : placeOf(replayed(rows), { of, name })
}

/** The same of a record that is at hand. */
export function placeOf(state: JobState, { of, name }: Pick<PlaceRow, 'of' | 'name'>): PlaceDetail | undefined {
  const found = state.places.find(({ place }) => place.of === of && place.name === name)
  return found === undefined || found.practice !== undefined ? undefined : detailOf(state, found)
}

function detailOf({ opened }: JobState, found: PlaceState): PlaceDetail {
  const { place, examinations, loop } = found
  const { of: _, name: __, ...listed } = place
  return {
    ...placeRow(found),
    ...{ job: opened.job.id, application: opened.application, listed },
    amplitudeUnit: opened.application === 'loop' ? 'recorded' : 'notch',
    indications: found.joined.map((one) => indicationDetail(one, examinations)),
    examinations: examinations.map(rowOf),
    beforeCut: found.beforeCut.map(rowOf),
    missing: found.missing,
    ...saidOf(found),
    ...(loop === undefined ? {} : { reaming: loop })
  }
}

function saidOf({ disposition, looks, notes, leftOut, closed }: PlaceState) {
  return {
    ...(disposition === undefined
      ? {}
      : { disposition: { ...decidedBy(disposition), disposition: disposition.disposition } }),
    looks: looks.map((look) => ({ ...decidedBy(look), of: look.of, agrees: look.agrees })),
    notes: notes.map((one) => ({ ...decidedBy(one), text: one.text })),
    ...(leftOut === undefined ? {} : { leftOut: decidedBy(leftOut) }),
    ...(closed === undefined ? {} : { closed: decidedBy(closed) })
  }
}

type Saying = Pick<EntryOf<'noted'>, 'id' | 'at' | 'by'> & { readonly reason?: string | undefined }

const decidedBy = ({ id, at, by, reason }: Saying): Decided => ({
  ...{ entry: id, by: by.name, at },
  ...(reason === undefined ? {} : { reason })
})

function rowOf({ seq: _, keptAt: __, indications, setUp, ...one }: ExaminationState): ExaminationRow {
  return { ...one, indications: indications.length, ...(setUp === undefined ? {} : { setUp }) }
}

function indicationDetail(one: JoinedIndication, examinations: readonly ExaminationState[]): IndicationDetail {
  const { decided, seen } = one
  const largest = Math.max(...seen.map(({ amplitude }) => amplitude))
  return {
    ...{ id: one.id, class: classOf(one), proposed: one.class },
    ...(decided === undefined
      ? {}
      : { decided: { ...decidedBy(decided), class: decided.class, beforeProposal: decided.before_proposal === true } }),
    ...{ crossedAlarm: one.crossedAlarm, open: waits(one), standing: one.standing, says: one.says },
    strongest: seen.findIndex(({ amplitude }) => amplitude === largest),
    seen: seen.map((sighting) => sightingDetail(sighting, examinations)),
    unseen: one.unseen
  }
}

function sightingDetail(sighting: Sighting, examinations: readonly ExaminationState[]): SightingDetail {
  const scan = examinations.find(({ recording }) => recording === sighting.recording)
  const outcome = scan?.indications.find(({ id }) => id === sighting.id)
  if (scan === undefined || outcome === undefined) throw new Error(`${sighting.id}: seen by no scan of its place`)
  const { class: _, crossedAlarm: __, amplitude: ___, id: ____, zone: _____, ...placed } = outcome
  return { ...sighting, ...placed, examination: scan.examination, reversed: scan.setUp === 'other sense' }
}
