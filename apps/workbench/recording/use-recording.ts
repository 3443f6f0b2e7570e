import { useQuery } from '@tanstack/react-query'
import { useEffect, useRef, useState } from 'react'
import { Refused, read } from '../asking/client.ts'
import type { Making } from '../preview/examine-bytes.ts'
import type { Level } from './pyramid.ts'
import type { Answer, Asking, Samples } from './worker.ts'

export interface Recording {
  readonly samples: number
  readonly rate_Hz: number
  readonly levels: readonly Level[]
}

interface Reading {
  readonly recording?: Recording
  /** samples that were asked for last */
  readonly window?: Samples
  /** share of the bytes read so far */
  readonly read: number
  readonly error: Error | null
}

const begun: Reading = { read: 0, error: null }

/** A recording that a worker reads; `ask` has it give the samples themselves of a stretch. */
export function useRecording(job: string, examination: string) {
  const making = useQuery({
    queryKey: ['making', job, examination],
    queryFn: () => read('/api/jobs/{job}/examinations/{hash}/preview', { job, hash: examination }),
    staleTime: Number.POSITIVE_INFINITY
  })
  const worker = useRef<Worker>(undefined)
  const [reading, set] = useState(begun)
  const { data } = making
  useEffect(() => {
    if (data === undefined) return
    const one = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
    const { name, bytes, mapping, recipe } = data as unknown as Making
    one.onmessage = ({ data: answer }: MessageEvent<Answer>) => set((before) => after(before, answer, bytes))
    one.onerror = ({ message }) => set((before) => ({ ...before, error: new Error(message) }))
    const address = `/api/jobs/${encodeURIComponent(job)}/recordings/${recipe.input.recording}`
    one.postMessage({ open: { name, bytes, mapping, address } } satisfies Asking)
    worker.current = one
    return () => {
      one.terminate()
      set(begun)
    }
  }, [data, job])
  const ask = (from: number, to: number) => worker.current?.postMessage({ window: { from, to } } satisfies Asking)
  return { ...reading, error: reading.error ?? making.error, ask }
}

function after(before: Reading, answer: Answer, bytes: number): Reading {
  if ('reading' in answer) return { ...before, read: answer.reading.bytes / bytes }
  if ('ready' in answer) return { ...before, read: 1, recording: answer.ready }
  if ('window' in answer) return { ...before, window: answer.window }
  return { ...before, error: 'refusal' in answer ? new Refused(0, [answer.refusal]) : new Error(answer.trouble) }
}
