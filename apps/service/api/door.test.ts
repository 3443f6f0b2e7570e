import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Refusal } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { buildService, type RecordSource } from '../index.ts'
import { contractOf } from './testing/contract.ts'
import { type Served, serve } from './testing/served.ts'

/**
 * Oracles: HTTP status codes (RFC 9110); Fetch Metadata Request Headers (W3C) and RFC 6454 for what a browser says of the
 * page that asks; ajv with the schemas of the document.
 */

let served: Served
let contract: ReturnType<typeof contractOf>
const hash = 'a'.repeat(64)
const paths = ['/api/jobs', '/api/jobs/J', '/api/jobs/J/places/hole/1', `/api/jobs/J/examinations/${hash}`]

beforeAll(async () => {
  served = serve()
  contract = contractOf((await served.get('/api/openapi.json')).body as object)
})
afterAll(() => served.end())

const locked: Refusal = {
  ...{ refused: true, code: 'archive/locked', where: { file: 'archive.db' } },
  ...{ found: 'another program', needed: 'the archive alone', remedy: 'end the other' }
}
const throwing = (): never => {
  throw new Error('words of the inside')
}
const sourceOf = (answer: () => Refusal): RecordSource => ({
  ...{ jobs: async () => answer(), job: async () => answer(), report: async () => answer() },
  ...{ place: async () => answer(), examination: async () => answer(), wall: async () => answer() },
  ...{ preview: async () => answer(), document: async () => answer(), recording: async () => answer() },
  drawing: async () => answer()
})

/** The codes of an answer, whose form is held against the document. */
const codesOf = (body: unknown, status: number): readonly string[] => {
  expect(contract('/api/jobs/{job}', status, body)).toEqual([])
  return (body as { refusals: readonly Refusal[] }).refusals.map(({ code }) => code)
}

const ask = async (url: string, headers = {}): Promise<readonly [number, readonly string[]]> => {
  const { status, body } = await served.get(url, headers)
  return [status, codesOf(body, status)]
}

describe('what is not there', () => {
  it('is told in the same three parts everywhere', async () => {
    expect(await ask('/api/jobs/J')).toEqual([404, ['service/no-such-job']])
    expect(await ask('/api/jobs/J/places/hole/1')).toEqual([404, ['service/no-such-place']])
    for (const part of ['', '/wall', '/preview'])
      expect(await ask(`/api/jobs/J/examinations/${hash}${part}`)).toEqual([404, ['service/no-such-examination']])
    expect(await ask(`/api/jobs/J/documents/${hash}`)).toEqual([404, ['service/no-such-document']])
    expect(await ask(`/api/jobs/J/recordings/${hash}`)).toEqual([404, ['service/no-such-recording']])
    for (const url of ['/api/', '/api/nowhere', '/api/jobs/J/places', '/api/jobs/J/places/hole/'])
      expect((await ask(url))[1].length).toBe(1)
    expect(await ask('/api/nowhere')).toEqual([404, ['service/no-such-route']])
  })

  it('takes nothing but GET', async () => {
    for (const method of ['POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'] as const)
      for (const url of paths) {
        const { statusCode, body } = await served.service.inject({ method, url, headers: { host: 'localhost' } })
        expect([statusCode, codesOf(JSON.parse(body), statusCode)]).toEqual([404, ['service/no-such-route']])
      }
  })

  it("and the shop's own record is no job", async () => {
    const job = `/api/jobs/${encodeURIComponent(shopChain)}`
    expect(await ask(job)).toEqual([404, ['service/no-such-job']])
    expect((await ask(`${job}/places/hole/1`))[0]).toBe(404)
    expect((await ask(`${job}/examinations/${hash}`))[0]).toBe(404)
  })
})

describe('names', () => {
  it('lead to no file', async () => {
    const up = ['..%2F..%2Fetc%2Fpasswd', '%2e%2e%2farchive.db', '..%5c..%5cetc', encodeURIComponent('/etc/passwd')]
    writeFileSync(join(served.folder, 'secret.json'), '{}')
    for (const one of [...up, '..%2F..%2Fsecret', hash.toUpperCase(), hash.slice(1), `${hash}a`, `${hash}%0a`]) {
      expect(await ask(`/api/jobs/J/examinations/${one}`)).toEqual([400, ['service/not-a-name']])
      expect(await ask(`/api/jobs/${one}`)).toEqual([404, ['service/no-such-job']])
      expect(await ask(`/api/jobs/J/places/${one}/1`)).toEqual([400, ['service/not-a-name']])
    }
  })

  it('may be long, and in any script', async () => {
    expect(await ask(`/api/jobs/${encodeURIComponent('検'.repeat(200))}`)).toEqual([404, ['service/no-such-job']])
  })
})

