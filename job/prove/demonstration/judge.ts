import type { Refusal, Result } from '@trueloop/ground/refusal'
import { momentOf } from '../../plan/index.ts'
import { canonical } from '../../record/index.ts'
import { type Code, refuse } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { type DemonstrationPlan, planHash } from './plan.ts'
import { shownBy } from './table.ts'

/** One flaw of a plan, looked at. */
export interface TrialRow {
  readonly site: string
  readonly hit: boolean
  /** when, as the record has it, ISO 8601 */
  readonly at: string
}

export interface Trial {
  /** hash of the plan that it follows */
  readonly plan: string
  /** when the plan was stored, ISO 8601 */
  readonly stored: string
  readonly rows: readonly TrialRow[]
  /** hashes of plans whose trials have a verdict */
  readonly judged: readonly string[]
}

export interface DemonstrationOutcome {
  readonly kind: 'demonstration-outcome'
  readonly method: number
  readonly program: string
  /** of the looks as given */
  readonly data: { readonly sha256: string; readonly rows: number }
  readonly plan: string
  readonly verdict: 'demonstrated' | 'not demonstrated'
  readonly hits: number
  readonly examined: number
  /** exact lower bound of the chance of a hit by all flaws of the plan; none where they were not all examined */
  readonly lower?: number
  readonly confidence: number
  /** demonstrated for this size, and for larger ones if larger flaws are not harder to find, m */
  readonly size_m: number
}

/** Grows when any figure would come out otherwise. */
export const demonstrationMethod = 1

/**
 * The verdict on a trial by its plan, once. A trial is lost as soon as more are missed than may be; short of that all
 * flaws of the plan have to be examined: stopping early is no pass, and a flaw that was not examined is no hit.
 * Refuses: prove/other-plan, prove/already-judged, prove/plan-after-trial, prove/other-flaws, prove/repeats-as-rows,
 * prove/trial-incomplete. source: clopper-pearson-1934
 */
export function judgeDemonstration(
  plan: DemonstrationPlan,
  trial: Trial,
  { hash, program }: ProveWith
): Result<DemonstrationOutcome, Code> {
  const sha256 = planHash(plan, hash)
  const fault = otherPlan(sha256, trial) ?? alreadyJudged(sha256, trial) ?? tooLate(trial) ?? otherFlaws(plan, trial)
  if (fault !== undefined) return fault
  const examined = trial.rows.length
  const hits = trial.rows.filter(({ hit }) => hit).length
  const missed = examined - hits
  const isLost = missed > plan.misses
  if (!isLost && examined < plan.trials) return incomplete(plan, examined)
  const { trials, confidence, largest_m } = plan
  return {
    ...{ kind: 'demonstration-outcome', method: demonstrationMethod, program },
    data: { sha256: hash(canonical(trial.rows)), rows: trial.rows.length },
    ...{ plan: sha256, verdict: isLost ? 'not demonstrated' : 'demonstrated' },
    ...{ hits, examined, confidence, size_m: largest_m },
    ...(examined === trials ? { lower: shownBy({ trials, misses: missed }, confidence) } : {})
  }
}

function otherPlan(sha256: string, { plan }: Trial): Refusal<Code> | undefined {
  if (plan === sha256) return undefined
  return refuse('prove/other-plan', {
    found: `a trial of the plan ${plan}`,
    needed: `one of the plan ${sha256}`,
    remedy: 'give the plan as it was stored before the trial: a plan that was changed is another plan'
  })
}

function alreadyJudged(sha256: string, { judged }: Trial): Refusal<Code> | undefined {
  if (!judged.includes(sha256)) return undefined
  return refuse('prove/already-judged', {
    found: 'a trial that has its verdict',
    needed: 'one verdict a plan',
    remedy: 'let the verdict stand; more flaws are not added to a trial, they take a plan of their own'
  })
}

function tooLate({ stored, rows }: Trial): Refusal<Code> | undefined {
  const late = rows.find(({ at }) => !isAfter(stored, at))
  if (late === undefined) return undefined
  return refuse('prove/plan-after-trial', {
    found: `${late.site} examined at ${late.at}, the plan stored at ${stored}`,
    needed: 'a plan stored before the first flaw is examined, both times with their offset',
    remedy: 'plan a new trial with other flaws; what is chosen after a result shows nothing'
  })
}

/** Times that can't be compared do not show that the plan came first. */
function isAfter(stored: string, at: string): boolean {
  const [before, now] = [momentOf(stored), momentOf(at)]
  if (before === undefined || now === undefined || before.hasOffset !== now.hasOffset) return false
  return now.seconds > before.seconds
}

function otherFlaws({ flaws }: DemonstrationPlan, { rows }: Trial): Refusal<Code> | undefined {
  const planned = new Set(flaws.map(({ site }) => site))
  const stray = rows.find(({ site }) => !planned.has(site))
  if (stray !== undefined)
    return refuse('prove/other-flaws', {
      found: `${stray.site}, which the plan does not name`,
      needed: 'the flaws of the plan and no others',
      remedy: 'leave it out of this trial; blanks and other flaws are examined beside it, not counted in it'
    })
  const twice = rows.find(({ site }, i) => rows.findIndex((other) => other.site === site) < i)
  if (twice === undefined) return undefined
  return refuse('prove/repeats-as-rows', {
    found: `${twice.site} examined twice`,
    needed: 'each flaw of the plan once',
    remedy: 'count the first look; a second look at a flaw that was missed is no hit of this trial'
  })
}

const incomplete = ({ trials }: DemonstrationPlan, examined: number): Result<never, Code> =>
  refuse('prove/trial-incomplete', {
    found: `${examined} of ${trials} flaws examined`,
    needed: 'all of them, or more misses than may be',
    remedy: 'examine the rest; what was not examined is neither hit nor miss'
  })
