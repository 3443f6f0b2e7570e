import type { EntryRow } from '@trueloop/job/record'
import { invent, signedBy } from '@trueloop/job/record/testing'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { contractOf } from '../api/testing/contract.ts'
import { type DeskServed, serveDesk } from '../api/testing/desk.ts'
import { paceOf } from './pace.ts'

/** Oracle: times set by hand; ajv for the form. */

const two = invent('B. Two')
const note = (time: string, kind = 'left-out', name = '1') =>
  signedBy(
    two,
    {
      ...{ kind, version: 1, id: `${time} ${kind} ${name}`, at: { time, known: 'clock of this computer' } },
      ...{ subject: { of: 'hole', name }, reason: 'as said' }
    } as never,
    { job: 'J', head: 'a'.repeat(64) }
  )
const at = (clock: string, day = '2026-03-14') => `${day}T${clock}:00.000+01:00`

describe('the pace of a day', () => {
  it('has times, the longest stretch without a break, the one that lasts, and nothing of another day', () => {
    const times = ['08:00', '08:10', '08:25', '08:41', '09:30', '09:40']
    const entries = [
      note(at('08:00', '2026-03-13')),
      ...times.map((time) => note(at(time))),
      note(at('09:40'), 'place-closed')
    ]
    const rows = entries.map((entry, seq) => ({ seq, kind: entry.kind, body: JSON.stringify(entry) }) as EntryRow)
    const { people, break_min } = paceOf(rows, '2026-03-14')
    expect([people.length, break_min]).toEqual([1, 15])
    expect(people[0]?.decisions.map(({ at: time }) => time.slice(11, 16))).toEqual(times)
    expect(people[0]).toMatchObject({
      longest: { from: at('08:00'), until: at('08:25'), minutes: 25 },
      latest: { from: at('09:30'), until: at('09:40'), minutes: 10 }
    })
    expect(paceOf(rows, '2026-03-15').people).toEqual([])
  })
})

describe('its address', () => {
  let desk: DeskServed
  beforeAll(async () => {
    desk = await serveDesk()
  })
  afterAll(() => desk.end())

  it('says what was decided today, by whom', async () => {
    const contract = contractOf((await desk.get('/api/openapi.json')).body as object)
    const own = await desk.as('B. Two')
    const asked = { id: 'a'.repeat(32), seen: desk.count, what: 'leave out', places: ['3'], reason: 'no access' }
    await desk.send('POST', '/api/jobs/J/statements', asked, own)
    const { status, body } = await desk.get('/api/jobs/J/pace')
    expect([status, contract('/api/jobs/{job}/pace', 200, body)]).toEqual([200, []])
    expect(body).toMatchObject({
      people: [{ name: 'B. Two', decisions: [{ kind: 'left-out', of: 'hole', place: '3' }] }]
    })
    expect((await desk.get('/api/jobs/none/pace')).status).toBe(404)
  })
})