describe('an archive in trouble', () => {
  it('is told as the archive tells it, with 503', async () => {
    const service = buildService(sourceOf(() => locked))
    for (const url of paths) {
      const { statusCode, body } = await service.inject({ url, headers: { host: 'localhost' } })
      const { refused: _, ...reason } = locked
      expect([statusCode, JSON.parse(body)]).toEqual([503, { refusals: [reason] }])
      expect(codesOf(JSON.parse(body), 503)).toEqual(['archive/locked'])
    }
  })

  it('and a fault of our own keeps its words inside', async () => {
    const service = buildService(sourceOf(throwing))
    for (const url of paths) {
      const { statusCode, body } = await service.inject({ url, headers: { host: 'localhost' } })
      expect([statusCode, codesOf(JSON.parse(body), 500)]).toEqual([500, ['service/fault']])
      expect(body).not.toContain('words of the inside')
    }
  })
})

describe('who may ask', () => {
  const host = '127.0.0.1:4270'
  const spelled = ['/%61pi/jobs', '/api/openapi.json', '/api/nowhere', ...paths]

  it('is no page of another site, or of another port', async () => {
    const strangers = [
      ...['cross-site', 'same-site', 'something new'].map((site) => ({ 'sec-fetch-site': site })),
      ...['http://evil.example', 'null', 'http://127.0.0.1:3000', `https://${host}`, `http://${host}.evil.example`].map(
        (origin) => ({ origin })
      ),
      { origin: `http://${host}`, 'sec-fetch-site': 'cross-site' }
    ]
    for (const url of spelled)
      for (const headers of strangers)
        expect(await ask(url, { host, ...headers })).toEqual([403, ['service/other-site']])
  })

  it('is a page of this service, a person at the address line, a program', async () => {
    for (const headers of [
      { origin: `http://${host}`, 'sec-fetch-site': 'same-origin' },
      { 'sec-fetch-site': 'same-origin' },
      { 'sec-fetch-site': 'none' },
      {}
    ])
      expect((await served.get('/api/jobs', { host, ...headers })).status).toBe(200)
  })

  it('names this computer', async () => {
    for (const other of ['evil.example', '10.0.0.1', 'localhost.evil.example:4270'])
      for (const url of ['/api/nowhere', '/api/openapi.json', ...paths])
        expect(await ask(url, { host: other })).toEqual([421, ['service/other-host']])
    expect((await served.service.inject({ url: '/%61pi/jobs', headers: { host: 'evil.example' } })).statusCode).toBe(
      421
    )
  })

  it('gets the strict headers with every answer', async () => {
    for (const url of [...paths, '/api/openapi.json', '/api/nowhere'])
      for (const site of ['same-origin', 'cross-site']) {
        const { headers } = await served.service.inject({ url, headers: { host, 'sec-fetch-site': site } })
        expect(headers['content-type']).toMatch(/^application\/json/)
        expect(headers['content-security-policy']).toMatch(/^default-src 'none';/)
        expect(headers['x-content-type-options']).toBe('nosniff')
        expect(headers['cross-origin-resource-policy']).toBe('same-origin')
        expect(headers).not.toHaveProperty('access-control-allow-origin')
        expect(headers['cache-control']).toBe('no-store')
      }
  })
})

describe('the document', () => {
  it('lists every address, each with its answers and refusals', async () => {
    const { body } = await served.get('/api/openapi.json')
    const document = body as { openapi: string; paths: Record<string, Record<string, { responses: object }>> }
    expect(document.openapi).toBe('3.1.0')
    const ofJob = [
      ...[
        '',
        '/documents/{hash}',
        '/drawings',
        '/drawings/{hash}',
        '/events',
        '/examinations/{hash}',
        '/examinations/{hash}/preview',
        '/examinations/{hash}/wall'
      ],
      ...['/pace', '/places/{of}/{name}', '/recordings', '/recordings/{hash}', '/statements', '/watch']
    ]
    const all = ['/api/jobs', ...ofJob.map((one) => `/api/jobs/{job}${one}`), '/api/service', '/api/session']
    expect(Object.keys(document.paths).sort()).toEqual(all)
    const { '/api/jobs/{job}/events': stream, ...others } = document.paths
    expect(stream).toHaveProperty('get')
    for (const way of Object.values(others).flatMap((path) => Object.values(path)))
      expect(Object.keys(way.responses)).toEqual(
        expect.arrayContaining(['200', '400', '403', '404', '421', '500', '503'])
      )
  })

  it('says what could be misread: a cell of 0 is no finding of nothing', async () => {
    const text = JSON.stringify((await served.get('/api/openapi.json')).body)
    expect(text).toContain('the zones say what was examined')
    expect(text).toContain('turned against the technique')
    expect(text).not.toContain('JobBriefInput')
  })

  it('is a judge that finds a key too many, one too few and a wrong one', () => {
    const good = { refusals: [{ code: 'a', found: 'b', needed: 'c', remedy: 'd' }] }
    expect(contract('/api/jobs', 404, good)).toEqual([])
    expect(contract('/api/jobs', 404, { ...good, more: 1 })).toHaveLength(1)
    expect(contract('/api/jobs', 404, { refusals: [{ ...good.refusals[0], found: 1 }] })).toHaveLength(1)
    expect(contract('/api/jobs', 404, {})).toHaveLength(1)
  })
})
