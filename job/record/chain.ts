import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '../plan/index.ts'
import { canonical } from './canonical.ts'
import { clockComplaint } from './clock.ts'
import { closingKinds } from './closing.ts'
import { type Code, refuse } from './codes.ts'
import { closedComplaint, decisionComplaint } from './deciding.ts'
import { parseEntry } from './entry.ts'
import { type Adding, type Appended, grow } from './growing.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { branchFrom, broughtBy, mergeFault } from './merging/merge.ts'
import { answersComplaint } from './practice.ts'
import { replay } from './replay.ts'
import { approverComplaint, holdsPerson, notSigned, signatureComplaint } from './rights.ts'
import { beginning, type EntryRow, type Hash } from './row.ts'
import { signatureOf, type Witness } from './signing.ts'
import type { JobState } from './state.ts'
import { type Withdrawing, withdrawable, withdrawalComplaint } from './withdrawing.ts'

export { beginning, chainHash, type EntryRow, type Hash } from './row.ts'

/** What the rule has to know of a job's record so far. An archive answers from its tables, `chainOf` from rows. */
export interface Chain {
  readonly job: string
  readonly count: number
  readonly last: EntryRow | undefined
  readonly byId: (id: string) => EntryRow | undefined
  /** the last entry that closed the job or opened it again */
  readonly closing: EntryRow | undefined
  /** all rows, for what only the whole record can answer: asked for entries of which `asksForAll` says so */
  readonly rows: () => readonly EntryRow[]
  /** looks at signatures; without one nothing signed is written */
  readonly witness?: Witness
  /** `replay`, by one who has replayed most of it before */
  readonly replay?: (rows: readonly EntryRow[]) => JobState
}

export const chainOf = (job: string, rows: readonly EntryRow[], witness?: Witness): Chain => {
  const ids = new Map(rows.map((row) => [row.id, row]))
  const closing = rows.findLast(({ kind }) => closingKinds.includes(kind))
  const rest = { byId: (id: string) => ids.get(id), rows: () => rows, ...(witness === undefined ? {} : { witness }) }
  return { job, count: rows.length, last: rows.at(-1), closing, ...rest }
}

export { closingKinds } from './closing.ts'

/** Whether the rule needs the whole record for an entry: what a person states or decides. */
export const asksForAll = (entry: Entry): boolean => 'signed' in entry || entry.kind === 'corrected'

export interface Append extends Adding<Entry> {
  /**
   * they were written one after the other in another archive: a signature may then be over any state that the record had
   * before its entry, as verify has it, and not only over the last one before this append
   */
  readonly elsewhere?: boolean
}

/**
 * The rule by which a record grows. Entries that are there already (same id, same body) are given back, not doubled;
 * the others follow the last one. Writes nothing.
 * Refuses `record/reserved-name`, `record/sequence-taken`, `record/id-taken`, `record/not-opened`,
 * `record/opened-twice`, `record/wrong-job`, what `withdrawalComplaint` refuses, `record/nothing-to-correct`, `record/clock-set-back`, `record/job-closed`, `record/not-signed`, what `signatureComplaint` and
 * `decisionComplaint` refuse, and what `parseEntry` refuses.
 */
export function append(chain: Chain, adding: Append, hash: Hash): Result<Appended, Code> {
  if (chain.job === shopChain) return reserved()
  const brought = broughtBy(adding.entries)
  const rest = { chain, hash, elsewhere: adding.elsewhere === true }
  return grow({ grown: chain, hash }, adding, (entry, fresh) =>
    // what another device wrote follows that device's record: the merge itself answers for it
    brought.has(entry.id) ? parseEntry(entry) : admitted({ ...rest, grown: withFresh(chain, fresh), entry })
  )
}

const withFresh = (chain: Chain, fresh: readonly EntryRow[]): Chain => ({
  job: chain.job,
  count: chain.count + fresh.length,
  last: fresh.at(-1) ?? chain.last,
  closing: fresh.findLast(({ kind }) => closingKinds.includes(kind)) ?? chain.closing,
  byId: (id) => fresh.find((row) => row.id === id) ?? chain.byId(id),
  rows: () => [...chain.rows(), ...fresh],
  ...(chain.witness === undefined ? {} : { witness: chain.witness }),
  ...(chain.replay === undefined ? {} : { replay: chain.replay })
})

