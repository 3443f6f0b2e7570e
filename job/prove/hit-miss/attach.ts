import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Code, refuse } from '../codes.ts'
import type { HitMissResult } from './prove.ts'

/** What a Level III may attach to a technique: words for the report, and where they come from. */
export interface Attachable {
  readonly words: string
  readonly source: string
}

/**
 * The statement of a study in words, for a record. Refuses: prove/not-real (notches and simulation prove no technique),
 * prove/not-demonstrated (the study states no size), prove/no-blanks (who calls everything finds everything).
 */
export function attachable({
  study,
  data,
  falseCalls,
  stated_m,
  method,
  program
}: HitMissResult): Result<Attachable, Code> {
  if (study.flaws !== 'real')
    return refuse('prove/not-real', {
      found: `a study with ${study.flaws} in place of real flaws`,
      needed: 'real specimens: only they prove what a technique finds',
      remedy: 'leave it as practice, or make a trial with real flaws'
    })
  if (isRefusal(stated_m)) return stated_m
  if (isRefusal(falseCalls)) return falseCalls
  const size = `${study.measure} of ${(1000 * stated_m).toFixed(2)} mm`
  return {
    words: `${size}: found in ${100 * study.share} % of cases with ${100 * study.confidence} % confidence (${data.flaws} flaws, bound by ${study.bound}, ${study.link} of ${study.scale}). False calls: ${falseCalls.calls} of ${falseCalls.blanks} blanks, at most ${(100 * falseCalls.upper).toFixed(1)} %. Holds for: ${study.conditions}.`,
    source: `${study.name}; data ${data.sha256}; method ${method} of ${program}`
  }
}

/** A result that does not come out again is another one than its file says. Refuses: prove/other-figures. */
export const differing = (): Result<never, Code> =>
  refuse('prove/other-figures', {
    found: 'figures that do not come out again from the rows',
    needed: 'the result as it was worked out',
    remedy: 'work it out anew with "prove hits"; a result that was changed by hand proves nothing'
  })

/** As much of a result as working it out again needs; the rest is compared then. */
const resultSchema = z.looseObject({
  kind: z.literal('hit-miss-result'),
  method: z.number(),
  program: z.string(),
  study: z.looseObject({}),
  data: z.looseObject({ sha256: z.string() })
})

/** A plain value read as a result. Refuses: prove/not-a-result. */
export function resultOf(value: unknown): Result<HitMissResult, Code> {
  const read = resultSchema.safeParse(value)
  if (read.success) return value as HitMissResult
  return refuse('prove/not-a-result', {
    found: read.error.issues[0]?.message ?? 'another value',
    needed: 'a result as "prove hits" wrote it',
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
