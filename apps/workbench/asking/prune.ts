import type { QueryClient } from '@tanstack/react-query'

/** Signals and documents of so many places are kept at hand: those around the one that is looked at, and a few before. */
const most = 6

/** What is large, by the first word of its name. */
const large = ['wall', 'examination', 'preview', 'making']

/** Lets go of what was looked at longest ago: memory stays flat however many places are looked at in a row. */
export function prune(queries: QueryClient): void {
  for (const name of large) dropOldest(queries, [name], most)
  // places of a job are small, but there may be thousands
  dropOldest(queries, ['job'], 12)
}

function dropOldest(queries: QueryClient, queryKey: readonly string[], keep: number): void {
  const cache = queries.getQueryCache()
  const idle = cache.findAll({ queryKey, type: 'inactive' })
  const oldest = idle.toSorted((a, b) => b.state.dataUpdatedAt - a.state.dataUpdatedAt).slice(keep)
  for (const one of oldest) cache.remove(one)
}
