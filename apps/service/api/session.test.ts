import { got } from '@trueloop/host/chain/testing'
import { registerRows } from '@trueloop/host/shop'
import { signerFor } from '@trueloop/host/signing'
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { Sessions, usualLimits } from '../desk/sessions.ts'
import { contractOf } from './testing/contract.ts'
import { type DeskServed, passphrase, people, personRow, serveDesk } from './testing/desk.ts'

/** Oracles: RFC 6265 for the cookie, the register for who may sign, a clock set by hand, ajv for the form. */

let desk: DeskServed
let contract: ReturnType<typeof contractOf>
beforeAll(async () => {
  desk = await serveDesk()
  contract = contractOf((await desk.get('/api/openapi.json')).body as object)
})
afterAll(() => desk.end())
afterEach(() => vi.useRealTimers())

const codeOf = (body: unknown) => (body as { refusals: readonly { code: string }[] }).refusals[0]?.code
const session = async (headers = {}) => (await desk.get('/api/session', headers)).body as Record<string, unknown>

describe('signing in', () => {
  it('says before it who may, and at which level', async () => {
    const seen = await session()
    expect(contract('/api/session', 200, seen)).toEqual([])
    expect(seen).toMatchObject({ registers: true, idle_min: 30, demonstration: { passphrase: 'invented for a test' } })
    expect(seen.people).toEqual(people.map(([name, level]) => ({ name, level, may: true, key: true })))
    expect(seen).not.toHaveProperty('person')
  })

  it('opens a key in the memory of the service, under a cookie that no script reads', async () => {
    const { status, body, cookie } = await desk.send('POST', '/api/session', { name: 'B. Two', passphrase })
    expect([status, contract('/api/session', 200, body)]).toEqual([200, []])
    expect(cookie).toMatch(/^trueloop-4270=[\w-]{43}; Path=\/api; HttpOnly; SameSite=Strict$/)
    expect(body).toMatchObject({ person: { name: 'B. Two', level: 'II', until: '2099-12-31', due: [] } })
    expect(JSON.stringify(body)).not.toContain(passphrase)
    const own = { cookie: `other=1; ${cookie?.split(';')[0]}` }
    expect(await session(own)).toMatchObject({ person: { name: 'B. Two' } })
    expect(await session({ ...own, host: '127.0.0.1:4271' })).not.toHaveProperty('person')
    const locked = await desk.send('DELETE', '/api/session', undefined, own)
    expect(locked.cookie).toContain('Max-Age=0')
    expect(await session(own)).not.toHaveProperty('person')
  })

  it('is refused as the command refuses it, where the person looks, and slowed down', async () => {
    const wrong = { name: 'B. Two', passphrase: 'not these words at all' }
    const from = performance.now()
    for (let k = 0; k < 3; k++) {
      const { status, body } = await desk.send('POST', '/api/session', wrong)
      expect([status, codeOf(body)]).toEqual([403, 'keys/wrong-passphrase'])
      expect(contract('/api/jobs/{job}', 403, body)).toEqual([])
      expect(body).toMatchObject({ refusals: [{ found: expect.stringContaining('B. Two') }] })
    }
    expect(performance.now() - from).toBeGreaterThan(20 + 40 + 50)
    const nobody = await desk.send('POST', '/api/session', { name: 'Z. Nobody', passphrase })
    expect([nobody.status, codeOf(nobody.body)]).toEqual([403, 'signing/not-registered'])
    expect(nobody.body).toMatchObject({ refusals: [{ where: { path: 'name' } }] })
  })

  it('takes JSON of its form, and nothing else', async () => {
    const post = async (payload: string, type: string) => {
      const headers = { host: 'localhost', 'content-type': type }
      const answer = await desk.service.inject({ method: 'POST', url: '/api/session', payload, headers })
      return [answer.statusCode, codeOf(JSON.parse(answer.body))]
    }
    const good = JSON.stringify({ name: 'B. Two', passphrase })
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x'])
      expect(await post(good, type)).toEqual([415, 'service/not-json'])
    expect(await post('{', 'application/json')).toEqual([400, 'service/not-json'])
    expect(await post('{"name":"B. Two"}', 'application/json')).toEqual([400, 'service/not-a-statement'])
    expect(await post('{"name":"B. Two","passphrase":"x","__proto__":{}}', 'application/json')).toEqual([
      400,
      'service/not-json'
    ])
    expect(await post(JSON.stringify({ ...JSON.parse(good), more: 1 }), 'application/json')).toEqual([
      400,
      'service/not-a-statement'
    ])
    expect(await post(`"${'x'.repeat(1 << 20)}"`, 'application/json')).toEqual([413, 'service/too-large'])
  })

  it('is for pages of this service alone', async () => {
    for (const headers of [
      { origin: 'http://127.0.0.1:3000' },
      { 'sec-fetch-site': 'cross-site' },
      { host: 'evil.example' }
    ])
      for (const method of ['POST', 'DELETE'] as const) {
        const { status } = await desk.send(method, '/api/session', { name: 'B. Two', passphrase }, headers)
        expect([403, 421]).toContain(status)
      }
    expect((await desk.send('DELETE', '/api/session', undefined, { 'sec-fetch-site': 'none' })).status).toBe(403)
  })
})

