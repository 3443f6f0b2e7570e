import { type NotchRange, type Rules, type Score, score } from '@trueloop/job/rehearse'
import { type Intervals, intervalsOf } from './intervals.ts'
import { type TrialOutcome, withRatio } from './ratio.ts'
import type { TrialSetup } from './setup.ts'

/** Score of several trial jobs, each by the notches of its own reference standard. */

export interface ScoredJob {
  readonly setup: TrialSetup
  readonly outcomes: readonly TrialOutcome[]
  readonly voided: readonly string[]
}

type SizeKeys = 'depthMae_mm' | 'depthScored' | 'lengthMae_mm' | 'lengthScored' | 'bounds' | 'boundsTrue'

/** What is scored of sizes. */
export interface SizeFigures extends Pick<Score, SizeKeys>, Intervals {}

export interface TrialScore extends Score {
  readonly voidedHoles: readonly string[]
  /** sizes as the examination states them, and by a ratio fitted leaving one hole out */
  readonly sizes: SizeFigures
  readonly withRatio: SizeFigures
}

export function scoreOf(jobs: readonly ScoredJob[]): TrialScore {
  const all = jobs.map((job) => ({ ...job, outcomes: withRatio(job) }))
  return { ...plainScore(jobs), sizes: sizesOf(jobs), withRatio: sizesOf(all) }
}

function sizesOf(jobs: readonly ScoredJob[]): SizeFigures {
  const { depthMae_mm, lengthMae_mm, ...one } = plainScore(jobs)
  const { depthScored, lengthScored, bounds, boundsTrue } = one
  return {
    ...(depthMae_mm === undefined ? {} : { depthMae_mm }),
    ...(lengthMae_mm === undefined ? {} : { lengthMae_mm }),
    ...{ depthScored, lengthScored, bounds, boundsTrue },
    ...intervalsOf(jobs.flatMap(({ outcomes }) => outcomes))
  }
}

function plainScore(jobs: readonly ScoredJob[]): Score & Pick<TrialScore, 'voidedHoles'> {
  const scores = jobs.map(({ outcomes, setup }) => score(outcomes, rulesOf(setup)))
  const sum = (key: CountKey): number => scores.reduce((total, one) => total + one[key], 0)
  return {
    ...(Object.fromEntries(counts.map((key) => [key, sum(key)])) as Record<CountKey, number>),
    falselyCalled: scores.flatMap((one) => one.falselyCalled),
    soundNotExamined: scores.flatMap((one) => one.soundNotExamined),
    ...meanOf(scores, 'depthMae_mm', 'depthScored'),
    ...meanOf(scores, 'lengthMae_mm', 'lengthScored'),
    voidedHoles: jobs.flatMap(({ voided }) => voided)
  }
}

const counts = [
  ...(['flaws', 'found', 'holes', 'falselyCalledHoles', 'undecidedElsewhere', 'faults', 'faultsCaught'] as const),
  ...(['depthScored', 'lengthScored', 'bounds', 'boundsTrue'] as const)
] as const
type CountKey = (typeof counts)[number]

/** Mean of the jobs' mean errors, each by how many it is the mean of; absent over nothing. */
function meanOf(scores: readonly Score[], mean: 'depthMae_mm' | 'lengthMae_mm', count: 'depthScored' | 'lengthScored') {
  const total = scores.reduce((sum, one) => sum + one[count], 0)
  return total === 0 ? {} : { [mean]: scores.reduce((sum, one) => sum + (one[mean] ?? 0) * one[count], 0) / total }
}

function rulesOf({ reference_standard: { notches } }: TrialSetup): Rules {
  const rangeOf = (isKind: (place: string) => boolean): NotchRange => {
    const depths = notches.filter(({ place }) => isKind(place)).map(({ depth_mm }) => depth_mm)
    return { least_mm: Math.min(...depths), most_mm: Math.max(...depths) }
  }
  return {
    ranges: { corner: rangeOf((place) => place.endsWith('corner')), 'mid-bore': rangeOf((p) => p === 'mid-bore') }
  }
}

/** The one line of figures that `trial --json` ends with. */
export const figuresOf = (one: TrialScore) => ({
  holes: {
    flaws: one.flaws,
    found: one.found,
    holes: one.holes,
    falselyCalledHoles: one.falselyCalledHoles,
    undecidedElsewhere: one.undecidedElsewhere,
    faults: one.faults,
    faultsCaught: one.faultsCaught,
    depthMae_mm: one.depthMae_mm ?? null,
    depthScored: one.depthScored,
    lengthMae_mm: one.lengthMae_mm ?? null,
    bounds: one.bounds,
    boundsTrue: one.boundsTrue,
    sizes: one.sizes,
    withRatio: one.withRatio,
    voidedHoles: one.voidedHoles
  }
})
