import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Moved } from '@trueloop/job/interpret'
import { scoreTracks, type TrackScore } from '@trueloop/job/rehearse'
import type { Standardization } from '@trueloop/job/standardize'
import { type ExaminedWeld, examinedWeld, standardizedTrial } from './examined.ts'
import { type HeldWelds, heldWelds } from './held.ts'

/** As the README of the trial states it. */
const RULES = { due: { depth_mm: 0.5, length_mm: 5 }, near_mm: 3 } as const

export interface ScoredWelds {
  readonly job: HeldWelds
  readonly standardization: Standardization
  readonly examined: readonly ExaminedWeld[]
  readonly score: TrackScore
}

export async function scoredWelds(folder: string, name: string): Promise<Result<ScoredWelds>> {
  const job = await heldWelds(folder, name)
  if (isRefusal(job)) return job
  const standardization = standardizedTrial(job)
  if (isRefusal(standardization)) return standardization
  return weldsWith(job, standardization)
}

/** The job examined and scored, with some declared numbers moved. */
export function weldsWith(job: HeldWelds, standardization: Standardization, moved?: Moved): Result<ScoredWelds> {
  const examined: ExaminedWeld[] = []
  for (const { name } of job.welds) {
    const one = examinedWeld(job, standardization, { name, ...(moved === undefined ? {} : { moved }) })
    if (isRefusal(one)) return one
    examined.push(one)
  }
  const rules = { ...RULES, deepest_mm: Math.max(...job.setup.slots_mm) }
  return {
    job,
    standardization,
    examined,
    score: scoreTracks(
      examined.map(({ outcome }) => outcome),
      rules
    )
  }
}

/** The score of all jobs with welds together; none where there are none. */
export function scoreOfWelds(jobs: readonly ScoredWelds[]): TrackScore | undefined {
  if (jobs.length === 0) return undefined
  const deepest_mm = Math.max(...jobs.flatMap(({ job }) => job.setup.slots_mm))
  return scoreTracks(
    jobs.flatMap(({ examined }) => examined.map(({ outcome }) => outcome)),
    { ...RULES, deepest_mm }
  )
}

/** What `trial --json` says of welds; null where nothing was there to be measured. */
export const weldFiguresOf = (score: TrackScore) => ({
  due: score.due,
  foundDue: score.foundDue,
  falseCalls: score.falseCalls,
  endError_mm: score.endError_mm ?? null,
  depthMae_mm: score.depthMae_mm ?? null,
  coatingMae_mm: score.coatingMae_mm ?? null,
  depthScored: score.depthScored,
  bounds: score.bounds,
  boundsTrue: score.boundsTrue,
  coatingMedianError_mm: score.coatingMedianError_mm ?? null,
  coatingEndError_mm: score.coatingEndError_mm ?? null
})
