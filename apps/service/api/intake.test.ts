import {
  appendFileSync,
  copyFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync
} from 'node:fs'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { setTimeout as sleep } from 'node:timers/promises'
import { runChain } from '@trueloop/host/chain'
import { demoJob } from '@trueloop/host/chain/testing'
import { type Crew, examineTask } from '@trueloop/host/crew'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { mostBytes } from '../desk/intake.ts'
import { FolderWatch } from '../desk/watch.ts'
import type { WatchView } from './schemas/index.ts'
import { contractOf } from './testing/contract.ts'
import { type DeskServed, serveDesk } from './testing/desk.ts'

/** Oracles: the record and the folder as the test itself reads them; the truth of the demonstration's holes; ajv. */

let desk: DeskServed
let own: { readonly cookie: string }
let contract: ReturnType<typeof contractOf>
const folder = () => desk.watched
const made = () => join(desk.folder, 'made')
const files = ['reference-start.wav', 'hole-P01.wav', 'hole-P02.wav', 'hole-P05.wav', 'hole-P08.wav', 'recheck-1.wav']

beforeEach(() => begin())
afterEach(() => desk.end())

async function begin(crew?: Crew): Promise<void> {
  desk = await serveDesk({ watch: true, ...(crew === undefined ? {} : { crew }) })
  mkdirSync(made())
  const people = [{ name: 'B. Two', level: 'II' as const }]
  const sheet = { ...demoJob(made(), files), people, examined_by: 'B. Two' }
  const begun = { ...sheet, recordings: sheet.recordings.slice(0, 2) }
  await desk.withArchive(async (archive) => {
    const run = await runChain({ sheet: begun, folder: made(), archive, registers: false })
    expect(run.refusals).toEqual([])
  })
  own = await desk.as('B. Two')
  contract = contractOf((await desk.get('/api/openapi.json')).body as object)
}

const url = '/api/jobs/DEMO-1/watch'
const expecting = async (name: string | null, more = {}) => {
  const expects = name === null ? null : name === 'recheck' ? { of: name } : { of: 'hole', name }
  const answer = await desk.send('POST', url, { expects, ...more }, own)
  expect(contract('/api/jobs/{job}/watch', answer.status, answer.body, 'post')).toEqual([])
  return answer
}
const view = async () => (await desk.get(url)).body as WatchView
const fileOf = async (name: string) => (await view()).files.find(({ file }) => file === name)
async function until(name: string, ...states: readonly string[]) {
  for (const from = performance.now(); performance.now() - from < 15_000; await sleep(20)) {
    const one = await fileOf(name)
    if (one !== undefined && states.includes(one.state)) return one
  }
  throw new Error(`${name} is ${JSON.stringify(await view())}`)
}
const state = async () => replay(await desk.rows('DEMO-1'))
const copy = (name: string, as = name) => copyFileSync(join(made(), name), join(folder(), as))

