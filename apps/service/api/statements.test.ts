import { checkJob } from '@trueloop/host/chain'
import { got } from '@trueloop/host/chain/testing'
import { closePlaces, decide, note } from '@trueloop/host/decide'
import { signerFor } from '@trueloop/host/signing'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { contractOf } from './testing/contract.ts'
import { type Answer, type DeskServed, entries, passphrase, serveDesk } from './testing/desk.ts'

/** Oracles: the record, which the test reads beside the service; the commands' own functions (host/decide); ajv. */

let desk: DeskServed
let contract: ReturnType<typeof contractOf>
beforeEach(async () => {
  desk = await serveDesk()
  contract = contractOf((await desk.get('/api/openapi.json')).body as object)
})
afterEach(() => desk.end())

let made = 0
const id = () => (++made).toString(16).padStart(32, '0')
type Own = { readonly cookie: string }
const reason = 'seen with the borescope: no edge there'
const classes = [{ indication: '1/2', class: 'nonrelevant' }]

async function say(
  own: Own | object,
  asked: object,
  job = 'J'
): Promise<Answer & { readonly code?: string; readonly path?: string }> {
  const sent = { id: id(), seen: desk.count, ...asked }
  const answer = await desk.send('POST', `/api/jobs/${job}/statements`, sent, own)
  expect(contract('/api/jobs/{job}/statements', answer.status, answer.body, 'post')).toEqual([])
  const [first] = (answer.body.refusals ?? []) as readonly { code: string; where?: { path?: string } }[]
  const path = first?.where?.path
  return { ...answer, ...(first && { code: first.code }), ...(path === undefined ? {} : { path }) }
}

const kinds = async () => (await desk.rows()).slice(desk.count).map(({ kind }) => kind)

describe('what a person states', () => {
  it('is recorded as the command records it, signed, and the answer says how the place stands', async () => {
    const own = await desk.as('B. Two')
    const faults = async () => got(await desk.withArchive((archive) => checkJob(archive, 'J', {}))).intact.faults
    const before = await faults()
    const { status, body } = await say(own, { what: 'decide', place: '1', classes, disposition: 'reject', reason })
    expect([status, body.recorded]).toEqual([200, 'now'])
    expect(body.places).toMatchObject([{ name: '1', state: 'reject', disposition: { by: 'B. Two', reason } }])
    const rows = await desk.rows()
    expect(body).toMatchObject({ count: rows.length, head: rows.at(-1)?.hash })
    expect(await kinds()).toEqual(['document-stored', 'interpreted', 'disposed'])
    // documents and recordings of an invented job are not there, before as after
    expect(await faults()).toEqual(before)
    const alone = await desk.withArchive(async (archive) => {
      got(await archive.append('K', 0, entries('K')))
      const { signer } = got(await signerFor('B. Two', archive, { home: desk.folder, passphrase }))
      const said = [{ indication: '1/2', class: 'nonrelevant' as const }]
      got(await decide({ place: '1', classes: said, disposition: 'reject', reason }, { archive, job: 'K', signer }))
      return replay(got(await archive.entries('K'))).places[0]?.state
    })
    expect(alone).toBe('reject')
  })

  it('goes through a whole day, and is taken back by a new entry', async () => {
    const [two, other] = [await desk.as('B. Two'), await desk.as('D. Other')]
    let seen = desk.count
    const next = async (own: Own, asked: object) => {
      const answer = await say(own, { ...asked, seen })
      expect(answer.code).toBeUndefined()
      seen = answer.body.count as number
      return answer.body as { entries: readonly { id: string; kind: string }[]; places: readonly { state: string }[] }
    }
    await next(two, { what: 'note', place: '1', text: 'the sleeve was loose' })
    await next(two, { what: 'decide', place: '1', classes, reason })
    const referred = await next(two, { what: 'decide', place: '1', disposition: 'refer' })
    const taken = await next(two, { what: 'withdraw', entry: referred.entries.at(-1)?.id, reason: 'the wrong place' })
    expect([referred.places[0]?.state, taken.places[0]?.state]).toEqual(['refer', 'relevant, not decided'])
    await next(two, { what: 'decide', place: '1', disposition: 'reject' })
    await next(other, { what: 'look again', place: '1', agrees: true })
    await next(two, { what: 'close places', places: ['1', '2'] })
    await next(two, { what: 'leave out', places: ['3'], reason: 'no access before the next shift' })
    await next(two, { what: 'hand over', to: 'D. Other', note: 'all closed' })
    await next(other, { what: 'take over' })
    await next(other, { what: 'close job' })
    await next(other, { what: 'open job again', reason: 'hole 3 can be reached now' })
    const state = replay(await desk.rows())
    expect(state.places[0]).toMatchObject({ state: 'reject', notes: [{ text: 'the sleeve was loose' }] })
    expect([state.closed, state.changes.length]).toEqual([undefined, 1])
  })

  it('may be a cut after a ream was chosen, with the refusals of the record', async () => {
    const own = await desk.as('B. Two')
    expect(await say(own, { what: 'cut', place: '1', aimed_mm: 6.5 })).toMatchObject({
      ...{ status: 422, code: 'record/no-ream-chosen', path: 'aimed_mm' }
    })
  })
})

