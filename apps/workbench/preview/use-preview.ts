import { queryOptions, useQuery } from '@tanstack/react-query'
import { Refused, read } from '../asking/client.ts'
import type { WallSignal } from '../wall/wall.ts'
import type { Making } from './examine-bytes.ts'
import type { Answer, Asking } from './worker.ts'

export interface Previewed {
  /** the page's own findings are those of the record, to the bit */
  readonly same: boolean
  readonly wall?: WallSignal
  /** as recorded, placed by angle */
  readonly placed?: WallSignal
}

interface Of {
  readonly job: string
  readonly examination: string
  readonly recording: string
}

/** The page's own examination of a recording; asked for only while it is wanted. */
export const usePreview = (of: Of, enabled: boolean) => useQuery({ ...previewQuery(of), enabled })

const previewQuery = ({ job, examination, recording }: Of) =>
  queryOptions({
    queryKey: ['preview', job, examination],
    queryFn: async ({ signal }): Promise<Previewed> => {
      const making = await read('/api/jobs/{job}/examinations/{hash}/preview', { job, hash: examination })
      const address = ['/api/jobs', encodeURIComponent(job), 'recordings', recording].join('/')
      const { name, ...walls } = await inWorker({ making: making as unknown as Making, recording: address }, signal)
      return { same: name === examination, ...walls }
    },
    staleTime: Number.POSITIVE_INFINITY,
    gcTime: 60_000,
    retry: false
  })

/** One worker a recording: nothing of it is left when it is done, or when nobody waits any more. */
function inWorker(asking: Asking, signal: AbortSignal) {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  return new Promise<Extract<Answer, { made: unknown }>['made']>((resolve, reject) => {
    signal.addEventListener('abort', () => reject(signal.reason), { once: true })
    worker.onerror = ({ message }) => reject(new Error(message))
    worker.onmessage = ({ data }: MessageEvent<Answer>) => {
      if ('made' in data) resolve(data.made)
      else reject('refusal' in data ? new Refused(0, [data.refusal]) : new Error(data.trouble))
    }
    worker.postMessage(asking)
  }).finally(() => worker.terminate())
}
