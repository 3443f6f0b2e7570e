import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  type DemonstrationOutcome,
  type DemonstrationPlan,
  type EarlierTrial,
  judgeDemonstration,
  type PlannedDemonstration,
  type ProveWith,
  planDemonstration,
  type TrialRow
} from '@trueloop/job/prove'
import { type DemonstrationEntry, demonstrationsIn } from '@trueloop/job/record'
import { sha256 } from '../hash/index.ts'
import { refuse } from './codes.ts'
import { readShop, type Shop } from './shop.ts'
import { appendStated, type Stating } from './write.ts'

/** A demonstration as the shop's record has it. */
export interface StoredDemonstration {
  readonly plan: DemonstrationPlan
  /** hash of the plan */
  readonly document: string
  readonly by: string
  readonly stored: string
  readonly outcome?: DemonstrationOutcome
}

/**
 * All demonstrations that were ever planned, in their order. Refuses shop/plan-missing: a trial that is forgotten could be
 * tried again.
 */
export function demonstrationsOf({ rows, document }: Shop): Result<readonly StoredDemonstration[]> {
  const entries = demonstrationsIn(rows)
  const missing = entries.find((entry) => document(entry.document) === undefined)
  if (missing !== undefined) return planMissing(missing)
  const parsed = (hash: string) => JSON.parse(document(hash) as string)
  const judged = new Map(
    entries.flatMap((entry) => (entry.kind === 'demonstration-judged' ? [[entry.plan, entry.document] as const] : []))
  )
  return entries.flatMap((entry): readonly StoredDemonstration[] => {
    if (entry.kind !== 'demonstration-planned') return []
    const { by, at, document: hash } = entry
    const outcome = judged.get(hash)
    const told = outcome === undefined ? {} : { outcome: parsed(outcome).outcome }
    return [{ plan: parsed(hash), document: hash, by: by.name, stored: at.time, ...told }]
  })
}

const earlierIn = (all: readonly StoredDemonstration[]): readonly EarlierTrial[] =>
  all.map(({ plan, outcome }) => ({ plan, verdict: outcome?.verdict ?? 'not ended' }))

/** What a plan would be able to show, beside every trial of before. Writes nothing. Refuses as `demonstrationsOf` and `planDemonstration`. */
export function lookAtPlan(asked: unknown, shop: Shop): Result<PlannedDemonstration> {
  const all = demonstrationsOf(shop)
  return isRefusal(all) ? all : planDemonstration(asked, earlierIn(all), sha256)
}

/** Stores a plan before its trial. Refuses as `planDemonstration`, and what the record of the shop refuses. */
export async function storePlan(asked: unknown, stating: Stating): Promise<Result<PlannedDemonstration>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  const planned = lookAtPlan(asked, shop)
  if (isRefusal(planned)) return planned
  const document = await stating.archive.storeDocument('demonstration-plan', planned.plan)
  if (isRefusal(document)) return document
  const draft = { kind: 'demonstration-planned', name: planned.plan.name, document } as const
  const rows = await appendStated(shop, [draft], stating)
  return isRefusal(rows) ? rows : planned
}

/** A stored plan by its name, with what it was to show. Refuses shop/no-such-plan. */
export function storedPlan(
  name: string,
  shop: Shop
): Result<StoredDemonstration & { readonly planned: PlannedDemonstration }> {
  const all = demonstrationsOf(shop)
  if (isRefusal(all)) return all
  const at = all.findIndex(({ plan }) => plan.name === name)
  const found = all[at]
  if (found === undefined)
    return notStored(
      name,
      all.map(({ plan }) => plan.name)
    )
  const planned = planDemonstration(found.plan, earlierIn(all.slice(0, at)), sha256)
  return isRefusal(planned) ? planned : { ...found, planned }
}

export interface Judging {
  readonly name: string
  readonly rows: readonly TrialRow[]
  readonly program: ProveWith['program']
}

export interface JudgedDemonstration {
  readonly planned: PlannedDemonstration
  readonly outcome: DemonstrationOutcome
}

/** Judges a trial by its stored plan, once, and stores verdict and looks. Refuses shop/no-such-plan, as `judgeDemonstration`, and what the record refuses. */
export async function judgeStored(
  { name, rows, program }: Judging,
  stating: Stating
): Promise<Result<JudgedDemonstration>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  const stored = storedPlan(name, shop)
  if (isRefusal(stored)) return stored
  const judged = stored.outcome === undefined ? [] : [stored.document]
  const trial = { plan: stored.document, stored: stored.stored, rows, judged }
  const outcome = judgeDemonstration(stored.plan, trial, { hash: sha256, program })
  if (isRefusal(outcome)) return outcome
  const { plan, verdict } = outcome
  const document = await stating.archive.storeDocument('demonstration-outcome', {
    ...{ kind: 'demonstration-outcome', plan, verdict, outcome, rows }
  })
  if (isRefusal(document)) return document
  const done = await appendStated(shop, [{ kind: 'demonstration-judged', name, plan, verdict, document }], stating)
  return isRefusal(done) ? done : { planned: stored.planned, outcome }
}

const planMissing = ({ name, document }: DemonstrationEntry) =>
  refuse('shop/plan-missing', {
    found: `no document ${document}, of the demonstration "${name}"`,
    needed: 'every plan and outcome that the record of the shop names',
    remedy: 'verify the registers, and restore the archive from a backup that has it'
  })

const notStored = (name: string, names: readonly string[]) =>
  refuse('shop/no-such-plan', {
    found: `the name "${name}"; stored are ${names.length === 0 ? 'none' : names.join(', ')}`,
    needed: 'the name of a plan that was stored before its trial',
    remedy: 'correct the name, or plan a trial and store it: prove plan FILE --as NAME'
  })