describe('a statement that was sent before', () => {
  it('is no double, whatever has come since, and says that it is recorded already', async () => {
    const own = await desk.as('B. Two')
    const asked = { id: id(), what: 'decide', place: '1', classes, disposition: 'reject', reason }
    const first = await say(own, asked)
    await say(own, { what: 'close places', places: ['1'], seen: first.body.count })
    const count = (await desk.rows()).length
    const again = await say(own, asked)
    expect([again.status, again.body.recorded, again.body.entries]).toEqual([200, 'already', first.body.entries])
    expect((await desk.rows()).length).toBe(count)
  })

  it('is no double when it comes twice at the same time', async () => {
    const own = await desk.as('B. Two')
    const asked = { id: id(), what: 'note', place: '1', text: 'once' }
    const both = await Promise.all([say(own, asked), say(own, asked)])
    expect(both.map(({ body }) => body.recorded).sort()).toEqual(['already', 'now'])
    expect(await kinds()).toEqual(['document-stored', 'noted'])
  })

  it('is refused where its id is that of another one, or of another person', async () => {
    const own = await desk.as('B. Two')
    const asked = { id: id(), what: 'note', place: '1', text: 'once' }
    await say(own, asked)
    for (const [who, what] of [
      [own, { ...asked, text: 'twice' }],
      [await desk.as('D. Other'), asked]
    ] as const)
      expect(await say(who, what)).toMatchObject({ status: 409, code: 'service/id-used', path: 'id' })
    expect(await kinds()).toEqual(['document-stored', 'noted'])
  })
})

describe('a record that has gone on since the person looked', () => {
  const byCommand = (work: (signing: Parameters<typeof note>[1]) => Promise<unknown>) =>
    desk.withArchive(async (archive) => {
      const { signer } = got(await signerFor('D. Other', archive, { home: desk.folder, passphrase }))
      return work({ archive, job: 'J', signer })
    })

  it('refuses a decision on a place that was changed, and says by whom and what', async () => {
    const own = await desk.as('B. Two')
    await byCommand(async (signing) => got(await note({ place: '1', text: 'wait for the Level III' }, signing)))
    const answer = await say(own, { what: 'decide', place: '1', disposition: 'reject', classes, reason })
    expect(answer).toMatchObject({ status: 409, code: 'service/changed-meanwhile', path: 'seen' })
    expect(JSON.stringify(answer.body)).toMatch(/"noted\\" by D\. Other/)
    expect(await kinds()).toEqual(['document-stored', 'noted'])
    expect(
      (await say(own, { what: 'decide', place: '1', disposition: 'reject', classes, reason, seen: desk.count + 2 }))
        .status
    ).toBe(200)
  })

  it('takes one on a place of which nothing was changed', async () => {
    const own = await desk.as('B. Two')
    await byCommand(async (signing) => got(await closePlaces(['2'], signing)))
    expect((await say(own, { what: 'decide', place: '1', disposition: 'reject', classes, reason })).status).toBe(200)
  })

  it('is another one where the page has seen more than there is', async () => {
    const own = await desk.as('B. Two')
    expect(await say(own, { what: 'note', place: '1', text: 'x', seen: 999 })).toMatchObject({
      ...{ status: 409, code: 'service/changed-meanwhile' }
    })
  })

  it('refuses what is of the whole job where the job was handed over or closed', async () => {
    const own = await desk.as('B. Two')
    await say(await desk.as('D. Other'), { what: 'hand over', to: 'C. Three', note: 'all open' })
    expect(await say(own, { what: 'close job' })).toMatchObject({ status: 409, code: 'service/changed-meanwhile' })
  })
})

