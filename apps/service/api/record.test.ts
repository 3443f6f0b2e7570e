import { createHash } from 'node:crypto'
import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { briefsOf, openJob, overviewOf, type Preview, pictureOf, runChain } from '@trueloop/host/chain'
import { demoJob, got } from '@trueloop/host/chain/testing'
import { type Examination, openRun } from '@trueloop/job/examine'
import type { HoleSheet } from '@trueloop/job/plan'
import { canonical, findings, type PlaceState, replay } from '@trueloop/job/record'
import { openScan } from '@trueloop/job/scan'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { contractOf } from './testing/contract.ts'
import { type Served, serve } from './testing/served.ts'

/**
 * Oracles: the same facts read from the archive without the service; the JSON Schemas of the document that the service
 * itself gives out, judged by ajv.
 */

let served: Served
let sheet: HoleSheet
let contract: ReturnType<typeof contractOf>
let holes: readonly PlaceState[] = []

beforeAll(async () => {
  served = serve()
  sheet = demoJob(served.folder, ['reference-start.wav', 'hole-P02.wav', 'hole-P05.wav', 'recheck-1.wav'])
  await served.withArchive(async (archive) => {
    const input = { sheet, folder: served.folder, archive }
    got(await openJob(input))
    expect((await runChain(input)).refusals).toEqual([])
    holes = replay(got(await archive.entries(sheet.job.id))).places
  })
  contract = contractOf((await served.get('/api/openapi.json')).body as object)
}, 120_000)
afterAll(() => served.end())

const job = () => `/api/jobs/${encodeURIComponent(sheet.job.id)}`
const hole = (name: string): PlaceState => holes.find(({ place }) => place.name === name)!

describe('jobs', () => {
  it('are listed and told as the archive has them', async () => {
    const list = await served.get('/api/jobs')
    expect(list).toEqual({ status: 200, body: await served.withArchive(async (one) => got(await briefsOf(one))) })
    expect(contract('/api/jobs', 200, list.body)).toEqual([])
    const whole = await served.get(job())
    const told = await served.withArchive(async (one) => got(await overviewOf(one, sheet.job.id)))
    expect(whole).toEqual({ status: 200, body: told })
    expect(contract('/api/jobs/{job}', 200, whole.body)).toEqual([])
  })
})

describe('a place', () => {
  it('has its indications, joined, and its scans with their zones', async () => {
    const { status, body } = await served.get(`${job()}/places/hole/P02`)
    expect(status).toBe(200)
    expect(contract('/api/jobs/{job}/places/{of}/{name}', 200, body)).toEqual([])
    const { joined, examinations, state } = hole('P02')
    expect(joined.length).toBeGreaterThan(0)
    const found = examinations[0]!.indications[0]!
    const { id, angle_rad, z_m, amplitude, crossedAlarm, class: proposed } = found
    expect(body).toMatchObject({
      ...{ state, name: 'P02', amplitudeUnit: 'notch', latest: examinations[0]!.examination },
      examinations: [{ zones: examinations[0]!.zones, standing: examinations[0]!.standing, file: 'hole-P02.wav' }]
    })
    const first = (body as { indications: readonly object[] }).indications.find((one) => 'id' in one && one.id === id)
    expect(first).toMatchObject({
      ...{ id, proposed, class: proposed, crossedAlarm, open: true, strongest: 0 },
      seen: [{ id, angle_rad, z_m, amplitude, reversed: false, examination: examinations[0]!.examination }]
    })
  })

  it('that was not examined says so, and why', async () => {
    const scanned = await served.get(`${job()}/places/hole/P05`)
    const { missing } = hole('P05')
    expect(missing.length).toBeGreaterThan(0)
    expect(scanned.body).toMatchObject({ state: 'not examined', missing })
    const never = await served.get(`${job()}/places/hole/P01`)
    expect(never.body).toMatchObject({ state: 'not examined', examinations: [], indications: [], zones: 0 })
    expect(never.body).not.toHaveProperty('latest')
    for (const { body } of [scanned, never])
      expect(contract('/api/jobs/{job}/places/{of}/{name}', 200, body)).toEqual([])
  })
})

