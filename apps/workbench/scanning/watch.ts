import { queryOptions } from '@tanstack/react-query'
import { read } from '../asking/client.ts'
import { send } from '../asking/statements.ts'

export type WatchView = Awaited<ReturnType<typeof readWatch>>
export type WatchedFile = WatchView['files'][number]
export type Expected = NonNullable<WatchView['expects']>

const readWatch = (job: string) => read('/api/jobs/{job}/watch', { job })

/** What the folder watch knows; asked again often, for a person stands beside the part and waits for it. */
export const watchQuery = (job: string) =>
  queryOptions({ queryKey: ['job', job, 'watch'], queryFn: () => readWatch(job), refetchInterval: 700 })

/** Says what the next file is of; null: what comes waits. */
export const expect = (job: string, expects: Expected | null, take?: string): Promise<WatchView> =>
  send('POST', `/api/jobs/${encodeURIComponent(job)}/watch`, { expects, ...(take === undefined ? {} : { take }) })
