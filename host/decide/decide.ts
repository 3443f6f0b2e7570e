import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { HOLE_METHOD, LOOP_METHOD, WELD_METHOD } from '@trueloop/job/examine'
import type { PracticeAnswers } from '@trueloop/job/prove'
import type {
  Disposition,
  EntryOf,
  EntryRow,
  JoinedIndication,
  PlaceState,
  ReamChoice,
  SeenAs
} from '@trueloop/job/record'
import { seenAsOf, waits } from '@trueloop/job/record'
import { now } from '../clock/index.ts'
import { refuse } from './codes.ts'
import { procedureComplaint } from './procedure.ts'
import { reamChoice } from './ream.ts'
import { appendSigned, type Seen, type SignedDraft, type Signing, seen } from './signer.ts'

/** What people decide, from names that a person uses to entries of the record. */

export interface Deciding {
  /** name of the hole, track or place */
  readonly place: string
  readonly classes?: readonly { readonly indication: string; readonly class: EntryOf<'interpreted'>['class'] }[]
  readonly disposition?: Disposition
  readonly reason?: string
  /** for a clean-up ream: the size that the person has chosen */
  readonly size_mm?: number
  /** indications of which the person was not shown what the program proposes */
  readonly before_proposal?: readonly string[]
}

/** What was appended, and how the place stands after it. */
export interface Decided {
  /** kinds of the entries */
  readonly added: readonly string[]
  readonly places: readonly PlaceState[]
  /** arithmetic that was recorded with it, line by line */
  readonly lines?: readonly string[]
  /** the entries themselves, with that of the person's document where the job did not hold it yet */
  readonly rows?: readonly EntryRow[]
}

/**
 * Classes of indications, then the disposition of their place. All of it is written, or nothing. A clean-up ream of a hole
 * goes with its arithmetic; refuses what `reamChoice` refuses.
 */
export const decide = (deciding: Deciding, signing: Signing): Promise<Result<Decided>> =>
  write(signing, async (seen) => {
    const place = placeIn(seen, deciding.place)
    if (isRefusal(place)) return place
    const classed = classesOf(place, deciding)
    if (isRefusal(classed)) return classed
    const no = await inForce(signing, seen, deciding)
    if (isRefusal(no)) return no
    const ream = await reamOf(signing, { state: seen.state, place, deciding })
    if (isRefusal(ream)) return ream
    return [...classed, ...dispositionOf(place, deciding, ream)]
  })

/** What goes to other hands needs no procedure in force. */
const inForce = async ({ archive, clock = now }: Signing, { state }: Seen, { disposition }: Deciding) =>
  disposition === 'refer' || disposition === 'reject'
    ? undefined
    : procedureComplaint(archive, state, clock().time.slice(0, 10))

interface Reaming {
  readonly state: Seen['state']
  readonly place: PlaceState
  readonly deciding: Deciding
}

async function reamOf(
  { archive }: Signing,
  { state, place, deciding }: Reaming
): Promise<Result<ReamChoice | undefined>> {
  if (deciding.disposition !== 'clean-up ream' || place.place.of !== 'hole') return undefined
  const clears = waitingWith(place, deciding)
  return reamChoice(archive, { state, place, clears, ...given({ size_mm: deciding.size_mm }) })
}

/** Another person's look at what was decided of a place: at the disposition, and at every class by a person. */
export const lookAgain = (
  { place: name, agrees, reason }: { readonly place: string; readonly agrees: boolean; readonly reason?: string },
  signing: Signing
): Promise<Result<Decided>> =>
  write(signing, (state) => {
    const place = placeIn(state, name)
    if (isRefusal(place)) return place
    const made = [...place.joined.map(({ decided }) => decided), place.disposition].flatMap((one) => one ?? [])
    if (made.length === 0) return nothingDecided(name)
    return made.map(({ id }) => ({
      kind: 'second-look',
      subject: subjectOf(place),
      of: id,
      agrees,
      ...given({ reason })
    }))
  })

/** Closes places by name. */
export const closePlaces = (names: readonly string[], signing: Signing): Promise<Result<Decided>> =>
  write(signing, (state) => forEach(names, state, (place) => ({ kind: 'place-closed', subject: subjectOf(place) })))

