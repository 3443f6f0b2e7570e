import { queryOptions, useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { send } from '../asking/statements.ts'

/** Who has signed in at this service, and who may. */
export interface SessionView {
  readonly person?: {
    readonly name: string
    readonly level: string
    readonly locks: string
    readonly due: readonly { readonly of: string; readonly until?: string; readonly left_days?: number }[]
  }
  readonly idle_min: number
  readonly registers: boolean
  readonly people: readonly {
    readonly name: string
    readonly level: string
    readonly may: boolean
    readonly key: boolean
    readonly why?: string
  }[]
  readonly demonstration?: { readonly passphrase: string }
}

const address = '/api/session'

export const sessionQuery = queryOptions({
  queryKey: ['session'],
  queryFn: () => send<SessionView>('GET', address),
  refetchInterval: 60_000
})

export const useSession = () => useQuery(sessionQuery).data

export function useSigning() {
  const queries = useQueryClient()
  const keep = (view: SessionView) => queries.setQueryData(sessionQuery.queryKey, view)
  const signIn = useMutation({
    mutationFn: (who: { readonly name: string; readonly passphrase: string }) =>
      send<SessionView>('POST', address, who),
    onSuccess: keep
  })
  const lock = useMutation({ mutationFn: () => send<SessionView>('DELETE', address), onSuccess: keep })
  return { signIn, lock }
}
