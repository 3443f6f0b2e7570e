import { sign } from 'node:crypto'
import { got } from '@trueloop/host/chain/testing'
import { closePlaces, decide, leaveOut, lookAgain, type Signing } from '@trueloop/host/decide'
import { sha256 } from '@trueloop/host/hash'
import { canonical } from '@trueloop/job/record'
import {
  examined,
  type Invented,
  indication,
  invent,
  kept,
  opened,
  rechecked,
  standardized
} from '@trueloop/job/record/testing'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { contractOf } from './testing/contract.ts'
import { type Served, serve } from './testing/served.ts'

/** Oracle: what the test itself lets people say; ajv for the form. */

let served: Served
const two = invent('B. Two')
const three = invent('C. Three', 'III')
const clock = () => ({ time: '2026-03-14T12:00:00.000Z', known: 'clock of this computer' as const })

beforeAll(async () => {
  served = serve()
  await served.withArchive(async (archive) => {
    const as = ({ row, key }: Invented): Signing => ({
      ...{ archive, job: 'J', clock },
      signer: {
        person: sha256(canonical(row)),
        row,
        sign: (text) => sign(null, Buffer.from(text), key).toString('base64')
      }
    })
    const crack = indication({ id: '1/1', angle_rad: 1, z_m: 4e-3, amplitude: 1.2 })
    const again = indication({ id: '1/1', angle_rad: 1.1, z_m: 4e-3, amplitude: 1.5 })
    const doubtful = indication({ id: '1/2', class: 'undecided', crossedAlarm: false, angle_rad: 4, z_m: 2e-3 })
    got(
      await archive.append('J', 0, [
        { ...opened('J', ['1', '2', '3']), signing: 'required', secondLook: 'what was found' },
        ...[kept('ref', { of: 'reference' }), standardized('ref')],
        ...[kept('scan 1', { of: 'hole', name: '1' }), kept('scan 1b', { of: 'hole', name: '1' })],
        examined('scan 1', '1', 'ref', { indications: [crack, doubtful] }),
        examined('scan 1b', '1', 'ref', { indications: [again] }),
        ...[kept('scan 2', { of: 'hole', name: '2' }), examined('scan 2', '2', 'ref')],
        ...[kept('check', { of: 'recheck' }), rechecked('check', 'ref', true)]
      ])
    )
    const classes = [{ indication: '1/2', class: 'nonrelevant' as const }]
    const reason = 'the joint of the two layers'
    got(await decide({ place: '1', classes, disposition: 'reject', reason }, as(two)))
    got(await lookAgain({ place: '1', agrees: true }, as(three)))
    got(await closePlaces(['1', '2'], as(two)))
    got(await leaveOut(['3'], 'no access before the end of the shift', as(two)))
  })
})
afterAll(() => served.end())

const place = async (name: string) => {
  const { status, body } = await served.get(`/api/jobs/J/places/hole/${name}`)
  const contract = contractOf((await served.get('/api/openapi.json')).body as object)
  expect(status).toBe(200)
  expect(contract('/api/jobs/{job}/places/{of}/{name}', 200, body)).toEqual([])
  return body
}

describe('a place that was decided', () => {
  it('says who said what, beside what was proposed', async () => {
    expect(await place('1')).toMatchObject({
      state: 'reject',
      disposition: { disposition: 'reject', by: 'B. Two', at: clock(), reason: 'the joint of the two layers' },
      closed: { by: 'B. Two' },
      indications: [
        {
          id: '1/1',
          proposed: 'relevant',
          strongest: 1,
          standing: 'confirmed',
          seen: [{ amplitude: 1.2 }, { amplitude: 1.5 }]
        },
        {
          ...{ id: '1/2', proposed: 'undecided', class: 'nonrelevant', open: false },
          decided: { class: 'nonrelevant', by: 'B. Two' },
          unseen: [{ file: expect.stringContaining('scan 1b') }]
        }
      ]
    })
    const { looks } = (await place('1')) as { looks: readonly object[] }
    expect(looks.length).toBeGreaterThan(0)
    for (const look of looks) expect(look).toMatchObject({ by: 'C. Three', agrees: true })
  })

  it('or was left out says why nobody looked', async () => {
    expect(await place('2')).toMatchObject({ closed: { by: 'B. Two' }, indications: [] })
    expect(await place('3')).toMatchObject({
      ...{ state: 'not examined', examinations: [] },
      leftOut: { by: 'B. Two', reason: 'no access before the end of the shift' }
    })
  })
})
