import { Readable } from 'node:stream'
import { checkJob, mostDrawingBytes } from '@trueloop/host/chain'
import { got } from '@trueloop/host/chain/testing'
import { sha256 } from '@trueloop/host/hash'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { contractOf } from './testing/contract.ts'
import { type Answer, type DeskServed, serveDesk } from './testing/desk.ts'

/** Oracles: the record, which the test reads beside the service; the bytes that it sent; ajv. */

const svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"><script>alert(1)</script></svg>'

let desk: DeskServed
let contract: ReturnType<typeof contractOf>
let own: { readonly cookie: string }
beforeEach(async () => {
  desk = await serveDesk()
  contract = contractOf((await desk.get('/api/openapi.json')).body as object)
  own = await desk.as('B. Two')
})
afterEach(() => desk.end())

const binary = { 'content-type': 'application/octet-stream' }
async function bring(bytes: Buffer | string, query = 'file=panel.svg', headers: object = { ...own, ...binary }) {
  const answer = await desk.send('PUT', `/api/jobs/J/drawings?${query}`, Readable.from([Buffer.from(bytes)]), headers)
  expect(contract('/api/jobs/{job}/drawings', answer.status, answer.body, 'put')).toEqual([])
  return answer
}
const codeOf = ({ body }: Answer) => (body.refusals as readonly { readonly code: string }[])[0]?.code
const drawings = async () => replay(await desk.rows()).drawings

let made = 0
async function say(asked: object, seen: number, as = own): Promise<Answer> {
  const sent = { id: (++made).toString(16).padStart(32, '0'), seen, ...asked }
  return desk.send('POST', '/api/jobs/J/statements', sent, as)
}
const place = (name: string, x?: number, y = 0.5) => ({
  place: name,
  ...(x === undefined ? {} : { at: { x, y, page: 1 } })
})
const count = async () => (await desk.rows()).length

describe('a drawing that a page sends', () => {
  it('is kept and recorded once, signed, and shown as the image that it is, which runs nothing', async () => {
    const { status, body } = await bring(svg, 'file=..%2Fetc%2Fpanel.svg&title=Panel')
    expect([status, body]).toMatchObject([200, { sha256: sha256(svg), file: 'panel.svg', title: 'Panel', places: [] }])
    expect((await desk.rows()).slice(desk.count).map(({ kind }) => kind)).toEqual(['document-stored', 'drawing-kept'])
    const length = await count()
    expect((await bring(svg, 'file=panel.svg&title=Panel')).status).toBe(200)
    expect(await count()).toBe(length)
    const { faults } = got(await desk.withArchive((archive) => checkJob(archive, 'J', {}))).intact
    expect(faults.map(({ place: where }) => where).join()).not.toContain('panel.svg')
    const shown = await desk.service.inject({
      url: `/api/jobs/J/drawings/${sha256(svg)}`,
      headers: { host: '127.0.0.1:4270' }
    })
    expect([shown.statusCode, shown.body]).toEqual([200, svg])
    expect(shown.headers).toMatchObject({ 'content-type': 'image/svg+xml', 'x-content-type-options': 'nosniff' })
    const policy = String(shown.headers['content-security-policy'])
    expect(policy).toContain('sandbox')
    expect(policy).toContain("default-src 'none'")
    expect(policy).not.toContain('script')
  })

  it('has places put on it, moved and taken off, each by an entry', async () => {
    await bring(svg)
    const drawing = sha256(svg)
    const what = 'place on a drawing'
    const stated = await say({ what, drawing, marks: [place('1', 0.2), place('2', 0.4)] }, await count())
    expect(stated.status).toBe(200)
    await say({ what, drawing, marks: [place('2', 0.6)] }, await count())
    expect((await drawings())[0]?.places).toMatchObject([
      { name: '1', x: 0.2 },
      { name: '2', x: 0.6 }
    ])
    await say({ what, drawing, marks: [place('1')] }, await count())
    const { body } = await desk.get('/api/jobs/J')
    expect(contract('/api/jobs/{job}', 200, body)).toEqual([])
    expect(body).toMatchObject({ drawings: [{ sha256: drawing, by: 'B. Two', places: [{ name: '2', x: 0.6 }] }] })
    expect((await desk.rows()).filter(({ kind }) => kind === 'places-drawn')).toHaveLength(3)
  })

  it('is taken back by who has brought it, and then not shown any more', async () => {
    const { body } = await bring(svg)
    const withdraw = { what: 'withdraw', entry: body.id, reason: 'of another panel' }
    expect(codeOf(await say(withdraw, await count(), await desk.as('D. Other')))).toBe('record/other-person')
    expect((await say(withdraw, await count())).status).toBe(200)
    expect(await drawings()).toEqual([])
    const gone = await desk.get(`/api/jobs/J/drawings/${sha256(svg)}`)
    expect([gone.status, codeOf(gone as Answer)]).toEqual([404, 'service/no-such-drawing'])
  })
})

describe('what is no drawing, or none of this job', () => {
  it.each<[string, number, () => Promise<Answer>]>([
    ['service/not-signed-in', 401, () => bring(svg, 'file=panel.svg', binary)],
    ['chain/not-a-drawing', 422, () => bring('time_s,x_V\n', 'file=list.csv')],
    [
      'service/too-large',
      413,
      () => bring(svg, 'file=p.svg', { ...own, ...binary, 'content-length': `${mostDrawingBytes + 1}` })
    ],
    ['service/not-a-statement', 400, () => bring(svg, 'file=')],
    [
      'record/nothing-to-decide',
      422,
      async () => say({ what: 'place on a drawing', drawing: 'a'.repeat(64), marks: [place('1', 0.2)] }, await count())
    ],
    [
      'decide/no-such-place',
      404,
      async () => say({ what: 'place on a drawing', drawing: sha256(svg), marks: [place('9', 0.2)] }, await count())
    ],
    [
      'service/not-a-statement',
      400,
      async () => say({ what: 'place on a drawing', drawing: sha256(svg), marks: [place('1', 1.2)] }, await count())
    ]
  ])('%s', async (code, status, asked) => {
    await bring(svg)
    const before = await count()
    const answer = await asked()
    expect([codeOf(answer), answer.status, await count()]).toEqual([code, status, before])
  })
})
