import { readFileSync, writeFileSync } from 'node:fs'
import type { JobBrief, JobSummary, PlaceDetail, StoredExamination } from '@trueloop/host/chain'
import openapi, { astToString } from 'openapi-typescript'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { components, paths } from './client-types.ts'
import { type Served, serve } from './testing/served.ts'

/**
 * Oracles: openapi-typescript, which reads the document as any client would; tsc, which holds what it made of it against
 * the types that the service answers with. UPDATE_GOLDEN=1 writes the client's types anew.
 */

let served: Served
beforeAll(() => {
  served = serve()
})
afterAll(() => served.end())

/** As JSON sends it: a key without a value is not sent. */
type Sent<T> = { readonly [Key in keyof T]: Sent<Exclude<T[Key], undefined>> }

const path = new URL('./client-types.ts', import.meta.url)
const head = '/** Made from /api/openapi.json by client.test.ts: see there. Types only; nothing of it runs. */\n\n'

describe("the client's types", () => {
  it('are those of the document', async () => {
    const { body } = await served.get('/api/openapi.json')
    const made = head + astToString(await openapi(JSON.stringify(body), { immutable: true }))
    if (process.env.UPDATE_GOLDEN === '1') writeFileSync(path, made)
    expect(readFileSync(path, 'utf8')).toBe(made)
  })

  it('take what the service answers, and know what no answer has', async () => {
    type Nouns = components['schemas']
    const answers = [
      (one: Sent<JobBrief>): Nouns['JobBrief'] => one,
      (one: Sent<JobSummary>): Nouns['JobSummary'] => one,
      (one: Sent<PlaceDetail>): Nouns['PlaceDetail'] => one,
      (one: Sent<StoredExamination>): Nouns['StoredExamination'] => one,
      // @ts-expect-error a job in short has no places
      (one: Sent<JobBrief>): Nouns['JobSummary'] => one
    ]
    const asked: keyof paths = '/api/jobs'
    const { body } = await served.get(asked)
    const list = body as paths['/api/jobs']['get']['responses']['200']['content']['application/json']
    expect(answers).toHaveLength(5)
    expect(list.map(({ job }) => job)).toEqual([])
  })
})