describe('a recording that appears in the watched folder', () => {
  it('is examined, told as complete with its place, and in the record; the next one waits until its place is said', async () => {
    await expecting('P02')
    copy('hole-P02.wav', 'scan 0001.wav')
    const one = await until('scan 0001.wav', 'complete', 'scan again')
    expect(one).toMatchObject({ state: 'complete', subject: { of: 'hole', name: 'P02' }, why: [] })
    const { places, recordings } = await state()
    expect(places[1]).toMatchObject({ state: 'relevant, not decided' })
    expect(recordings.at(-1)).toMatchObject({
      file: 'scan 0001.wav',
      taken: { known: 'clock of this computer' }
    })
    expect(await view()).not.toHaveProperty('expects')
    copy('recheck-1.wav')
    await until('recheck-1.wav', 'waits')
    await expecting('recheck')
    expect(await until('recheck-1.wav', 'complete')).toMatchObject({ subject: { of: 'recheck' } })
    expect((await state()).rechecks).toHaveLength(1)
    expect(readdirSync(folder()).sort()).toEqual(['recheck-1.wav', 'scan 0001.wav'])
    expect(readFileSync(join(folder(), 'scan 0001.wav')).equals(readFileSync(join(made(), 'hole-P02.wav')))).toBe(true)
  })

  it('is to be scanned again where it is not enough, with the reasons in three parts; the place is still expected', async () => {
    await expecting('P05')
    copy('hole-P05.wav')
    const one = await until('hole-P05.wav', 'complete', 'scan again')
    expect(one.state).toBe('scan again')
    expect(one.why.map(({ code }) => code)).toEqual(['examine/no-contact'])
    for (const { found, needed, remedy } of one.why)
      expect([found, needed, remedy].every((words) => words.length > 3)).toBe(true)
    expect(await view()).toMatchObject({ expects: { of: 'hole', name: 'P05' } })
    expect((await state()).places[4]?.state).toBe('not examined')
  })

  it('is to be scanned again where it went too fast: once, with the reason', async () => {
    await expecting('P08')
    copy('hole-P08.wav')
    const one = await until('hole-P08.wav', 'complete', 'scan again')
    expect(one).toMatchObject({ state: 'scan again', why: [{ code: 'examine/pitch-too-large' }] })
    expect(one.why).toHaveLength(1)
  })

  it('is read once it is whole: half of it, then the rest', async () => {
    await expecting('P02')
    const bytes = readFileSync(join(made(), 'hole-P02.wav'))
    const path = join(folder(), 'slow.wav')
    writeFileSync(path, bytes.subarray(0, 1000))
    const step = Math.ceil(bytes.length / 8)
    for (let at = 1000; at < bytes.length; at += step) {
      await sleep(60)
      expect((await fileOf('slow.wav'))?.state ?? 'being written').toBe('being written')
      appendFileSync(path, bytes.subarray(at, at + step))
    }
    expect((await until('slow.wav', 'complete', 'scan again')).state).toBe('complete')
    expect((await state()).recordings.filter(({ of }) => 'name' in of && of.name === 'P02')).toHaveLength(1)
  })

  it('that stopped in the middle is refused, and taken when the rest has come', async () => {
    await expecting('P02')
    const bytes = readFileSync(join(made(), 'hole-P02.wav'))
    const path = join(folder(), 'stopped.wav')
    writeFileSync(path, bytes.subarray(0, bytes.length >> 1))
    expect((await until('stopped.wav', 'complete', 'scan again')).state).toBe('scan again')
    appendFileSync(path, bytes.subarray(bytes.length >> 1))
    expect((await until('stopped.wav', 'complete')).state).toBe('complete')
  })

  it('is known by its content: renamed, copied, or of another place', async () => {
    await expecting('P02')
    copy('hole-P02.wav')
    await until('hole-P02.wav', 'complete')
    const { count } = await state()
    await expecting('P02')
    renameSync(join(folder(), 'hole-P02.wav'), join(folder(), 'renamed.wav'))
    expect(await until('renamed.wav', 'complete', 'scan again')).toMatchObject({ state: 'complete', before: true })
    await expecting('P01')
    copy('hole-P02.wav', 'again.wav')
    expect(await until('again.wav', 'scan again')).toMatchObject({ why: [{ code: 'chain/same-content' }] })
    expect((await state()).count).toBe(count)
  })

  it('is one of two that come at once: each is told by itself', async () => {
    await expecting('P02')
    copy('hole-P02.wav', 'a.wav')
    await sleep(20)
    copy('hole-P05.wav', 'b.wav')
    await until('a.wav', 'complete')
    await until('b.wav', 'waits')
    await expecting('P05')
    await until('b.wav', 'scan again')
    expect((await state()).recordings.slice(2).map(({ file }) => file)).toEqual(['a.wav', 'b.wav'])
  })
})

describe('while it is read', () => {
  it('is told how far, and each state in its order', async () => {
    const told: { event: string; data: { step?: string; state?: string; bytes?: number; size?: number } }[] = []
    const feed = {
      tell: (_: string, event: (typeof told)[number]) => void told.push(event),
      changed: async () => undefined
    }
    const timing = { look_ms: 30, still_ms: 150 }
    const watch = new FolderWatch({ folder: folder(), archive: desk.archive, feed: feed as never, timing })
    await watch.expect('DEMO-1', 'B. Two', { of: 'hole', name: 'P02' })
    copy('hole-P02.wav')
    for (let k = 0; k < 300 && !told.some(({ data }) => data.state === 'complete'); k++) await sleep(30)
    await watch.close()
    const states = told.filter(({ event }) => event === 'watch').map(({ data }) => data.state)
    expect([...new Set(states)]).toEqual(['being written', 'waits', 'being read', 'complete'])
    const last = told.findLast(({ event }) => event === 'progress')?.data
    expect(last).toMatchObject({ step: 'reading', bytes: last?.size })
  })
})

describe('a recording by another person', () => {
  it('waits for a recheck, as the rules of the record have it', async () => {
    own = await desk.as('D. Other')
    await expecting('P02')
    copy('hole-P02.wav')
    const one = await until('hole-P02.wav', 'complete', 'scan again')
    expect(one).toMatchObject({ state: 'scan again', why: [{ code: 'chain/recheck-overdue' }] })
    expect((await state()).recordings.at(-1)).toMatchObject({ examinedBy: 'D. Other' })
  })
})