/** Leaves places unexamined, with the reason. They stay "not examined". */
export const leaveOut = (names: readonly string[], reason: string, signing: Signing): Promise<Result<Decided>> =>
  write(signing, (state) => forEach(names, state, (place) => ({ kind: 'left-out', subject: subjectOf(place), reason })))

/** A hole was cut to a diameter. */
export const cutHole = (
  { place: name, aimed_mm, tool }: { readonly place: string; readonly aimed_mm: number; readonly tool?: string },
  signing: Signing
): Promise<Result<Decided>> =>
  write(signing, (state) =>
    forEach([name], state, (place) => ({ kind: 'reamed', subject: subjectOf(place), aimed_mm, ...given({ tool }) }))
  )

/** What is to be read beside a place. */
export const note = (
  { place: name, text }: { readonly place: string; readonly text: string },
  signing: Signing
): Promise<Result<Decided>> =>
  write(signing, (state) => forEach([name], state, (place) => ({ kind: 'noted', subject: subjectOf(place), text })))

/** Takes back what the person has stated by an entry. */
export const withdraw = (
  { entry, reason }: { readonly entry: string; readonly reason: string },
  signing: Signing
): Promise<Result<Decided>> =>
  write(signing, () => [{ kind: 'corrected', corrects: entry, reason, becomes: 'withdrawn' }])

/** What is stated of the job as a whole. */
export type OfJob = Extract<
  SignedDraft,
  { kind: 'job-closed' | 'job-reopened' | 'delivered' | 'handed-over' | 'clock-corrected' }
>

export const state = (draft: OfJob, signing: Signing): Promise<Result<Decided>> => write(signing, () => [draft])

/** The person to whom it was handed takes the work: the last handover that waits for them. */
export const takeOver = (signing: Signing): Promise<Result<Decided>> =>
  write(signing, ({ state: { handovers } }) => {
    const { name } = signing.signer.row
    const waiting = handovers.findLast(({ handed, taken }) => taken === undefined && handed.to === name)
    return waiting === undefined ? noHandover(name) : [{ kind: 'taken-over', of: waiting.handed.id }]
  })

/** Marks practice that was mixed into a job by the answers whose hash its record has. */
export const markPractice = (answers: PracticeAnswers, signing: Signing): Promise<Result<Decided>> =>
  write(signing, async () => {
    const stored = await signing.archive.storeDocument('practice answers', answers)
    return isRefusal(stored) ? stored : [{ kind: 'practice-marked', answers: stored, places: [...answers.places] }]
  })

const methods = { 'fastener hole': HOLE_METHOD, weld: WELD_METHOD, loop: LOOP_METHOD } as const

/** Attaches what was demonstrated for the technique in force and the method of this program. */
export const attachCapability = (
  shown: { readonly words: string; readonly source: string },
  signing: Signing
): Promise<Result<Decided>> =>
  write(signing, ({ state: { technique, opened } }) =>
    technique === undefined
      ? nothingDecided('the technique')
      : [{ kind: 'capability-attached', ...shown, conditions: { technique, method: methods[opened.application] } }]
  )

/** Approves the technique in force with the method of examination of this program, and the documents of how cracks answer that the job holds. */
export const approveTechnique = (on: string, signing: Signing): Promise<Result<Decided>> =>
  write(signing, ({ state: { technique, documents, opened } }) => {
    if (technique === undefined) return nothingDecided('the technique')
    const method = methods[opened.application]
    const { name, level } = signing.signer.row
    const others = documents.filter(({ what }) => what === 'response ratio' || what === 'response study')
    const hashes = [...new Set(others.map(({ document }) => document))]
    const approved = hashes.length === 0 ? {} : { documents: hashes }
    return [{ kind: 'technique-confirmed', technique, name, level, on, method, ...approved }]
  })

export async function write(
  signing: Signing,
  drafts: (seen: Seen) => Result<readonly SignedDraft[]> | Promise<Result<readonly SignedDraft[]>>
): Promise<Result<Decided>> {
  const before = await seen(signing.archive, signing.job)
  if (isRefusal(before)) return before
  if (before === undefined) return noJob(signing.job)
  const made = await drafts(before)
  if (isRefusal(made)) return made
  const rows = await appendSigned(before, made, signing)
  if (isRefusal(rows)) return rows
  const after = await seen(signing.archive, signing.job)
  if (isRefusal(after)) return after
  const added = new Set(made.map(({ kind }) => kind))
  const lines = made.flatMap((draft) => (draft.kind === 'disposed' ? linesOf(draft.ream) : []))
  return { added: [...added], places: after?.state.places ?? [], ...(lines.length === 0 ? {} : { lines }), rows }
}

