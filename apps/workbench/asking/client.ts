import type { Refusal } from '@trueloop/ground/refusal'
import type { components, paths } from '@trueloop/service/client'
import createClient from 'openapi-fetch'

/** Calls the service that has sent this page, and no other. */
export const client = createClient<paths>({ baseUrl: '/' })

type Nouns = components['schemas']
export type JobBrief = Nouns['JobBrief']
export type JobSummary = Nouns['JobSummary']
export type PlaceDetail = Nouns['PlaceDetail']
export type StoredExamination = Nouns['StoredExamination']
export type PlaceRow = JobSummary['places'][number]
export type State = PlaceRow['state']
export type PlaceKey = Pick<PlaceRow, 'of' | 'name'>

/** The service said no, in three parts. */
export class Refused extends Error {
  readonly refusals: readonly Omit<Refusal, 'refused'>[]
  readonly status: number

  constructor(status: number, refusals: readonly Omit<Refusal, 'refused'>[]) {
    super(refusals.map(({ found }) => found).join('; '))
    this.refusals = refusals
    this.status = status
  }
}

/** Nobody answered: the service does not run, or stopped in the middle. */
export class Unreached extends Error {}

type Told<P extends keyof paths> = paths[P]['get'] extends {
  readonly responses: { readonly 200: { readonly content: { readonly 'application/json': infer Body } } }
}
  ? Body
  : never
type Names<P extends keyof paths> = paths[P]['get'] extends { readonly parameters: { readonly path: infer Path } }
  ? Path
  : Record<string, never>

/**
 * What lies at an address of the document. Throws `Refused` and `Unreached`. (The library would take the readonly lists of
 * the types for objects; so the types go by here.)
 */
export async function read<P extends keyof paths>(path: P, names: Names<P>): Promise<Told<P>> {
  const answer = client.GET(path as '/api/jobs', { params: { path: names } } as { readonly [name: string]: unknown })
  const { data, error, response } = await answer.catch((): never => {
    throw new Unreached('the service does not answer')
  })
  if (data !== undefined) return data as unknown as Told<P>
  throw new Refused(response.status, refusalsIn(error, response.status))
}

function refusalsIn(error: unknown, status: number): Refused['refusals'] {
  const { refusals } = (error ?? {}) as { readonly refusals?: Refused['refusals'] }
  return refusals ?? [notOurs(status)]
}

const notOurs = (status: number) => ({
  code: 'workbench/not-the-service',
  found: `an answer ${status} that is not of this program`,
  needed: 'the service that has sent this page',
  remedy: 'open the address that the program printed when it started'
})

/** Bytes by address. Throws `Refused` and `Unreached`. */
export async function bytesAt(address: string, signal?: AbortSignal): Promise<ArrayBuffer> {
  const response = await fetch(address, signal === undefined ? {} : { signal }).catch((error: unknown): never => {
    if (error instanceof DOMException && error.name === 'AbortError') throw error
    throw new Unreached('the service does not answer')
  })
  if (response.ok) return response.arrayBuffer()
  throw new Refused(response.status, refusalsIn(await response.json().catch(() => undefined), response.status))
}