describe('an open key', () => {
  const person = async () =>
    got(await desk.withArchive(async (archive) => signerFor('B. Two', archive, { home: desk.folder, passphrase })))
  const opened = async (now: () => number, until?: string) => {
    const sessions = new Sessions(usualLimits, now)
    const one = await person()
    return {
      sessions,
      token: got(await sessions.open('B. Two', async () => ({ ...one, ...(until && { until }) }))).token
    }
  }

  it('is locked by itself when nothing was asked for half an hour', async () => {
    let now = Date.now()
    const { sessions, token } = await opened(() => now)
    now += 29 * 60_000
    sessions.use(token)
    now += 29 * 60_000
    expect(sessions.find(token)).toBeDefined()
    now += 2 * 60_000
    expect(sessions.find(token)).toBeUndefined()
    now -= 60 * 60_000
    expect(sessions.find(token)).toBeUndefined()
  })

  it("and at the end of a certificate's last day", async () => {
    let now = new Date(2026, 2, 14, 23, 50).getTime()
    const { sessions, token } = await opened(() => now, '2026-03-14')
    expect(sessions.find(token)).toBeDefined()
    now = new Date(2026, 2, 15, 0, 5).getTime()
    expect(sessions.find(token)).toBeUndefined()
  })

  it('is one of a few', async () => {
    let now = Date.now()
    const { sessions, token } = await opened(() => now)
    const one = await person()
    for (let k = 0; k < usualLimits.most; k++) {
      now += 1
      await sessions.open('B. Two', async () => one)
    }
    expect(sessions.find(token)).toBeUndefined()
  })

  it('signs no more when the row of the register has changed', async () => {
    const own = await desk.as('D. Other')
    await desk.withArchive(async (archive) => {
      const { signer } = got(await signerFor('C. Three', archive, { home: desk.folder, passphrase }))
      const { signer: other } = got(await signerFor('D. Other', archive, { home: desk.folder, passphrase }))
      const row = {
        ...personRow('D. Other', 'II', other.row.key.public),
        near_vision: { examined: '2021-01-01', expires: '2099-12-31' }
      }
      got(await registerRows([row], { archive, signer }))
    })
    const asked = { id: 'd'.repeat(32), seen: desk.count, what: 'note', place: '1', text: 'late' }
    const { status, body } = await desk.send('POST', '/api/jobs/J/statements', asked, own)
    expect([status, codeOf(body)]).toEqual([401, 'service/register-changed'])
    expect(await session(own)).not.toHaveProperty('person')
  })
})