describe('a recheck that fails', () => {
  it('is told as one (service/recheck-failed), and is in the record', async () => {
    const wave = readFileSync(join(made(), 'recheck-1.wav'))
    const from = wave.indexOf('data') + 8
    for (let at = from; at + 12 <= wave.length; at += 12)
      for (const channel of [0, 4]) wave.writeFloatLE(1.5 * wave.readFloatLE(at + channel), at + channel)
    await expecting('recheck')
    writeFileSync(join(folder(), 'drifted.wav'), wave)
    const one = await until('drifted.wav', 'complete', 'scan again')
    expect(one).toMatchObject({ state: 'scan again', why: [{ code: 'service/recheck-failed' }] })
    expect((await state()).rechecks).toMatchObject([{ entry: { passed: false } }])
  })
})

describe('what is no recording', () => {
  it('is passed over, with the reason, and never followed out of the folder', async () => {
    writeFileSync(join(desk.folder, 'secret.wav'), readFileSync(join(made(), 'hole-P02.wav')))
    await expecting('P02')
    mkdirSync(join(folder(), 'a folder'))
    symlinkSync(join(desk.folder, 'secret.wav'), join(folder(), 'link.wav'))
    writeFileSync(join(folder(), '.hidden.wav'), 'x')
    writeFileSync(join(folder(), 'text.wav'), 'no recording at all')
    writeFileSync(join(folder(), 'empty.wav'), '')
    for (const name of ['a folder', 'link.wav'])
      expect(await until(name, 'passed over')).toMatchObject({ why: [{ code: 'service/no-such-file' }] })
    expect((await until('text.wav', 'scan again')).why.length).toBeGreaterThan(0)
    await sleep(500)
    expect((await fileOf('empty.wav'))?.state).toBe('being written')
    expect(await fileOf('.hidden.wav')).toBeUndefined()
    expect((await state()).recordings).toHaveLength(2)
  })

  it('is a file that is gone before it was read, and a folder that can not be looked at', async () => {
    const told: string[] = []
    const feed = {
      tell: (_: string, { data }: { data: { state: string; why: readonly { code: string }[] } }) =>
        void told.push(data.state, ...data.why.map(({ code }) => code))
    }
    const watch = new FolderWatch({
      folder: folder(),
      archive: desk.archive,
      feed: feed as never,
      timing: { look_ms: 20, still_ms: 5000 }
    })
    await watch.expect('DEMO-1', 'B. Two', { of: 'hole', name: 'P02' })
    writeFileSync(join(folder(), 'gone.wav'), 'x')
    await sleep(150)
    rmSync(join(folder(), 'gone.wav'))
    await sleep(150)
    expect(told).toEqual(['being written', 'passed over', 'service/file-gone'])
    rmSync(folder(), { recursive: true })
    await sleep(150)
    expect(watch.view().trouble).toMatchObject({ code: 'service/folder-unreachable' })
    mkdirSync(folder())
    await sleep(150)
    expect(watch.view()).not.toHaveProperty('trouble')
    await watch.close()
  })
})

describe('a folder in which something lies when the watch begins', () => {
  it('has what is recorded known by its content, and takes the rest only when somebody says so', async () => {
    copy('hole-P01.wav', 'old.wav')
    copy('hole-P02.wav', 'missed.wav')
    await expecting('P02')
    expect(await until('old.wav', 'recorded')).toMatchObject({ subject: { of: 'hole', name: 'P01' } })
    await until('missed.wav', 'lies there')
    await sleep(400)
    expect((await fileOf('missed.wav'))?.state).toBe('lies there')
    expect(await expecting('P02', { take: 'nothing.wav' })).toMatchObject({
      status: 404,
      body: { refusals: [{ code: 'service/no-such-file' }] }
    })
    await expecting('P02', { take: 'missed.wav' })
    expect((await until('missed.wav', 'complete', 'scan again')).state).toBe('complete')
  })
})

describe('a service with somebody who examines beside it', () => {
  /** In place of a worker: what it is given, and what a worker would find. */
  const crewOf = (find: Crew['examine'] = async (task) => examineTask(task)) => {
    const crew = { workers: 1, window: 2, ready: vi.fn(), examine: vi.fn(find), examineAll: vi.fn(), close: vi.fn() }
    return crew as typeof crew & Crew
  }
  const startWith = async (crew: Crew) => {
    await desk.end()
    await begin(crew)
    await expecting('P02')
    copy('hole-P02.wav')
  }

  it('gives the scan to them, and says what they have found', async () => {
    const crew = crewOf()
    await startWith(crew)
    expect(await until('hole-P02.wav', 'complete', 'scan again')).toMatchObject({ state: 'complete', why: [] })
    expect(crew.ready).toHaveBeenCalled()
    expect(crew.examine.mock.calls.map(([{ name, asked }]) => [name, asked])).toEqual([
      ['hole-P02.wav', { wall: true }]
    ])
    expect((await state()).places[1]).toMatchObject({ state: 'relevant, not decided' })
    await desk.service.close()
    expect(crew.close).toHaveBeenCalled()
  })

  it('examines by itself where they could not answer', async () => {
    const gone = { refused: true, code: 'crew/worker-died', found: 'x', needed: 'x', remedy: 'x' } as const
    await startWith(crewOf(async () => gone))
    expect(await until('hole-P02.wav', 'complete', 'scan again')).toMatchObject({ state: 'complete', why: [] })
  })

  it('ends at once in the middle of an examination, and has recorded nothing of it', async () => {
    const crew = crewOf(() => new Promise(() => undefined))
    await startWith(crew)
    await vi.waitFor(() => expect(crew.examine).toHaveBeenCalled(), { timeout: 10_000 })
    const from = performance.now()
    await desk.service.close()
    expect(performance.now() - from).toBeLessThan(3000)
    expect((await state()).recordings.map(({ file }) => file)).toEqual(['reference-start.wav', 'hole-P01.wav'])
  })
})

