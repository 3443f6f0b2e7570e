import type { Told } from '../shell/told.ts'
import { Refused, Unreached } from './client.ts'

/** What a person may state. The service checks it word for word; so does its document, in a test. */

export type ClassSaid = 'false' | 'nonrelevant' | 'damage, not a crack' | 'relevant'
export type Disposition = 'no recordable indication' | 'clean-up ream' | 'reject' | 'refer'

interface Common {
  /** 32 hex digits, made here: sent twice it is recorded once */
  readonly id: string
  /** entries of the record when the person looked */
  readonly seen: number
}

export type Said =
  | {
      readonly what: 'decide'
      readonly place: string
      readonly classes?: readonly { readonly indication: string; readonly class: ClassSaid }[]
      readonly disposition?: Disposition
      readonly size_mm?: number
      readonly reason?: string
    }
  | { readonly what: 'look again'; readonly place: string; readonly agrees: boolean; readonly reason?: string }
  | { readonly what: 'withdraw'; readonly entry: string; readonly reason: string }
  | { readonly what: 'close places'; readonly places: readonly string[] }
  | { readonly what: 'note'; readonly place: string; readonly text: string }

export type Statement = Common & Said

export interface Stated {
  readonly recorded: 'now' | 'already'
  readonly entries: readonly { readonly seq: number; readonly id: string; readonly kind: string }[]
  readonly lines?: readonly string[]
  readonly count: number
}

/** Makes an id that nobody else makes. */
export const freshId = (): string => {
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** Sends JSON; throws `Refused` and `Unreached`. */
export async function send<T>(method: 'POST' | 'DELETE' | 'GET', address: string, body?: object): Promise<T> {
  const headers = body === undefined ? {} : { 'content-type': 'application/json' }
  const init = { method, headers, ...(body === undefined ? {} : { body: JSON.stringify(body) }) }
  const response = await fetch(address, init).catch((): never => {
    throw new Unreached('the service does not answer')
  })
  const answer: unknown = await response.json().catch(() => undefined)
  if (response.ok && answer !== undefined) return answer as T
  const { refusals } = (answer ?? {}) as { readonly refusals?: readonly Told[] }
  // a service that is going down answers with nothing that it could have meant
  if (refusals === undefined) throw new Unreached('the service does not answer')
  throw new Refused(response.status, refusals as Refused['refusals'])
}

export const state = (job: string, statement: Statement): Promise<Stated> =>
  send('POST', `/api/jobs/${encodeURIComponent(job)}/statements`, statement)