const stateOf = ({ replay: known = replay }: Chain, rows: readonly EntryRow[]): JobState => known(rows)

interface Following {
  /** with the entries of the same append before this one */
  readonly grown: Chain
  /** as it was before the append: the state that a person has signed over */
  readonly chain: Chain
  readonly entry: Entry
  readonly elsewhere: boolean
  readonly hash: Hash
}

function admitted(following: Following): Result<Entry, Code> {
  const { grown } = following
  const read = parseEntry(following.entry)
  if (isRefusal(read)) return read
  const stated = { ...following, entry: read }
  const no = complaint(grown, read) ?? (asksForAll(read) ? statedComplaint(stated) : undefined)
  return no ?? read
}

function complaint(chain: Chain, entry: Entry): Refusal<Code> | undefined {
  if (entry.kind === 'job-opened') return openingComplaint(chain, entry)
  if (chain.count === 0) return notOpened(entry)
  return (
    timeComplaint(chain, entry) ??
    closedComplaint(entry, chain.closing?.kind === 'job-closed') ??
    (entry.kind === 'corrected' ? correctionComplaint(entry, chain) : undefined)
  )
}

/** Only a person's word that the clock was wrong lets it go back; what follows is counted from there. */
function timeComplaint(chain: Chain, entry: Entry): Refusal<Code> | undefined {
  if (entry.kind === 'clock-corrected') return undefined
  const last = entry.kind === 'merged' ? lastOfOurs(chain, entry) : chain.last
  return last === undefined ? undefined : clockComplaint((JSON.parse(last.body) as Entry).at, entry.at)
}

/** The clock of another device says nothing about ours. */
const lastOfOurs = (chain: Chain, { brings }: EntryOf<'merged'>): EntryRow | undefined => {
  const brought = new Set(brings)
  return chain.rows().findLast(({ id }) => !brought.has(id))
}

/** What a person states: signed where the job asks for it, by one who may, and possible as the record stands. */
function statedComplaint(following: Following): Refusal<Code> | undefined {
  const { grown, chain, entry, elsewhere } = following
  const rows = grown.rows()
  const signing = { job: chain.job, witness: chain.witness, ...known(rows, elsewhere ? rows : [chain.last]) }
  return (
    notSigned(entry, openingOf(rows).signing) ??
    signatureComplaint(entry, signing) ??
    approverComplaint(entry, chain.witness) ??
    answersComplaint(entry, chain.witness) ??
    (entry.kind === 'merged' ? mergeComplaint({ ...following, entry }) : undefined) ??
    (decides.includes(entry.kind) ? decisionComplaint(entry, stateOf(grown, rows)) : undefined)
  )
}

/** A merge says what the two chains say, and the other chain would have grown by this rule. */
function mergeComplaint({ grown, chain, entry, hash }: Following & { readonly entry: EntryOf<'merged'> }) {
  const before = grown.rows()
  const branch = branchFrom(chain.witness?.document(entry.theirs.rows))
  if (branch === undefined) return falseMerge('a merge whose other chain is not at hand')
  const merging = { before, entry, branch }
  const fault = mergeFault(merging)
  if (fault !== undefined) return falseMerge(fault)
  const theirs = chainOf(chain.job, before.slice(0, entry.common), chain.witness)
  const entries = branch.map(({ body }) => JSON.parse(body) as Entry)
  const regrown = append(theirs, { expectedSeq: entry.common, entries, elsewhere: true }, hash)
  if (isRefusal(regrown)) return falseMerge(`another chain that could not have grown: ${regrown.found}`)
  const isSame = regrown.rows.every((row, at) => canonical(row) === canonical(branch[at]))
  return isSame ? undefined : falseMerge('another chain whose hashes are not those of its entries')
}

const falseMerge = (found: string) =>
  refuse('record/false-merge', {
    found,
    needed: 'two sound chains of this job with a common beginning, each gone on by itself, and a merge that says so',
    remedy: 'export the job on the other device once more, and merge that'
  })

