import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { runChain } from '@trueloop/host/chain'
import { demoJob } from '@trueloop/host/chain/testing'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { contractOf } from './testing/contract.ts'
import { type DeskServed, serveDesk } from './testing/desk.ts'

/** Oracles: the truth of the demonstration (a crack at the entry corner of hole P02), and the record; ajv for the form. */

let desk: DeskServed
let contract: ReturnType<typeof contractOf>
let examination = ''
const path = '/api/jobs/DEMO-1'
const place = `${path}/places/hole/P02`

beforeAll(async () => {
  desk = await serveDesk()
  const folder = join(desk.folder, 'made')
  mkdirSync(folder)
  const sheet = demoJob(folder, ['reference-start.wav', 'hole-P02.wav'])
  const technique = { ...sheet.technique, class_first: true }
  await desk.withArchive(async (archive) => {
    const run = await runChain({ sheet: { ...sheet, technique }, folder, archive, registers: false })
    expect(run.refusals).toEqual([])
    const scan = run.outcomes.find(({ did }) => did === 'examined')
    examination = scan?.did === 'examined' ? scan.examination : ''
  })
  contract = contractOf((await desk.get('/api/openapi.json')).body as object)
})
afterAll(() => desk.end())

interface Seen {
  readonly indications: readonly {
    readonly id: string
    readonly hidden?: true
    readonly class: string
    readonly crossedAlarm: boolean
  }[]
}
const at = async (url: string, headers = {}) => {
  const { status, body: all } = await desk.get(url, headers)
  // another job lies beside it, which hides nothing
  const body = Array.isArray(all) ? all.filter(({ job }) => job === 'DEMO-1') : all
  return { status, body: body as Seen & Record<string, unknown>, text: JSON.stringify(body) }
}
const codeOf = (body: unknown) => (body as { refusals?: readonly { code: string }[] }).refusals?.[0]?.code
/** Nothing of what the program proposes: no class, no cause, no crossing, no state that follows from it. */
const tells = (text: string) =>
  /"class":"relevant"|"cause"|"crossedAlarm":true|"relevant, not decided"(?!,"count":0)|"relevant":1|"aboveAlarm":1/.test(
    text
  )
const ways = [place, path, '/api/jobs', `${path}/examinations/${'H'}`]
const urlOf = (way: string) => way.replace('/H', `/${examination}`)

const nothingTold = async (headers: object) => {
  for (const way of ways) {
    const { status, text } = await at(urlOf(way), headers)
    expect({ way, status, tells: tells(text) }).toEqual({ way, status: 200, tells: false })
  }
  for (const way of [`${path}/documents/${examination}`, `${path}/examinations/${examination}/preview`])
    expect(codeOf((await at(way, headers)).body)).toBe('service/class-first')
}

describe('a technique that asks for the class first', () => {
  it('has nothing told of a proposal, to whoever reads, before this person has stated a class; then everything, to them', async () => {
    const [two, other] = [await desk.as('B. Two'), await desk.as('D. Other')]
    const before = await at(place, two)
    expect(contract('/api/jobs/{job}/places/{of}/{name}', 200, before.body)).toEqual([])
    expect(before.body).toMatchObject({ state: 'undecided', relevant: 0, undecided: before.body.indications.length })
    expect(before.body.indications.length).toBeGreaterThan(0)
    for (const one of before.body.indications) expect(one).toMatchObject({ hidden: true, class: 'undecided' })
    expect((await at(`${path}/examinations/${examination}/wall`, two).catch(() => ({ status: 200 }))).status).toBe(200)
    await nothingTold({})
    await nothingTold(two)
    expect((await desk.service.inject({ url: '/jobs/DEMO-1/report', headers: { host: 'localhost' } })).statusCode).toBe(
      403
    )

    const classes = before.body.indications.map(({ id }) => ({ indication: id, class: 'relevant' }))
    const asked = {
      id: 'b'.repeat(32),
      seen: (await desk.rows('DEMO-1')).length,
      what: 'decide',
      place: 'P02',
      classes
    }
    const done = await desk.send('POST', `${path}/statements`, asked, two)
    expect([done.status, contract('/api/jobs/{job}/statements', done.status, done.body, 'post')]).toEqual([200, []])
    const said = (await desk.rows('DEMO-1'))
      .filter(({ kind }) => kind === 'interpreted')
      .map(({ body }) => JSON.parse(body))
    expect(said).toHaveLength(classes.length)
    for (const one of said) expect(one).toMatchObject({ before_proposal: true, by: { name: 'B. Two' } })

    const after = await at(place, two)
    expect(after.body.indications.some(({ crossedAlarm }) => crossedAlarm)).toBe(true)
    expect(after.text).not.toContain('"hidden"')
    expect(after.text).toContain('"beforeProposal":true')
    expect((await at(urlOf(ways[3] ?? ''), two)).body.document).toMatchObject({ indications: [{}] })
    for (const way of [`${path}/documents/${examination}`, `${path}/examinations/${examination}/preview`])
      expect((await at(way, two)).status).toBe(200)
    await nothingTold(other)
    await nothingTold({})
    expect((await at(place, other)).text).not.toContain('B. Two')
    expect((await desk.service.inject({ url: '/jobs/DEMO-1/report', headers: { host: 'localhost' } })).statusCode).toBe(
      200
    )
  })

  it('has a class that was stated after it not called a class stated before', async () => {
    const two = await desk.as('B. Two')
    const { body } = await at(place, two)
    const [first] = body.indications
    const asked = { id: 'c'.repeat(32), seen: (await desk.rows('DEMO-1')).length, what: 'decide', place: 'P02' }
    const classes = [{ indication: first?.id, class: 'damage, not a crack' }]
    await desk.send('POST', `${path}/statements`, { ...asked, classes, reason: 'a scratch' }, two)
    const last = JSON.parse((await desk.rows('DEMO-1')).at(-1)?.body ?? '{}')
    expect(last).toMatchObject({ kind: 'interpreted', class: 'damage, not a crack' })
    expect(last).not.toHaveProperty('before_proposal')
  })
})
