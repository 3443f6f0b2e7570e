import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { checkConfirmed, responsesOf, type Sheet } from '@trueloop/job/plan'
import { acceptedIn, canonical, type Entry, type EntryOf } from '@trueloop/job/record'
import { signersDocument } from '../decide/index.ts'
import { refuse } from './codes.ts'
import { type ChainInput, JobContext } from './context.ts'
import { drawing } from './drawings.ts'
import { examineMethod } from './examine.ts'
import { nameOf } from './hash.ts'
import { preparing } from './preparing.ts'
import { probeChecks } from './probe-checks.ts'
import { notHeld } from './registered.ts'

export interface Opened {
  readonly job: string
  /** entries that this call has added */
  readonly added: readonly string[]
  readonly technique: string
  readonly standard: string | 'none'
  readonly confirmed: boolean
  /** the refusal that examining would meet now */
  readonly open?: Refusal
}

/**
 * Opens the job of a sheet, or brings its record up to the sheet: job facts, documents, preparations, confirmation. Doing it again
 * adds nothing. Facts that differ from those recorded are refused (chain/job-differs) unless a reason is given; then
 * the correction is a new entry that points at the old one.
 */
export async function openJob(input: ChainInput, correction?: string): Promise<Result<Opened>> {
  const context = await JobContext.open(input)
  if (isRefusal(context)) return context
  const opening = await openingIn(context, correction)
  if (isRefusal(opening)) return opening
  const { documents } = opening
  const signer =
    input.signer === undefined ? [] : await signersDocument(context.rows, { ...input, signer: input.signer })
  if (isRefusal(signer)) return signer
  const entries = opening.entries.some(({ kind }) => kind === 'corrected')
    ? [...signer, ...opening.entries]
    : opening.entries
  const done = await context.append(entries)
  if (isRefusal(done)) return done
  const open = notApproved(context) ?? notHeld(context)
  return {
    job: context.input.sheet.job.id,
    added: entries.map(({ kind }) => kind),
    technique: documents.technique,
    standard: documents.standard,
    confirmed: context.state?.confirmed !== undefined,
    ...(open === undefined ? {} : { open: input.place === undefined ? open : input.place(open) })
  }
}

/** What has to be recorded to open the job; nothing is yet. The documents lie in the archive, named by nothing. */
export interface Opening {
  readonly entries: readonly Entry[]
  readonly documents: Documents
}

export async function openingIn(context: JobContext, correction?: string): Promise<Result<Opening>> {
  const facts = opening(context, correction)
  if (isRefusal(facts)) return facts
  const documents = await storeDocuments(context)
  if (isRefusal(documents)) return documents
  const prepared = await preparing(context, correction)
  if (isRefusal(prepared)) return prepared
  const drawn = await drawing(context)
  if (isRefusal(drawn)) return drawn
  const confirmed = confirmation(context, documents.technique)
  return {
    entries: [...facts, ...documents.entries, ...prepared, ...probeChecks(context), ...drawn, ...confirmed],
    documents
  }
}

/** An unconfirmed technique can't be examined with: plan/not-confirmed. */
export const unconfirmed = ({ sheet, place }: Pick<ChainInput, 'sheet' | 'place'>): Refusal | undefined => {
  const no = checkConfirmed(sheet)
  return no === undefined ? undefined : (place ?? ((one) => one))(no)
}

/**
 * The same for a record at hand. With registers only the signed approval of the technique in force counts, and of the
 * documents that go with it; `chain/not-approved`, `chain/another-method`.
 */
export function notApproved(context: JobContext): Refusal | undefined {
  const { input, state } = context
  if (!context.isSigned) return unconfirmed(input) ?? otherMethod(context)
  const technique = nameOf(input.sheet.technique)
  const { ratios, studies } = responsesOf(input.sheet)
  const approved = state?.confirmed?.technique === technique && state.confirmed.signed !== false
  const covered = [...ratios, ...studies].every((one) => state?.confirmed?.documents?.includes(nameOf(one)) === true)
  if (approved && covered) return otherMethod(context)
  return refuse('chain/not-approved', {
    found: approved
      ? 'documents of how cracks answer that nobody has signed for'
      : 'a technique that nobody has signed for',
    needed: `the signed approval of ${input.sheet.technique.approver ?? 'a Level III'}`,
    remedy: 'open the job: plan JOB-SHEET; then approve JOB --as NAME'
  })
}

/**
 * A method that was not accepted for the technique may find otherwise. One that a Level III has accepted in this shop after
 * a validation will do; where the technique names who answers for it, only theirs.
 */
function otherMethod({ input: { sheet }, state, shop }: JobContext): Refusal | undefined {
  const { technique } = sheet
  const now = examineMethod(sheet)
  const accepted = state?.confirmed?.technique === nameOf(technique) ? state.confirmed.method : undefined
  const asked = accepted ?? technique.approved_method
  if (asked === undefined || asked === now) return undefined
  const isTheirs = (by: string) => technique.approver === undefined || technique.approver === by
  const all = acceptedIn(shop?.rows ?? [])
  const { application } = technique
  if (all.some((one) => one.application === application && one.method === now && isTheirs(one.by))) return undefined
  return refuse('chain/another-method', {
    found: `method ${now} of examination in this program`,
    needed: `method ${asked}, which was accepted for this technique`,
    remedy:
      'validate this program, and let the Level III accept its method: validate --as NAME, then validate --accept APPLICATION; or approve the technique again with it; or use the program that has the other method'
  })
}

type Place = EntryOf<'job-opened'>['places'][number]

