import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { JobSummary } from '../asking/client.ts'
import { examinationQuery, placeQuery, standardizationQuery, wallQuery } from '../asking/queries.ts'
import { depthAxis } from '../wall/depth-axis.ts'
import { conditioned, type SignalState, standardized } from '../wall/signal-states.ts'
import type { Shown } from './profiles.tsx'

interface Comparing {
  readonly job: JobSummary
  /** name of the other hole */
  readonly place: string | undefined
  readonly state: SignalState
}

/** Another hole of the job at the same angle and depth, in the same state; undefined until it is there. */
export function useCompared({ job, place, state }: Comparing): Shown | undefined {
  const enabled = place !== undefined
  const detail = useQuery({ ...placeQuery(job.job, { of: 'hole', name: place ?? '' }), enabled })
  const scan = detail.data?.latest
  const wall = useQuery({ ...wallQuery(job.job, scan ?? ''), enabled: enabled && scan !== undefined })
  const examination = useQuery({ ...examinationQuery(job.job, scan ?? ''), enabled: enabled && scan !== undefined })
  const hash = examination.data?.document.standardization ?? 'none'
  const standardization = useQuery({ ...standardizationQuery(job.job, hash), enabled: enabled && hash !== 'none' })
  return useMemo(() => {
    if (!enabled || wall.data === undefined || examination.data === undefined || detail.data === undefined) return
    const grip = detail.data.listed.grip_mm
    const axis = depthAxis(wall.data, examination.data.document.position, grip === undefined ? undefined : grip * 1e-3)
    if (state === 'standardized') return { ...standardized(wall.data), axis }
    const turn = standardization.data?.turn
    return state === 'conditioned' && turn !== undefined ? { ...conditioned(wall.data, turn), axis } : undefined
  }, [enabled, wall.data, examination.data, detail.data, standardization.data, state])
}
