import type { paths } from '@trueloop/service/client'
import type { Told } from '../shell/told.ts'
import { Refused, Unreached } from './client.ts'

/** What a person may state, and what becomes of it: word for word as the document of the service has it. */

type Stating = paths['/api/jobs/{job}/statements']['post']
export type Statement = NonNullable<Stating['requestBody']>['content']['application/json']
export type Stated = Stating['responses'][200]['content']['application/json']

type Without<T, K extends string> = T extends unknown ? Omit<T, K> : never
/** A statement before it has its id, and the number of entries that the person had before their eyes. */
export type Said = Without<Statement, 'id' | 'seen'>

type Deciding = Extract<Said, { readonly what: 'decide' }>
export type ClassSaid = NonNullable<Deciding['classes']>[number]['class']
export type Disposition = NonNullable<Deciding['disposition']>

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
  return answerOf<T>(response)
}

/** What the service answered. Throws `Refused`, and `Unreached` where it is no answer of the service. */
export async function answerOf<T>(response: Response): Promise<T> {
  const answer: unknown = await response.json().catch(() => undefined)
  if (response.ok && answer !== undefined) return answer as T
  const { refusals } = (answer ?? {}) as { readonly refusals?: readonly Told[] }
  // a service that is going down answers with nothing that it could have meant
  if (refusals === undefined) throw new Unreached('the service does not answer')
  throw new Refused(response.status, refusals as Refused['refusals'])
}

export const state = (job: string, statement: Statement): Promise<Stated> =>
  send('POST', `/api/jobs/${encodeURIComponent(job)}/statements`, statement)
