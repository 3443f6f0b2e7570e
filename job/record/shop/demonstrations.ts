import type { Refusal } from '@trueloop/ground/refusal'
import type { EntryRow } from '../row.ts'
import { type Code, refuse } from './codes.ts'
import type { ShopEntry, ShopEntryOf } from './kinds.ts'
import type { Looking } from './signer.ts'

/** Demonstrations by counting: planned before they begin, judged once. What the counts show is not said here. */

type Planned = ShopEntryOf<'demonstration-planned'>
type Judged = ShopEntryOf<'demonstration-judged'>
export type DemonstrationEntry = Planned | Judged

export const demonstrationsIn = (rows: readonly EntryRow[]): readonly DemonstrationEntry[] =>
  rows
    .filter(({ kind }) => kind === 'demonstration-planned' || kind === 'demonstration-judged')
    .map(({ body }) => JSON.parse(body) as DemonstrationEntry)

export const isDemonstration = (entry: ShopEntry): entry is DemonstrationEntry =>
  entry.kind === 'demonstration-planned' || entry.kind === 'demonstration-judged'

interface Before extends Looking {
  readonly demonstrations: readonly DemonstrationEntry[]
}

/** Refuses `shop/bad-document`, `shop/planned-twice`, `shop/not-planned`, `shop/judged-twice`. */
export const demonstrationComplaint = (entry: DemonstrationEntry, before: Before): Refusal<Code> | undefined =>
  entry.kind === 'demonstration-planned' ? planComplaint(entry, before) : verdictComplaint(entry, before)

function planComplaint({ name, document }: Planned, { demonstrations, witness }: Before): Refusal<Code> | undefined {
  const told = toldBy(witness.document(document))
  if (told?.kind !== 'demonstration-plan' || told.name !== name) return badDocument(document, 'no plan of that name')
  const twice = demonstrations.some(
    (one) => one.kind === 'demonstration-planned' && (one.name === name || one.document === document)
  )
  if (!twice) return undefined
  return refuse('shop/planned-twice', {
    found: `a second plan "${name}"`,
    needed: 'a name of its own for each plan: a plan is stored once, and stands',
    remedy: 'name the new trial otherwise, and state what was changed since'
  })
}

function verdictComplaint(
  { name, plan, verdict, document }: Judged,
  { demonstrations, witness }: Before
): Refusal<Code> | undefined {
  const told = toldBy(witness.document(document))
  if (told?.kind !== 'demonstration-outcome' || told.plan !== plan || told.verdict !== verdict)
    return badDocument(document, 'no outcome with that plan and verdict')
  const planned = demonstrations.find((one) => one.kind === 'demonstration-planned' && one.document === plan)
  if (planned?.name !== name) return notPlanned(name)
  const isJudged = demonstrations.some((one) => one.kind === 'demonstration-judged' && one.plan === plan)
  if (!isJudged) return undefined
  return refuse('shop/judged-twice', {
    found: `a second verdict on "${name}"`,
    needed: 'one verdict a plan',
    remedy: 'let the verdict stand; more flaws take a plan of their own'
  })
}

function toldBy(text: string | undefined): Partial<Record<string, unknown>> | undefined {
  try {
    return text === undefined ? undefined : JSON.parse(text)
  } catch {
    return undefined
  }
}

const badDocument = (document: string, found: string): Refusal<Code> =>
  refuse('shop/bad-document', {
    found: `under ${document}: ${found}`,
    needed: 'the stored document that the entry speaks of',
    remedy: 'store it, and say what it says'
  })

const notPlanned = (name: string): Refusal<Code> =>
  refuse('shop/not-planned', {
    found: `a verdict on "${name}", of which no plan is stored`,
    needed: 'a plan that was stored before its trial',
    remedy: 'plan a trial with flaws that nobody has met yet'
  })