const linesOf = (ream: EntryOf<'disposed'>['ream']): readonly string[] =>
  (ream as Partial<ReamChoice> | undefined)?.lines ?? []

export function placeIn({ state: { places } }: Seen, name: string): Result<PlaceState> {
  const found = places.find(({ place }) => place.name === name)
  return (
    found ??
    refuse('decide/no-such-place', {
      found: `"${name}"`,
      needed: `one of ${places
        .slice(0, 12)
        .map(({ place }) => place.name)
        .join(', ')}`,
      remedy: 'correct the name'
    })
  )
}

function forEach(
  names: readonly string[],
  state: Seen,
  draft: (place: PlaceState) => SignedDraft
): Result<readonly SignedDraft[]> {
  const drafts: SignedDraft[] = []
  for (const name of names) {
    const place = placeIn(state, name)
    if (isRefusal(place)) return place
    drafts.push(draft(place))
  }
  return drafts
}

export const subjectOf = ({ place: { of, name } }: PlaceState) => ({ of, name }) as EntryOf<'disposed'>['subject']

const given = <T extends object>(some: T) =>
  Object.fromEntries(Object.entries(some).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]: NonNullable<T[K]>
  }

function classesOf(
  place: PlaceState,
  { classes = [], reason, before_proposal = [] }: Deciding
): Result<readonly SignedDraft[]> {
  const drafts: SignedDraft[] = []
  for (const { indication, class: said } of classes) {
    const one = place.joined.find(({ id }) => id === indication)
    if (one === undefined) return noIndication(place, indication)
    drafts.push({
      kind: 'interpreted',
      subject: subjectOf(place),
      seen: seenIn(place, one),
      class: said,
      ...(before_proposal.includes(indication) ? { before_proposal: true as const } : {}),
      ...given({ reason })
    })
  }
  return drafts
}

const seenIn = ({ examinations }: PlaceState, one: JoinedIndication): SeenAs[] => [...seenAsOf(one, examinations)]

/** About everything that waits; classes that are said with it count already. */
function dispositionOf(
  place: PlaceState,
  { disposition, reason, ...deciding }: Deciding,
  ream: ReamChoice | undefined
): readonly SignedDraft[] {
  if (disposition === undefined) return []
  const all = waitingWith(place, deciding).flatMap((one) => seenIn(place, one))
  const told = ream === undefined ? {} : { ream: { ...ream } as EntryOf<'disposed'>['ream'] }
  return [{ kind: 'disposed', subject: subjectOf(place), disposition, seen: all, ...given({ reason }), ...given(told) }]
}

function waitingWith({ joined }: PlaceState, { classes = [] }: Pick<Deciding, 'classes'>): readonly JoinedIndication[] {
  const said = new Map(classes.map((one) => [one.indication, one.class]))
  return joined.filter((one) => waitsWith(one, said.get(one.id)))
}

const waitsWith = (one: JoinedIndication, said: EntryOf<'interpreted'>['class'] | undefined): boolean =>
  said === undefined ? waits(one) : said === 'relevant' || said === 'damage, not a crack'

const noIndication = ({ place, joined }: PlaceState, found: string) =>
  refuse('decide/no-such-indication', {
    found: `"${found}" in ${place.of} ${place.name}`,
    needed:
      joined.length === 0 ? 'an indication; this place has none' : `one of ${joined.map(({ id }) => id).join(', ')}`,
    remedy: 'look at the record again: record JOB --findings'
  })

const nothingDecided = (name: string) =>
  refuse('decide/nothing-decided', {
    found: `${name}, of which nothing is decided`,
    needed: 'a decision of another person to look at',
    remedy: 'decide first; then let another person look'
  })

const noHandover = (name: string) =>
  refuse('decide/no-handover', {
    found: `no handover that waits for ${name}`,
    needed: 'work that was handed over to this person',
    remedy: 'let the one who goes hand it over: hand JOB --to NAME'
  })

export const noJob = (job: string) =>
  refuse('decide/no-such-job', {
    found: `"${job}"`,
    needed: 'a job of this archive',
    remedy: 'correct the number; record lists the jobs'
  })
