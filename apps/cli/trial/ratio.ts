import { clearNotches, observedRatio, type SizedUnder, sizeOf } from '@trueloop/job/evaluate'
import type { ResponseRatio } from '@trueloop/job/plan'
import { findsOf, type HoleOutcome, type TrueFlaw } from '@trueloop/job/rehearse'
import type { Standardization } from '@trueloop/job/standardize'
import { resized, type TrialCall } from './calls.ts'
import type { TrialSetup } from './setup.ts'

/** The notch-to-crack response ratio of a trial job, fitted on its found flaws leaving one hole out in turn. */

export interface TrialOutcome extends HoleOutcome {
  readonly calls: readonly TrialCall[]
  /** what the hole was examined with; absent where nothing was standardized */
  readonly standardization?: Standardization
}

interface Job {
  readonly setup: TrialSetup
  readonly outcomes: readonly TrialOutcome[]
}

/** Fewer have no spread worth the name: then sizes stay notch-equivalent. */
const LEAST_CRACKS = 4

/** The outcomes with the sizes that a ratio fitted on the other holes gives; calls without what is needed stay as they are. */
export function withRatio({ setup, outcomes }: Job): readonly TrialOutcome[] {
  const observed = outcomes.map((outcome) => ({ hole: outcome.hole, ratios: ratiosIn(outcome) }))
  return outcomes.map((outcome) => {
    const others = observed.filter(({ hole }) => hole !== outcome.hole).flatMap(({ ratios }) => ratios)
    if (others.length < LEAST_CRACKS) return outcome
    const under = { ...underOf(outcome), documents: documentsOf(ratioOf(others, setup), setup) }
    return { ...outcome, calls: outcome.calls.map((call) => sizedAgain(call, outcome, under)) }
  })
}

function ratiosIn(outcome: TrialOutcome): readonly number[] {
  const { standardization } = outcome
  if (standardization === undefined) return []
  const notches = clearNotches(standardization)
  const ratios = foundIn(outcome).map(({ flaw, call: { measured } }) =>
    measured === undefined ? undefined : observedRatio(measured, notches, { known: flaw, under: underOf(outcome) })
  )
  return ratios.filter((ratio) => ratio !== undefined)
}

/** `findsOf` gives back the very calls that it was given. */
export const foundIn = (outcome: TrialOutcome) =>
  findsOf(outcome) as readonly { readonly flaw: TrueFlaw; readonly call: TrialCall }[]

const underOf = ({ standardization }: TrialOutcome): SizedUnder =>
  standardization?.sizeNoise === undefined ? {} : { noise: standardization.sizeNoise }

function sizedAgain(call: TrialCall, { standardization }: TrialOutcome, under: SizedUnder): TrialCall {
  if (call.measured === undefined || standardization === undefined) return call
  return resized(call, sizeOf(call.measured, clearNotches(standardization), call.statement.withheld, under))
}

const documentsOf = (ratio: ResponseRatio, { metal, frequency_khz, equipment }: TrialSetup) => ({
  setup: { metal, frequency_kHz: frequency_khz, probe_type: equipment.arrangement },
  ratios: [ratio],
  studies: []
})

/** For scoring only: the range is that of the notches, the approval that of the person whom the set-up names. */
function ratioOf(ratios: readonly number[], setup: TrialSetup): ResponseRatio {
  const mean = ratios.reduce((sum, one) => sum + one, 0) / ratios.length
  const squares = ratios.reduce((sum, one) => sum + (one - mean) * (one - mean), 0)
  const depths = setup.reference_standard.notches.map(({ depth_mm }) => depth_mm)
  return {
    trueloop: 'response-ratio/1',
    name: 'fitted on the other holes of the trial job',
    kinds: ['corner', 'mid-bore'],
    metal: setup.metal,
    frequency_kHz: { least: setup.frequency_khz, most: setup.frequency_khz },
    probe_type: setup.equipment.arrangement,
    depth_mm: { least: Math.min(...depths), most: Math.max(...depths) },
    cracks: ratios.length,
    ratio: mean,
    spread: Math.sqrt(squares / (ratios.length - 1)),
    source: 'trial recordings (simulated), for scoring only',
    approved: { by: setup.technique.confirmed_by, level: 'III', on: '2026-01-01' }
  }
}
