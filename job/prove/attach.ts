import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Code, refuse } from './codes.ts'
import type { DemonstrationOutcome } from './demonstration/judge.ts'
import type { PlannedDemonstration } from './demonstration/plan.ts'
import type { HitMissResult } from './hit-miss/prove.ts'
import { mm, percent } from './report/words.ts'
import { type StudyResult, studyKinds } from './results.ts'
import type { SignalResult } from './signal/prove.ts'

/** What a Level III may attach to a technique: words for the report, and where they come from. */
export interface Attachable {
  readonly words: string
  readonly source: string
}

type Capability = HitMissResult | SignalResult

const isCapability = (result: StudyResult): result is Capability =>
  result.kind === 'hit-miss-result' || result.kind === 'signal-response-result'

/**
 * The statement of a study in words, for a record. Refuses: prove/no-capability (a study that finds no size),
 * prove/not-real (notches and simulation prove no technique), prove/not-demonstrated and what else hinders a size,
 * prove/no-blanks (who calls everything finds everything).
 */
export function attachable(result: StudyResult): Result<Attachable, Code> {
  if (!isCapability(result)) return noCapability(result)
  const { study, data, falseCalls, stated_m, method, program } = result
  if (study.flaws !== 'real') return refuseUnreal(study.flaws)
  if (isRefusal(stated_m)) return stated_m
  if (isRefusal(falseCalls)) return falseCalls
  const { calls, blanks, upper } = falseCalls
  return {
    words: `${study.measure} of ${mm(stated_m)}: found in ${percent(study.share)} of cases with ${percent(study.confidence)} confidence (${data.flaws} flaws, bound by ${study.bound}, ${modelOf(result)}). False calls: ${calls} of ${blanks} blanks, at most ${percent(upper, 1)}. Holds for: ${study.conditions}.`,
    source: `${study.name}; data ${data.sha256}; method ${method} of ${program}`
  }
}

/**
 * The same of a demonstration by counting. Refuses: prove/not-real, prove/not-demonstrated.
 */
export function attachableDemonstration(
  { plan }: PlannedDemonstration,
  outcome: DemonstrationOutcome | undefined
): Result<Attachable, Code> {
  if (plan.flaws_are !== 'real') return refuseUnreal(plan.flaws_are)
  if (outcome?.verdict !== 'demonstrated') return notDemonstrated(outcome)
  const { hits, examined, plan: sha256, method, program } = outcome
  return {
    words: `flaws of ${mm(plan.smallest_m)} to ${mm(plan.largest_m)}: found in ${percent(plan.share)} of cases with ${percent(plan.confidence)} confidence, demonstrated by counting (${hits} of ${examined} found). Nothing is shown of smaller ones. Holds for: ${plan.conditions}.`,
    source: `${plan.name}; plan ${sha256}; method ${method} of ${program}`
  }
}

const notDemonstrated = (outcome: DemonstrationOutcome | undefined): Refusal<Code> =>
  refuse('prove/not-demonstrated', {
    found: outcome === undefined ? 'a trial that has not ended' : `${outcome.hits} of ${outcome.examined} flaws found`,
    needed: 'as many as the plan asked for',
    remedy: 'let the verdict stand; a technique that was mended takes a plan of its own, with other flaws'
  })

const modelOf = (result: Capability): string =>
  result.kind === 'hit-miss-result'
    ? `${result.study.link} of ${result.study.scale}`
    : `${result.study.response} over ${result.study.scale}, threshold ${result.study.threshold}`

const refuseUnreal = (flaws: string): Refusal<Code> =>
  refuse('prove/not-real', {
    found: `a study with ${flaws} in place of real flaws`,
    needed: 'real specimens: only they prove what a technique finds',
    remedy: 'leave it as practice, or make a trial with real flaws'
  })

const noCapability = ({ kind }: StudyResult): Refusal<Code> =>
  refuse('prove/no-capability', {
    found: `a result of the kind "${kind}"`,
    needed: 'a study of what size is found: hits and misses, or signals',
    remedy: 'keep it beside the technique; it tells how well people or instruments agree, not what is found'
  })

/** A result that does not come out again is another one than its file says. Refuses: prove/other-figures. */
export const differing = (): Result<never, Code> =>
  refuse('prove/other-figures', {
    found: 'figures that do not come out again from the rows',
    needed: 'the result as it was worked out',
    remedy: 'work it out anew from its rows; a result that was changed by hand proves nothing'
  })

/** As much of a result as working it out again needs; the rest is compared then. */
const resultSchema = z.looseObject({
  kind: z.enum(studyKinds),
  method: z.number(),
  program: z.string(),
  study: z.looseObject({}),
  data: z.looseObject({ sha256: z.string() })
})

/** A plain value read as a result. Refuses: prove/not-a-result. */
export function resultOf(value: unknown): Result<StudyResult, Code> {
  const read = resultSchema.safeParse(value)
  if (read.success) return value as StudyResult
  return refuse('prove/not-a-result', {
    found: read.error.issues[0]?.message ?? 'another value',
    needed: 'a result as "prove" wrote it',
    remedy: 'name the file that was written with --out'
  })
}

/**
 * A study that calls the flaws of a trial real, where the trial says that they were not. Refuses: prove/not-real. What is wrong with
 * the study itself, its own schema says.
 */
export function againstTrial(study: unknown, isReal: boolean): Refusal<Code> | undefined {
  const stated = (study as { readonly flaws?: unknown } | null | undefined)?.flaws
  if (isReal || stated !== 'real') return undefined
  return refuse('prove/not-real', {
    found: 'a study that calls its flaws real, and a trial with notches or simulation',
    needed: 'the word of the trial in the study too',
    remedy: 'correct "flaws" in the study: only real specimens prove what a technique finds',
    where: { path: 'flaws' }
  })
}
