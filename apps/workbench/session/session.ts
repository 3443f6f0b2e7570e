import { queryOptions, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { paths } from '@trueloop/service/client'
import { toldAnew } from '../asking/queries.ts'
import { send } from '../asking/statements.ts'

/** Who has signed in at this service, and who may. */
export type SessionView = paths['/api/session']['get']['responses'][200]['content']['application/json']

const address = '/api/session'

export const sessionQuery = queryOptions({
  queryKey: ['session'],
  queryFn: () => send<SessionView>('GET', address),
  refetchInterval: 60_000
})

export const useSession = () => useQuery(sessionQuery).data

export function useSigning() {
  const queries = useQueryClient()
  const keep = (view: SessionView) => {
    queries.setQueryData(sessionQuery.queryKey, view)
    void toldAnew(queries)
    void queries.invalidateQueries({ queryKey: ['job'] })
  }
  const signIn = useMutation({
    mutationFn: (who: { readonly name: string; readonly passphrase: string }) =>
      send<SessionView>('POST', address, who),
    onSuccess: keep
  })
  const lock = useMutation({ mutationFn: () => send<SessionView>('DELETE', address), onSuccess: keep })
  return { signIn, lock }
}
