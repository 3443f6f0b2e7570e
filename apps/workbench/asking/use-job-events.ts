import { useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { tellConnection } from './connection.ts'
import { jobsQuery } from './queries.ts'

/** Asks again for what a job says whenever its record has grown, by whoever's hand; and knows whether anybody answers. */
export function useJobEvents(job: string): void {
  const queries = useQueryClient()
  useEffect(() => {
    const events = new EventSource(`/api/jobs/${encodeURIComponent(job)}/events`)
    let known: number | undefined
    events.onopen = () => tellConnection(true)
    events.onerror = () => tellConnection(false)
    events.addEventListener('head', ({ data }: MessageEvent<string>) => {
      const { count } = JSON.parse(data) as { readonly count: number }
      const hasGrown = known !== undefined && known !== count
      known = count
      if (!hasGrown) return
      void queries.invalidateQueries({ queryKey: ['job', job] })
      void queries.invalidateQueries({ queryKey: jobsQuery.queryKey })
    })
    return () => {
      events.close()
      tellConnection(true)
    }
  }, [queries, job])
}
