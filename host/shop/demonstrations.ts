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
import { demonstrationsIn } from '@trueloop/job/record'
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

/** All demonstrations that were ever planned, in their order. */
export function demonstrationsOf({ rows, document }: Shop): readonly StoredDemonstration[] {
  const entries = demonstrationsIn(rows)
  const outcomes = new Map(
    entries.flatMap((entry) => (entry.kind === 'demonstration-judged' ? [[entry.plan, entry.document] as const] : []))
  )
  const parsed = (hash: string | undefined) => (hash === undefined ? undefined : JSON.parse(document(hash) ?? 'null'))
  return entries.flatMap((entry): readonly StoredDemonstration[] => {
    if (entry.kind !== 'demonstration-planned') return []
    const [plan, outcome] = [parsed(entry.document), parsed(outcomes.get(entry.document))?.outcome]
    if (plan === null) return []
    const { by, at, document: hash } = entry
    return [{ plan, document: hash, by: by.name, stored: at.time, ...(outcome === undefined ? {} : { outcome }) }]
  })
}

const earlierIn = (shop: Shop): readonly EarlierTrial[] =>
  demonstrationsOf(shop).map(({ plan, outcome }) => ({ plan, verdict: outcome?.verdict ?? 'not ended' }))

/** What a plan would be able to show, beside every trial of before. Writes nothing. Refuses as `planDemonstration`. */
export const lookAtPlan = (asked: unknown, shop: Shop): Result<PlannedDemonstration> =>
  planDemonstration(asked, earlierIn(shop), sha256)

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
  const at = all.findIndex(({ plan }) => plan.name === name)
  const found = all[at]
  if (found === undefined)
    return notStored(
      name,
      all.map(({ plan }) => plan.name)
    )
  const earlier = all
    .slice(0, at)
    .map(({ plan, outcome }): EarlierTrial => ({ plan, verdict: outcome?.verdict ?? 'not ended' }))
  const planned = planDemonstration(found.plan, earlier, sha256)
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
  const judged = demonstrationsOf(shop).flatMap((one) => (one.outcome === undefined ? [] : [one.document]))
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

const notStored = (name: string, names: readonly string[]) =>
  refuse('shop/no-such-plan', {
    found: `the name "${name}"; stored are ${names.length === 0 ? 'none' : names.join(', ')}`,
    needed: 'the name of a plan that was stored before its trial',
    remedy: 'correct the name, or plan a trial and store it: prove plan FILE --as NAME'
  })
