import { type QueryClient, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { Refused } from '../asking/client.ts'
import { jobQuery, toldAnew } from '../asking/queries.ts'
import { state } from '../asking/statements.ts'
import { sessionQuery, useSession } from '../session/session.ts'
import { changed, useOutbox } from './use-outbox.ts'
import { drop, nextToSend, refuse, seen, waitingOn } from './waiting.ts'

/** How long until it is tried again while nobody answers. */
const pause_ms = 1500

/** Sends what waits, one after the other, in one of the open pages at a time. */
export function Sender() {
  const queries = useQueryClient()
  const { all } = useOutbox()
  const by = useSession()?.person?.name
  const isWanted = nextToSend(all, by) !== undefined
  useEffect(() => {
    if (!isWanted || by === undefined) return
    const end = new AbortController()
    // two pages that send at once would do no harm: the second is told "already"
    void navigator.locks
      .request('trueloop/sender', { signal: end.signal }, () => sendAll(queries, by, end.signal))
      .catch(() => undefined)
    return () => end.abort()
  }, [queries, isWanted, by])
  return null
}

async function sendAll(queries: QueryClient, by: string, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    const next = nextToSend(waitingOn(localStorage), by)
    if (next === undefined) return
    const { job, statement } = next
    try {
      const { count, entries } = await state(job, statement)
      drop(localStorage, statement.id)
      seen(localStorage, next, { before: entries[0]?.seq ?? count, count })
      changed()
      // not waited for: what another page has to say must not wait for an answer to this one
      void queries.invalidateQueries({ queryKey: ['job', job] })
      if (queries.getQueryData(jobQuery(job).queryKey)?.classFirst === true) void toldAnew(queries, job)
    } catch (error) {
      if (!(error instanceof Refused)) await new Promise((resolve) => setTimeout(resolve, pause_ms))
      else if (error.status === 401) return void queries.invalidateQueries({ queryKey: sessionQuery.queryKey })
      else {
        refuse(localStorage, statement.id, error.refusals)
        changed()
        void queries.invalidateQueries({ queryKey: ['job', job] })
      }
    }
  }
}