describe('refusals', () => {
  it('are those of the command, in the same words, where the person looks', async () => {
    const own = await desk.as('B. Two')
    const noReason = { what: 'decide', place: '1', classes }
    expect(await say(own, noReason)).toMatchObject({ status: 422, code: 'record/no-reason', path: 'reason' })
    const byCommand = await desk.withArchive(async (archive) => {
      const { signer } = got(await signerFor('B. Two', archive, { home: desk.folder, passphrase }))
      const said = [{ indication: '1/2', class: 'nonrelevant' as const }]
      return decide({ place: '1', classes: said }, { archive, job: 'J', signer })
    })
    const { refused: _, ...words } = byCommand as unknown as Record<string, unknown>
    expect((await say(own, noReason)).body).toEqual({ refusals: [{ ...words, where: { path: 'reason' } }] })
    const asked = [
      [{ what: 'decide', place: '9', disposition: 'reject' }, 404, 'decide/no-such-place', 'place'],
      [
        { what: 'decide', place: '1', classes: [{ ...classes[0], indication: '1/9' }], reason },
        404,
        'decide/no-such-indication',
        'classes'
      ],
      [{ what: 'look again', place: '1', agrees: true }, 422, 'decide/nothing-decided', 'place'],
      [{ what: 'close places', places: ['1'] }, 422, 'record/place-open', 'places'],
      [{ what: 'take over' }, 422, 'decide/no-handover', undefined],
      [{ what: 'withdraw', entry: 'nothing', reason }, 404, 'service/no-such-entry', 'entry'],
      [{ what: 'decide', place: '2', disposition: 'clean-up ream' }, 422, 'evaluate/ream-no-rules', 'disposition']
    ] as const
    for (const [sent, status, code, path] of asked)
      expect({ sent, ...(await say(own, sent)) }).toMatchObject({ status, code, ...(path && { path }) })
    expect(await kinds()).toEqual([])
  })

  it('of who may not, or has not signed in', async () => {
    const asked = { what: 'decide', place: '1', disposition: 'reject' }
    expect(await say({}, asked)).toMatchObject({ status: 401, code: 'service/not-signed-in' })
    expect(await say({ cookie: 'trueloop-4270=made-up' }, asked)).toMatchObject({ status: 401 })
    expect(await say(await desk.as('A. One'), asked)).toMatchObject({ status: 403, code: 'record/no-right' })
    expect(await say(await desk.as('B. Two'), asked, 'none')).toMatchObject({
      status: 404,
      code: 'service/no-such-job'
    })
    expect(await say(await desk.as('B. Two'), asked, 'shop')).toMatchObject({ status: 404 })
  })

  it('of what is no statement', async () => {
    const own = await desk.as('B. Two')
    const wrong = [
      [{ what: 'decide', place: '1', id: 'short' }, 'id'],
      [{ what: 'decide', place: '1', seen: -1 }, 'seen'],
      [{ what: 'decide', place: '', disposition: 'reject' }, 'place'],
      [{ what: 'decide', place: '1', disposition: 'no crack' }, 'disposition'],
      [{ what: 'note', place: '1', text: '   ' }, 'text'],
      [{ what: 'close places', places: [] }, 'places'],
      [{ what: 'nothing' }, 'what'],
      [{ what: 'take over', more: 1 }, 'body']
    ] as const
    for (const [sent, path] of wrong)
      expect({ sent, ...(await say(own, sent)) }).toMatchObject({ status: 400, code: 'service/not-a-statement', path })
  })
})
