import { type HoleOutcome, type NotchRange, type Rules, type Score, score } from '@trueloop/job/rehearse'
import type { TrialSetup } from './setup.ts'

/** Score of several trial jobs, each by the notches of its own reference standard. */

export interface ScoredJob {
  readonly setup: TrialSetup
  readonly outcomes: readonly HoleOutcome[]
  readonly voided: readonly string[]
}

export interface TrialScore extends Score {
  readonly voidedHoles: readonly string[]
}

export function scoreOf(jobs: readonly ScoredJob[]): TrialScore {
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
    voidedHoles: one.voidedHoles
  }
})
