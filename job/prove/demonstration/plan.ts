import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { canonical, type Hash } from '../../record/index.ts'
import { type Code, refuse } from '../codes.ts'
import { read } from '../question.ts'
import { chanceOfPassing, fewestFlaws, shownBy } from './table.ts'

/**
 * A demonstration by counting, stored before its trial. The rule about trying again: a trial that did not demonstrate
 * the goal stands. More flaws are never added to it (29, then 46 is not 95 %). Another plan for the same technique at
 * the same or a smaller size has to name what was changed since, and no plan may use a flaw of an earlier trial. What
 * luck can do in all trials together is stated with the plan.
 */
export const demonstrationPlanSchema = z.strictObject({
  kind: z.literal('demonstration-plan'),
  version: z.literal(1),
  name: z.string().min(1).describe('what the trial is called'),
  technique: z.string().min(1).describe('the technique, with its revision, that is tried'),
  conditions: z.string().min(1).describe('material, place, people and instruments for which the result holds'),
  flaws_are: z
    .enum(['real', 'notches', 'simulated'])
    .describe('what stands for the cracks: only real ones prove a technique'),
  share: z.number().gt(0).lt(1).describe('chance of a hit to be demonstrated, such as 0.9'),
  confidence: z.number().gt(0.5).lt(1).describe('one-sided confidence, such as 0.95'),
  trials: z.number().int().min(1).describe('flaws to be examined, all of them'),
  misses: z.number().int().min(0).describe('misses at which it is still demonstrated'),
  smallest_m: z.number().gt(0).describe('no flaw is smaller, m'),
  largest_m: z.number().gt(0).describe('no flaw is larger, m: the size for which it is demonstrated'),
  flaws: z.array(z.strictObject({ site: z.string().min(1), size_m: z.number().gt(0) })),
  changed: z.string().min(1).optional().describe('what was changed since a trial of this technique that failed')
})
export type DemonstrationPlan = z.output<typeof demonstrationPlanSchema>

/** A trial of before, as the record has it. One that was begun and not ended counts as one that failed. */
export interface EarlierTrial {
  readonly plan: DemonstrationPlan
  readonly verdict: 'demonstrated' | 'not demonstrated' | 'not ended'
}

/** What is stored, and shown to those who plan. */
export interface PlannedDemonstration {
  readonly plan: DemonstrationPlan
  /** names the plan in the results of its trial */
  readonly sha256: string
  /** lower bound of the chance of a hit if as many are missed as may be */
  readonly shown: number
  /** chance that the trial passes, for some true chances of a hit */
  readonly passing: readonly { readonly trueShare: number; readonly chance: number }[]
  /** chance that a technique just at the share passes this trial or one of those before it */
  readonly byLuck: number
}

const TRUE_SHARES = [0.9, 0.95, 0.98, 0.99, 0.995]

/**
 * A plan before its trial, with what it will be able to show. `earlier`: every trial of the technique so far.
 * Refuses: prove/bad-plan (a setting missing; counts that can't show the goal; flaws that are not as many, not apart or
 * not within the sizes), prove/nothing-changed, prove/flaws-used-before. source: clopper-pearson-1934
 */
export function planDemonstration(
  asked: unknown,
  earlier: readonly EarlierTrial[],
  hash: Hash
): Result<PlannedDemonstration, Code> {
  const plan = read(demonstrationPlanSchema, asked, 'prove/bad-plan')
  if (isRefusal(plan)) return plan
  const own = earlier.filter((one) => one.plan.technique === plan.technique)
  const fault = badCounts(plan) ?? badFlaws(plan) ?? usedBefore(plan, own) ?? unchanged(plan, own)
  if (fault !== undefined) return fault
  const luckless = [plan, ...own.map((one) => one.plan)].map((one) => 1 - chanceOfPassing(one, plan.share))
  return {
    ...{ plan, sha256: planHash(plan, hash), shown: shownBy(plan, plan.confidence) },
    passing: TRUE_SHARES.map((trueShare) => ({ trueShare, chance: chanceOfPassing(plan, trueShare) })),
    byLuck: 1 - luckless.reduce((product, one) => product * one, 1)
  }
}

export const planHash = (plan: DemonstrationPlan, hash: Hash): string => hash(canonical(plan))

function badCounts(plan: DemonstrationPlan): Refusal<Code> | undefined {
  const { trials, misses, share, confidence } = plan
  if (misses < trials && shownBy(plan, confidence) >= share) return undefined
  return refuse('prove/bad-plan', {
    found: `${trials} flaws with ${misses} misses allowed`,
    needed: `${fewestFlaws(plan, misses)} flaws or more for ${share} at ${confidence} with ${misses} misses`,
    remedy: 'plan more flaws, or allow fewer misses'
  })
}

function badFlaws({ flaws, trials, smallest_m, largest_m }: DemonstrationPlan): Refusal<Code> | undefined {
  const sites = new Set(flaws.map(({ site }) => site))
  const outside = flaws.find(({ size_m }) => size_m < smallest_m || size_m > largest_m)
  if (sites.size === flaws.length && flaws.length === trials && outside === undefined) return undefined
  const named = `${flaws.length} flaws at ${sites.size} sites`
  return refuse('prove/bad-plan', {
    found: outside === undefined ? named : `${outside.site} of ${outside.size_m} m`,
    needed: `${trials} flaws, each once, from ${smallest_m} m to ${largest_m} m`,
    remedy: 'name as many different flaws of that size as are to be examined'
  })
}

function usedBefore({ flaws }: DemonstrationPlan, own: readonly EarlierTrial[]): Refusal<Code> | undefined {
  const used = new Set(own.flatMap(({ plan }) => plan.flaws.map(({ site }) => site)))
  const again = flaws.filter(({ site }) => used.has(site))
  if (again.length === 0) return undefined
  return refuse('prove/flaws-used-before', {
    found: `${again.length} flaws of an earlier trial of this technique, ${again[0]?.site ?? ''} among them`,
    needed: 'flaws that nobody has met in a trial of this technique',
    remedy: 'take other flaws: those of before are known, and their result is known'
  })
}

function unchanged(plan: DemonstrationPlan, own: readonly EarlierTrial[]): Refusal<Code> | undefined {
  const failed = own.find((one) => one.verdict !== 'demonstrated' && plan.largest_m <= one.plan.largest_m)
  if (failed === undefined || plan.changed !== undefined) return undefined
  return refuse('prove/nothing-changed', {
    found: `the trial "${failed.plan.name}" of the same technique, which is ${failed.verdict}`,
    needed: 'a technique, people or instrument that was changed since, and a statement of what',
    remedy: 'mend what made the misses and state it; trying until it passes shows nothing'
  })
}
