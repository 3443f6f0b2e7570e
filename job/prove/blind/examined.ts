import type { Refusal, Result } from '@trueloop/ground/refusal'
import type { JobState, PlaceState } from '../../record/index.ts'
import { type Code, refuse } from '../codes.ts'
import type { ExaminedFrom, RunningTrial, TrialResult } from './trial.ts'

/** A place of the trial in a job that has no result: neither hit nor miss. */
export interface LeftOpen {
  readonly site: string
  readonly why: string
}

export interface ExaminedResults {
  readonly results: readonly TrialResult[]
  readonly open: readonly LeftOpen[]
  readonly from: ExaminedFrom
}

/**
 * Results of one inspector from the record of a job whose places bear the names of the trial's. Called is what a person
 * took for relevant, or rejected, referred or had reamed; not called is a place that was examined whole, under a set-up
 * that held, and in which nothing waits. What waits for a person has no result: the program's proposal is no call.
 * The signal is the strongest one that was seen, in units of the alarm notch.
 * Refuses: prove/not-real (a demonstration job in a trial of real specimens), prove/no-such-inspector.
 */
export function resultsOfJob(
  state: JobState,
  { running, inspector }: { readonly running: RunningTrial; readonly inspector: string }
): Result<ExaminedResults, Code> {
  if (state.opened.job.demonstration && running.specimens === 'real') return simulated(state.opened.job.id)
  const order = running.orders.find((one) => one.inspector === inspector)
  if (order === undefined) return noInspector(inspector)
  const sites = new Set(order.sites)
  const places = state.places.filter(({ place }) => sites.has(place.name))
  const told = places.map((place) => ({ place, call: callOf(place) }))
  return {
    results: told.flatMap(({ place, call }) =>
      typeof call === 'string' ? [] : [{ inspector, ...resultOf(place, state), called: call.called }]
    ),
    open: told.flatMap(({ place, call }) => (typeof call === 'string' ? [{ site: place.place.name, why: call }] : [])),
    from: { job: state.opened.job.id, head: state.head, inspector }
  }
}

const gone: readonly string[] = ['reject', 'refer', 'clean-up ream']

/** What people called at a place, or why nobody did. */
export function callOf(place: PlaceState): { readonly called: boolean } | string {
  const { state, provisional, joined, disposition, missing } = place
  if (state === 'voided by a recheck') return 'voided by a recheck'
  const isCalled = joined.some(({ decided }) => decided?.class === 'relevant')
  if (isCalled || gone.includes(disposition?.disposition ?? '')) return { called: true }
  if (state === 'not examined' || missing.length > 0) return 'not examined, or not whole'
  if (provisional) return 'no good recheck after its scan'
  if (joined.some(({ open, decided }) => decided === undefined && open && disposition === undefined))
    return 'waits for a person: what the program proposes is no call'
  return { called: false }
}

function resultOf(
  { place, joined, examinations }: PlaceState,
  { recordings }: JobState
): Pick<TrialResult, 'site' | 'signal' | 'at'> {
  const amplitudes = joined.flatMap(({ seen }) => seen.map(({ amplitude }) => amplitude))
  const strongest = amplitudes.reduce((a, b) => Math.max(a, b), 0)
  const last = examinations.at(-1)?.recording
  const taken = recordings.find(({ sha256 }) => sha256 === last)?.taken
  return {
    site: place.name,
    ...(strongest > 0 ? { signal: strongest } : {}),
    ...(taken === undefined ? {} : { at: taken.time })
  }
}

const simulated = (job: string): Refusal<Code> =>
  refuse('prove/not-real', {
    found: `job ${job}, a demonstration, in a trial of real specimens`,
    needed: 'recordings of real specimens',
    remedy: 'name the job in which the specimens were examined'
  })

const noInspector = (inspector: string): Refusal<Code> =>
  refuse('prove/no-such-inspector', {
    found: `results of ${inspector}`,
    needed: 'an inspector of this trial',
    remedy: 'correct the name, or leave the job out'
  })
