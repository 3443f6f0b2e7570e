/// <reference lib="webworker" />
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { Wall } from '@trueloop/job/examine'
import { canonical, findings } from '@trueloop/job/record'
import { examineBytes, type Made, type Making } from './examine-bytes.ts'

/** Asks for an examination of the record to be made once more, in this page. */
export interface Asking {
  readonly making: Making
  /** address of the bytes of the recording */
  readonly recording: string
}

export type Answer =
  | { readonly made: { readonly name: string; readonly wall?: Wall; readonly placed?: Wall } }
  | { readonly refusal: Refusal }
  | { readonly trouble: string }

declare const self: DedicatedWorkerGlobalScope

self.onmessage = async ({ data }: MessageEvent<Asking>) => {
  const answer = await answerOf(data).catch((error: unknown) => ({ trouble: String(error) }))
  self.postMessage(answer, 'made' in answer ? buffersOf(answer.made) : [])
}

async function answerOf({ making, recording }: Asking): Promise<Answer> {
  const response = await fetch(recording)
  if (!response.ok || response.body === null) return { trouble: `the recording was not given (${response.status})` }
  const made = await examineBytes(making, response.body as unknown as AsyncIterable<Uint8Array>)
  return isRefusal(made) ? { refusal: made } : { made: { name: await nameOf(made), ...wallsOf(made) } }
}

const wallsOf = ({ wall, placed }: Made) => ({ ...(wall && { wall }), ...(placed && { placed }) })

/** The name that the findings would have in the record: hex SHA-256 of their canonical text. */
async function nameOf({ examination }: Made): Promise<string> {
  const text = new TextEncoder().encode(canonical(findings(examination)))
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', text))
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('')
}

const buffersOf = ({ wall, placed }: { readonly wall?: Wall; readonly placed?: Wall }): ArrayBuffer[] =>
  [wall, placed].flatMap((one) => (one === undefined ? [] : [one.x.buffer as ArrayBuffer, one.y.buffer as ArrayBuffer]))