function placesOf(sheet: Sheet): Place[] {
  if ('holes' in sheet)
    return sheet.holes.map(({ id, layers, preparation: _entry, ...hole }) => ({
      of: 'hole',
      name: id,
      ...hole,
      ...(layers && { layers }),
      ...(sheet.technique.zones === undefined ? {} : { zones: sheet.technique.zones })
    }))
  if ('tracks' in sheet) return sheet.tracks.map(({ id, ...track }) => ({ of: 'track', name: id, ...track }))
  const names = sheet.recordings.map((recording) => recording.place)
  return [...new Set(names)].map((name) => ({ of: 'loop', name }))
}

export const factsOf = ({ job, technique, people, examined_by, equipment, ...rest }: Sheet) => ({
  job,
  application: technique.application,
  people,
  examinedBy: examined_by,
  equipment,
  ...(technique.second_look === undefined ? {} : { secondLook: technique.second_look }),
  ...(technique.class_first === true ? { classFirst: true as const } : {}),
  ...rechecksOf(technique),
  ...('practice' in rest && rest.practice !== undefined ? { practice: rest.practice } : {}),
  places: placesOf({ job, technique, people, examined_by, equipment, ...rest } as Sheet)
})

/** What brackets of scans are counted by; how far a notch may drift goes with every recheck. */
function rechecksOf(technique: Sheet['technique']): Pick<EntryOf<'job-opened'>, 'rechecks'> {
  const { interval_min, after } = ('rechecks' in technique ? technique.rechecks : undefined) ?? {}
  if (interval_min === undefined && after === undefined) return {}
  return { rechecks: { ...(interval_min === undefined ? {} : { interval_min }), ...(after && { after }) } }
}

function opening(context: JobContext, reason: string | undefined): Result<readonly Entry[]> {
  const { sheet } = context.input
  const before = context.state?.opened
  const facts = { ...factsOf(sheet), ...signingOf(context) }
  const about = { kind: 'job-opened', job: sheet.job.id }
  if (before === undefined) return [context.entry({ kind: 'job-opened', ...facts }, about, 'person')]
  const { id, at, by, kind: _, version: __, ...recorded } = before
  if (canonical(recorded) === canonical(facts)) return []
  if (reason === undefined) return differs(context, recorded, facts)
  const becomes = JSON.parse(canonical({ kind: 'job-opened', version: 1, id, at, by, ...facts }))
  const again = { ...about, becomes, after: context.rows.length }
  return [context.entry({ kind: 'corrected', corrects: id, reason, becomes }, again, 'person')]
}

const signingOf = ({ isSigned }: JobContext): Pick<EntryOf<'job-opened'>, 'signing'> =>
  isSigned ? { signing: 'required' } : {}

function differs({ input }: JobContext, recorded: object, facts: object): Refusal {
  const was = new Map<string, unknown>(Object.entries(recorded))
  const is = new Map<string, unknown>(Object.entries(facts))
  const keys = [...new Set([...was.keys(), ...is.keys()])]
  const other = keys.filter((key) => canonical(was.get(key) ?? null) !== canonical(is.get(key) ?? null))
  const refusal = refuse('chain/job-differs', {
    found: `a job "${input.sheet.job.id}" that is open already with other values of ${other.join(', ')}`,
    needed: 'the facts with which the job was opened',
    remedy: 'take another number for another job, or correct the record: plan --correct "reason"',
    where: { path: other.includes('job') ? 'job' : other.includes('places') ? 'holes' : 'job.id' }
  })
  return (input.place ?? ((one) => one))(refusal)
}

/** A job has one technique in force, and as many of these as its sheet names. */
const isOneOfMany = (what: string): boolean => what === 'response ratio' || what === 'response study'

interface Documents {
  readonly entries: readonly Entry[]
  readonly technique: string
  readonly standard: string | 'none'
}

async function storeDocuments(context: JobContext): Promise<Result<Documents>> {
  const { sheet } = context.input
  const entries: Entry[] = []
  const keep = async (
    what: EntryOf<'document-stored'>['what'],
    value: unknown,
    name: string
  ): Promise<Result<string>> => {
    const hash = await context.input.archive.storeDocument(what, value)
    if (isRefusal(hash)) return hash
    const last = context.state?.documents.findLast(
      (one) => one.what === what && (!isOneOfMany(what) || one.name === name)
    )
    const about = { kind: 'document-stored', what, document: hash, after: last === undefined ? 0 : context.rows.length }
    if (last?.document !== hash)
      entries.push(context.entry({ kind: 'document-stored', document: hash, what, name }, about, 'person'))
    return hash
  }
  const technique = await keep('technique', sheet.technique, sheet.technique.procedure.id)
  if (isRefusal(technique)) return technique
  const standard = 'reference_standard' in sheet ? sheet.reference_standard : undefined
  const kept = standard === undefined ? 'none' : await keep('reference standard', standard, standard.id)
  if (isRefusal(kept)) return kept
  const { ratios, studies } = responsesOf(sheet)
  for (const [what, all] of [
    ['response ratio', ratios],
    ['response study', studies]
  ] as const) {
    for (const one of all) {
      const stored = await keep(what, one, one.name)
      if (isRefusal(stored)) return stored
    }
  }
  const whole = await keep('job sheet', sheet, sheet.job.id)
  return isRefusal(whole) ? whole : { entries, technique, standard: kept }
}

function confirmation(context: JobContext, technique: string): readonly Entry[] {
  const { confirmed } = context.input.sheet
  if (confirmed === undefined || context.isSigned) return []
  const { by: name, level, on } = confirmed
  const before = context.state?.confirmed
  const same = before !== undefined && before.technique === technique
  if (same && before.name === name && before.level === level && before.on === on) return []
  const about = {
    kind: 'technique-confirmed',
    technique,
    name,
    level,
    on,
    after: before === undefined ? 0 : context.rows.length
  }
  return [context.entry({ kind: 'technique-confirmed', technique, name, level, on, signed: false }, about, 'person')]
}