describe('who may say what comes', () => {
  it('has signed in, names a place of the job, and no folder', async () => {
    const codeOf = (body: unknown) => (body as { refusals: readonly { code: string }[] }).refusals[0]?.code
    const ask = async (body: unknown, headers: object = own, at = url) => {
      const answer = await desk.send('POST', at, body, headers)
      return [answer.status, codeOf(answer.body)]
    }
    const expects = { of: 'hole', name: 'P02' }
    expect(await ask({ expects }, {})).toEqual([401, 'service/not-signed-in'])
    expect(await ask({ expects: { of: 'hole', name: 'P99' } })).toEqual([404, 'service/no-such-place'])
    expect(await ask({ expects }, own, '/api/jobs/none/watch')).toEqual([404, 'service/no-such-job'])
    expect(await ask({ expects, folder: '/etc' })).toEqual([400, 'service/not-a-statement'])
    const other = await serveDesk()
    const there = await other.as('B. Two')
    const answer = await other.send('POST', '/api/jobs/J/watch', { expects: null }, there)
    expect([answer.status, codeOf(answer.body)]).toEqual([422, 'service/no-watch'])
    expect((await other.get('/api/jobs/J/watch')).body).toEqual({ watches: false, files: [] })
    await other.end()
  })
})

describe('a recording that a page sends', () => {
  const put = async (query: Record<string, string>, payload: Buffer | Readable, headers: object = {}) => {
    const at = `/api/jobs/DEMO-1/recordings?${new URLSearchParams(query)}`
    const answer = await desk.service.inject({
      ...{ method: 'PUT', url: at, payload },
      headers: { host: '127.0.0.1:4270', 'content-type': 'application/octet-stream', ...own, ...headers }
    })
    const body = JSON.parse(answer.body)
    expect(contract('/api/jobs/{job}/recordings', answer.statusCode, body, 'put')).toEqual([])
    return { status: answer.statusCode, body, code: body.refusals?.[0]?.code }
  }
  const bytes = (name: string) => readFileSync(join(made(), name))

  it('is examined by the service, under a name that leads nowhere, once', async () => {
    const query = { of: 'hole', name: 'P02', file: '../../etc/pass\u0000wd<x>.wav' }
    const first = await put(query, bytes('hole-P02.wav'))
    expect(first).toMatchObject({ status: 200, body: { state: 'complete', before: false, file: 'pass_wd_x_.wav' } })
    expect((await put(query, bytes('hole-P02.wav'))).body).toMatchObject({ state: 'complete', before: true })
    expect((await state()).recordings.at(-1)?.file).toBe('pass_wd_x_.wav')
    const short = await put({ ...query, name: 'P05' }, bytes('hole-P05.wav'))
    expect(short.body).toMatchObject({ state: 'scan again', subject: { name: 'P05' } })
  })

  it('is refused where it is empty, too large, no stream of bytes, or of nobody', async () => {
    const query = { of: 'hole', name: 'P02', file: 'a.wav' }
    expect(await put(query, Buffer.alloc(0))).toMatchObject({ status: 422, code: 'service/empty-file' })
    expect(await put(query, Readable.from([]))).toMatchObject({ status: 422, code: 'service/empty-file' })
    const large = await put(query, Buffer.from('x'), { 'content-length': String(mostBytes + 1) })
    expect(large).toMatchObject({ status: 413, code: 'service/too-large' })
    expect(await put(query, Buffer.from('{}'), { 'content-type': 'application/json' })).toMatchObject({ status: 415 })
    expect(await put(query, bytes('hole-P02.wav'), { cookie: '' })).toMatchObject({ status: 401 })
    expect(await put({ ...query, of: 'wing' }, bytes('hole-P02.wav'))).toMatchObject({ status: 400 })
    expect(await put({ ...query, name: '' }, bytes('hole-P02.wav'))).toMatchObject({ status: 400 })
    expect((await state()).recordings).toHaveLength(2)
  })
})
