import { binomialLowerBound, binomialUpperBound } from '@trueloop/ground/numerics'
import { canonical, type JobState, type PlaceState } from '../record/index.ts'
import { callOf } from './blind/index.ts'
import type { ProveWith } from './hit-miss/prove.ts'

/** Practice of one place, as it was marked, and what a person made of it. */
export interface MonitoredPlace {
  readonly job: string
  readonly place: string
  readonly inspector: string
  readonly flawed: boolean
  /** undefined: neither found nor missed, for `why` */
  readonly called?: boolean
  readonly why?: string
}

/** Calls among places, with the exact one-sided bound on the unsafe side. */
export interface MonitoredShare {
  readonly called: number
  readonly of: number
  readonly bound: number
}

export interface Monitored {
  readonly inspector: string
  /** flaws called; `bound`: lower */
  readonly found?: MonitoredShare
  /** places without a flaw called; `bound`: upper */
  readonly falselyCalled?: MonitoredShare
  readonly without: number
}

/** Plain data; it holds for simulated practice and proves no capability. */
export interface MonitorResult {
  readonly kind: 'monitor-result'
  readonly method: number
  readonly program: string
  readonly confidence: number
  readonly data: { readonly sha256: string; readonly places: number }
  readonly inspectors: readonly Monitored[]
  readonly places: readonly MonitoredPlace[]
}

/** Grows when any figure would come out otherwise. */
export const monitorMethod = 1

/** Marked practice of a job, place by place. Who decided it is the inspector, else who examined the job. */
export const monitoredIn = ({ opened, places, practice }: JobState): readonly MonitoredPlace[] =>
  practice === undefined ? [] : places.flatMap((place) => monitoredPlace(place, opened))

function monitoredPlace(place: PlaceState, { job, examinedBy }: JobState['opened']): readonly MonitoredPlace[] {
  if (place.practice === undefined) return []
  const call = callOf(place)
  return [
    {
      ...{ job: job.id, place: place.place.name, inspector: deciderOf(place) ?? examinedBy },
      flawed: place.practice.flawed,
      ...(typeof call === 'string' ? { why: call } : { called: call.called })
    }
  ]
}

const deciderOf = ({ joined, disposition }: PlaceState): string | undefined =>
  joined.find(({ decided }) => decided !== undefined)?.decided?.by.name ?? disposition?.by.name

/**
 * How people did on practice that was mixed into their work, each with exact bounds: flaws found, and calls where there was
 * none. What has no call counts for neither. source: clopper-pearson-1934
 */
export function monitor(
  places: readonly MonitoredPlace[],
  confidence: number,
  { hash, program }: ProveWith
): MonitorResult {
  const names = [...new Set(places.map(({ inspector }) => inspector))].sort()
  return {
    ...{ kind: 'monitor-result', method: monitorMethod, program, confidence },
    data: { sha256: hash(canonical(places)), places: places.length },
    inspectors: names.map((name) =>
      monitoredBy(
        name,
        places.filter(({ inspector }) => inspector === name),
        confidence
      )
    ),
    places
  }
}

function monitoredBy(inspector: string, own: readonly MonitoredPlace[], confidence: number): Monitored {
  const counted = (flawed: boolean) => {
    const some = own.filter((one) => one.flawed === flawed && one.called !== undefined)
    return { successes: some.filter(({ called }) => called).length, trials: some.length }
  }
  const [flaws, blanks] = [counted(true), counted(false)]
  return {
    inspector,
    ...(flaws.trials === 0 ? {} : { found: share(flaws, binomialLowerBound(flaws, confidence)) }),
    ...(blanks.trials === 0 ? {} : { falselyCalled: share(blanks, binomialUpperBound(blanks, confidence)) }),
    without: own.filter(({ called }) => called === undefined).length
  }
}

const share = (
  { successes, trials }: { readonly successes: number; readonly trials: number },
  bound: number
): MonitoredShare => ({ called: successes, of: trials, bound })