const decides: readonly Entry['kind'][] = [
  ...(['interpreted', 'disposed', 'second-look', 'reamed', 'noted', 'place-closed', 'left-out'] as const),
  ...(['job-closed', 'job-reopened', 'taken-over', 'delivered', 'practice-marked', 'places-drawn'] as const)
]

const openingOf = (rows: readonly EntryRow[]) => JSON.parse((rows[0] as EntryRow).body) as EntryOf<'job-opened'>

/** `ends`: the rows of which each may have been the last that the person had before their eyes. */
const known = (rows: readonly EntryRow[], ends: readonly (EntryRow | undefined)[]) => ({
  isHead: (hash: string) => ends.some((end) => hash === (end?.hash ?? beginning)),
  isKnown: (document: string) => holdsPerson(rows, document)
})

const openingComplaint = ({ count, job }: Chain, entry: EntryOf<'job-opened'>) =>
  count > 0 ? openedTwice() : entry.job.id === job ? undefined : wrongJob(entry.job.id, job)

/** Kinds that a person states. What was measured or computed is done again instead; the old result stays. */
const correctable = ['job-opened', 'technique-confirmed', 'recording-kept', 'place-prepared']

function correctionComplaint(entry: EntryOf<'corrected'>, chain: Chain): Refusal<Code> | undefined {
  const old = chain.byId(entry.corrects)
  if (old === undefined) return nothingToCorrect(`no entry "${entry.corrects}" in this job`)
  if (entry.becomes === 'withdrawn' && isWithdrawable(old)) return withdrawal(entry, old, chain)
  if (!correctable.includes(old.kind)) return nothingToCorrect(`an entry of kind "${old.kind}"`)
  if (entry.becomes === 'withdrawn')
    return old.kind === 'job-opened' ? nothingToCorrect('the opening of the job, withdrawn') : undefined
  const before = JSON.parse(old.body) as Entry
  if (signatureOf(before) !== undefined) return nothingToCorrect('an entry that a person has signed, in other words')
  const { id, kind } = entry.becomes
  if (id !== old.id || kind !== old.kind) return nothingToCorrect(`a correction that becomes "${String(kind)}"`)
  const read = parseEntry(entry.becomes)
  if (isRefusal(read)) return read
  if (read.kind !== 'job-opened' || before.kind !== 'job-opened') return undefined
  if (read.signing !== before.signing) return nothingToCorrect('whether people sign in this job')
  return read.job.id === chain.job ? undefined : wrongJob(read.job.id, chain.job)
}

const isWithdrawable = ({ kind }: EntryRow): boolean => withdrawable.some((one) => one === kind)

function withdrawal(entry: EntryOf<'corrected'>, { seq, body }: EntryRow, chain: Chain) {
  const rows = chain.rows()
  const after = rows.filter((row) => row.seq > seq).map((row) => JSON.parse(row.body) as Entry)
  return withdrawalComplaint({ entry, old: JSON.parse(body) as Withdrawing['old'], state: stateOf(chain, rows), after })
}

const nothingToCorrect = (found: string) =>
  refuse('record/nothing-to-correct', {
    found,
    needed: `an earlier entry of kind ${correctable.join(', ')}, corrected by one of the same kind and id, or one of kind ${withdrawable.join(', ')}, withdrawn`,
    remedy:
      'name the entry that was wrong; what was measured or computed is done again; what was signed is withdrawn and signed anew'
  })

const notOpened = (entry: Entry) =>
  refuse('record/not-opened', {
    found: `an entry of kind "${entry.kind}" as the first of a job`,
    needed: 'an entry of kind "job-opened" first',
    remedy: 'open the job from its job sheet'
  })

const openedTwice = () =>
  refuse('record/opened-twice', {
    found: 'a second entry of kind "job-opened" in the same job',
    needed: 'one opening a job, the first entry',
    remedy: 'append a correction of the first entry, or open another job'
  })

const reserved = () =>
  refuse('record/reserved-name', {
    found: `a job of the number "${shopChain}"`,
    needed: 'a number that is not the name of the record of the shop itself',
    remedy: 'give the job another number'
  })

const wrongJob = (found: string, job: string) =>
  refuse('record/wrong-job', {
    found: `the opening of job "${found}"`,
    needed: `the opening of job "${job}", whose record this is`,
    remedy: 'append it to the record of its own job'
  })