describe('a stored examination', () => {
  const pathOf = (name: string) => `${job()}/examinations/${hole(name).examinations[0]!.examination}`
  const stored = (name: string) =>
    served.withArchive(async (one) => {
      const hash = hole(name).examinations[0]!.examination
      const document = JSON.parse(got(await one.document(hash)).text) as Examination
      return { document, picture: await pictureOf(one, hash) }
    })

  it.each(['P02', 'P05'])('of %s is given word for word, with its picture', async (name) => {
    const { status, body } = await served.get(pathOf(name))
    expect(status).toBe(200)
    expect(contract('/api/jobs/{job}/examinations/{hash}', 200, body)).toEqual([])
    const { document, picture } = await stored(name)
    expect(body).toMatchObject({ job: sheet.job.id, of: 'hole', name })
    expect((body as { document: object }).document).toEqual(document)
    expect(picture?.values.length).toBe(picture!.rows * picture!.columns)
    expect((body as { picture: object }).picture).toEqual(picture)
  })

  it.each(['hole', 'weld', 'loop'] as const)('of a %s is in the form that the document promises', (kind) => {
    const golden = new URL(`../../../job/examine/golden/${kind}.expected.json`, import.meta.url)
    const { found } = JSON.parse(readFileSync(golden, 'utf8')) as { found: { examination: Examination } }
    // golden examinations are of no file
    const { picture, recording: _, ...rest } = found.examination
    const document = { ...rest, recording: 'b'.repeat(64) }
    const named = { job: 'J', examination: 'a'.repeat(64), of: kind === 'weld' ? 'track' : kind, name: '1' }
    expect(document.indications.length).toBeGreaterThan(0)
    const body = { ...named, document, ...(picture === undefined ? {} : { picture }) }
    expect(contract('/api/jobs/{job}/examinations/{hash}', 200, body)).toEqual([])
  })

  it('has no picture where the file is gone, or is no picture', async () => {
    const kept = join(served.folder, 'archive', 'pictures', `${hole('P02').examinations[0]!.examination}.json`)
    const wrong = [
      'null',
      '{"rows":"many"}',
      '{"rows":1,"columns":2,"rowFrom":0,"rowStep":1,"values":[1,null]}',
      '{"rows"'
    ]
    for (const spoil of [...wrong.map((text) => () => writeFileSync(kept, text)), () => rmSync(kept)]) {
      spoil()
      const { status, body } = await served.get(pathOf('P02'))
      expect(status).toBe(200)
      expect(body).not.toHaveProperty('picture')
      expect(contract('/api/jobs/{job}/examinations/{hash}', 200, body)).toEqual([])
    }
  })

  it('of another job is not there', async () => {
    const [, , , , hash] = pathOf('P02').split('/').slice(1)
    const { status, body } = await served.get(`/api/jobs/other/examinations/${hash}`)
    expect({ status, body }).toMatchObject({
      status: 404,
      body: { refusals: [{ code: 'service/no-such-examination' }] }
    })
  })
})

describe('what a page examines and draws by itself', () => {
  const examined = () => hole('P02').examinations[0]!
  const bytesOf = async (path: string): Promise<Uint8Array> => {
    const answer = await served.service.inject({ url: `${job()}/${path}`, headers: { host: '127.0.0.1:4270' } })
    expect(answer.statusCode).toBe(200)
    expect(answer.headers['cache-control']).toContain('immutable')
    return answer.rawPayload
  }

  it('is the recording itself, by its name', async () => {
    const { recording } = examined()
    const bytes = await bytesOf(`recordings/${recording}`)
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(recording)
  })

  it('is all that gives the stored findings, to the bit', async () => {
    const { status, body } = await served.get(`${job()}/examinations/${examined().examination}/preview`)
    expect(status).toBe(200)
    expect(contract('/api/jobs/{job}/examinations/{hash}/preview', 200, body)).toEqual([])
    const { name, bytes: size, mapping, recipe } = body as Preview
    const bytes = await bytesOf(`recordings/${examined().recording}`)
    const reader = got(openScan(bytes, name, mapping, size))
    const run = got(openRun(recipe))
    for (const segment of got(reader.push(bytes))) got(run.take(segment))
    const { segments, scan } = got(reader.end())
    for (const segment of segments) got(run.take(segment))
    const { examination } = got(run.close())
    const found = findings({ ...examination, notes: [...examination.notes, ...scan.warnings] })
    expect(createHash('sha256').update(canonical(found)).digest('hex')).toBe(examined().examination)
  })

  it('is the signal unrolled, the same when it is made again', async () => {
    const path = `examinations/${examined().examination}/wall`
    const made = await bytesOf(path)
    expect(await bytesOf(path)).toEqual(made)
    const kept = join(served.folder, 'archive', 'walls', `${examined().examination}.wall`)
    for (const spoil of [
      () => writeFileSync(kept, made.subarray(0, 1000)),
      () => writeFileSync(kept, '{'),
      () => rmSync(kept)
    ]) {
      spoil()
      expect(await bytesOf(path)).toEqual(made)
    }
    const head = JSON.parse(made.subarray(0, 256).toString()) as { rows: number; columns: number; rowFrom: number }
    expect(made.length).toBe(256 + 8 * head.rows * head.columns)
  })

  it('is a document that the record names, and no other', async () => {
    const { standardization } = examined()
    const text = Buffer.from(await bytesOf(`documents/${standardization}`)).toString()
    expect(createHash('sha256').update(text).digest('hex')).toBe(standardization)
    const { status } = await served.get(`${job()}/documents/${'0'.repeat(64)}`)
    expect(status).toBe(404)
  })
})
