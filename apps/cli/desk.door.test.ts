import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { type Archive, openPatiently } from '@trueloop/host/archive'
import { checkJob } from '@trueloop/host/chain'
import { got } from '@trueloop/host/chain/testing'
import { demoPassphrase, demoPeople } from '@trueloop/job/rehearse'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Started, start } from './testing/bundle.ts'

/** The service as it is started. Oracles: the record and its verification, read beside it; the operating system's kill. */

let home = ''
let serving: Started
let address = ''
const names = demoPeople.map(({ name }) => name)

async function served(...args: readonly string[]): Promise<Started> {
  const started = start(home, args)
  let out = ''
  address = await new Promise((resolve, reject) => {
    started.child.stdout?.on('data', (text) => {
      out += text
      const [, found] = /the record is at (http:\/\/127\.0\.0\.1:\d+)/.exec(out) ?? []
      if (found !== undefined) resolve(found)
    })
    void started.ended.then(({ err }) => reject(new Error(`ended before it served: ${err}`)))
  })
  return started
}

/** A start that may find another one: where it serves, or how it has ended. */
async function servedOr(...args: readonly string[]) {
  const started = start(home, args)
  let out = ''
  const found = new Promise<string>((resolve) => {
    started.child.stdout?.on('data', (text) => {
      out += text
      const [, at] = /the record is at (http:\/\/127\.0\.0\.1:\d+)/.exec(out) ?? []
      if (at !== undefined) resolve(at)
    })
  })
  const first = await Promise.race([found, started.ended])
  return typeof first === 'string'
    ? { started, address: first, end: undefined }
    : { started, address: undefined, end: first }
}

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-desk-'))
  serving = await served('demo', '--port', '0')
}, 240_000)
afterAll(async () => {
  serving.child.kill('SIGINT')
  await serving.ended
  rmSync(home, { recursive: true, force: true })
})

const send = async (method: string, path: string, body?: unknown, cookie = '') => {
  const sent = body === undefined ? {} : { body: JSON.stringify(body) }
  const headers = { cookie, ...(body === undefined ? {} : { 'content-type': 'application/json' }) }
  const answer = await fetch(`${address}${path}`, { method, headers, ...sent })
  return {
    status: answer.status,
    body: await answer.json(),
    cookie: answer.headers.get('set-cookie')?.split(';')[0] ?? ''
  }
}
const signIn = async (name = names[1] ?? '') =>
  (await send('POST', '/api/session', { name, passphrase: demoPassphrase })).cookie
/** The service lets go within a moment. */
async function beside<T>(work: (archive: Archive) => Promise<T>): Promise<T> {
  const archive = got(await openPatiently(join(home, 'archive')))
  return work(archive).finally(() => archive.close())
}
const entries = () => beside(async (archive) => got(await archive.entries('DEMO-1')))
const id = (k: number) => k.toString(16).padStart(32, '0')

describe('the demonstration', () => {
  it('lets its people sign in with what the page is told, and decide', async () => {
    const { body: seen } = await send('GET', '/api/session')
    expect(seen).toMatchObject({ demonstration: { passphrase: demoPassphrase }, registers: true })
    expect(seen.people.map(({ name, may }: { name: string; may: boolean }) => [name, may])).toEqual(
      names.map((name) => [name, true])
    )
    const cookie = await signIn()
    const { body: job } = await send('GET', '/api/jobs/DEMO-1')
    const asked = { id: id(1), seen: job.entries, what: 'decide', place: 'P02', disposition: 'reject' }
    const done = await send('POST', '/api/jobs/DEMO-1/statements', asked, cookie)
    expect(done).toMatchObject({ status: 200, body: { recorded: 'now', places: [{ name: 'P02', state: 'reject' }] } })
    expect((await send('GET', '/api/jobs/DEMO-1')).body.places[1]).toMatchObject({ state: 'reject' })
  })

  it('reads what appears in its folder, and says whether it has to be scanned again', async () => {
    const cookie = await signIn()
    const scan = async (file: string, expects: object) => {
      expect((await send('POST', '/api/jobs/DEMO-1/watch', { expects }, cookie)).status).toBe(200)
      copyFileSync(join(home, 'spare-1', file), join(home, 'watched', file))
      for (let k = 0; k < 200; k++, await sleep(50)) {
        const { body } = await send('GET', '/api/jobs/DEMO-1/watch')
        const one = body.files.find((each: { file: string }) => each.file === file)
        if (one?.state === 'complete' || one?.state === 'scan again') return one
      }
      throw new Error(`${file} was never read`)
    }
    expect(await scan('hole-P05-again.wav', { of: 'hole', name: 'P05' })).toMatchObject({ state: 'complete', why: [] })
    expect(await scan('recheck-3.wav', { of: 'recheck' })).toMatchObject({ state: 'complete' })
    const { body } = await send('GET', '/api/jobs/DEMO-1')
    expect(body.places[4]).toMatchObject({ name: 'P05', state: 'examined, no relevant indication', provisional: false })
  })
})

describe('a recording that is long', () => {
  it('is examined beside the pages, which answer meanwhile', async () => {
    const cookie = await signIn()
    expect(
      (await send('POST', '/api/jobs/DEMO-1/watch', { expects: { of: 'hole', name: 'P06' } }, cookie)).status
    ).toBe(200)
    const hole = readFileSync(join(home, 'spare-1', 'hole-P05-again.wav'))
    writeFileSync(join(home, 'watched', 'long.wav'), repeated(hole, 8e6))
    const fileNow = async () => {
      const { body } = await send('GET', '/api/jobs/DEMO-1/watch')
      return body.files.find(({ file }: { file: string }) => file === 'long.wav')?.state
    }
    const times: number[] = []
    let state = await fileNow()
    for (const from = performance.now(); state !== 'scan again' && performance.now() - from < 60_000; ) {
      for (const path of ['/jobs/DEMO-1', '/api/jobs/DEMO-1', '/api/jobs/DEMO-1/places/hole/P02']) {
        const asked = performance.now()
        const answer = await fetch(`${address}${path}`)
        await answer.text()
        expect(answer.status).toBe(200)
        if (state === 'being read') times.push(performance.now() - asked)
      }
      await sleep(10)
      state = await fileNow()
    }
    expect(state).toBe('scan again')
    const sorted = times.sort((a, b) => a - b)
    expect(sorted.length).toBeGreaterThan(20)
    // a person does not notice a tenth of a second; the machine of this test may be busy
    expect(sorted[Math.floor(0.9 * sorted.length)]).toBeLessThan(100)
    expect(sorted.at(-1)).toBeLessThan(1000)
  }, 120_000)
})

/** A wave file of three channels of 32-bit floats whose samples come again until there are so many. */
function repeated(wave: Buffer, samples: number): Buffer {
  const at = wave.indexOf('data') + 8
  const data = wave.subarray(at, at + 12 * Math.floor((wave.length - at) / 12))
  const long = Buffer.alloc(at + 12 * samples)
  long.fill(data, at)
  wave.copy(long, 0, 0, at)
  long.writeUInt32LE(12 * samples, at - 4)
  long.writeUInt32LE(long.length - 8, 4)
  const fact = wave.indexOf('fact')
  if (fact > 0) long.writeUInt32LE(samples, fact + 8)
  return long
}

describe('a second start', () => {
  it('says what runs already and where, and ends well', async () => {
    const second = await start(home, ['serve', '--port', '0']).ended
    expect(second.code).toBe(0)
    expect(second.out).toContain(`process ${serving.child.pid}, at ${address}/`)
  })

  it('comes in where the first was killed, and one of two at once gives way', async () => {
    serving.child.kill('SIGKILL')
    await serving.ended
    expect(readFileSync(join(home, 'service.json'), 'utf8')).toContain(String(serving.child.pid))
    const both = [start(home, ['serve', '--port', '0']), start(home, ['serve', '--port', '0'])]
    const first = await Promise.race(both.map((one) => one.ended))
    expect(first).toMatchObject({ code: 0, out: expect.stringContaining('is shown already, by process') })
    for (const one of both) one.child.kill('SIGINT')
    await Promise.all(both.map((one) => one.ended))
    serving = await served('serve', '--port', '0')
    expect((await send('GET', '/api/session')).body).not.toHaveProperty('demonstration')
  }, 60_000)

  it('of two at once loses nothing and doubles nothing: who gives way says where the other is, and what to do', async () => {
    const before = await entries()
    const watched = join(home, 'watched')
    for (let k = 0; k < 3; k++) {
      serving.child.kill(k === 0 ? 'SIGINT' : 'SIGKILL')
      await serving.ended
      const asked = { id: id(50 + k), what: 'note', place: 'P04', text: `at two starts ${k}` }
      const said = [0, 1].map(() => servedOr('serve', '--port', '0', '--watch', watched))
      const both = await Promise.all(said)
      const first = both.find(({ end }) => end === undefined)
      const other = both.find(({ end }) => end !== undefined)
      expect(other?.end).toMatchObject({ code: 0, err: '' })
      expect(other?.end?.out).toContain(`by process ${first?.started.child.pid}, at ${first?.address}/  (use that page`)
      expect(other?.end?.out).toContain(`${watched} is not watched by this start: end process`)
      serving = first?.started as Started
      address = first?.address as string
      const { body: job } = await send('GET', '/api/jobs/DEMO-1')
      const own = await signIn()
      const sent = { ...asked, seen: job.entries }
      const answers = await Promise.all([0, 1].map(() => send('POST', '/api/jobs/DEMO-1/statements', sent, own)))
      expect(answers.map(({ body }) => body.recorded).sort()).toEqual(['already', 'now'])
    }
    const rows = await entries()
    expect(rows.slice(0, before.length)).toEqual(before)
    const added = rows.slice(before.length).map(({ body }) => JSON.parse(body).text)
    expect(added).toEqual([0, 1, 2].map((k) => `at two starts ${k}`))
    expect(got(await beside((archive) => checkJob(archive, 'DEMO-1', {}))).intact.faults).toEqual([])
  }, 120_000)

  it('refuses a folder to watch that is none (cli/no-folder)', async () => {
    writeFileSync(join(home, 'file'), '')
    for (const path of ['nowhere', 'file']) {
      const { code, err } = await start(home, ['serve', '--watch', join(home, path)]).ended
      expect([code, err.includes('cli/no-folder')]).toEqual([2, true])
    }
  })
})

describe('a service that is killed in the middle of a decision', () => {
  it('has recorded it once or not at all; sent again it is there once', async () => {
    const before = (await entries()).length
    const kills = 8
    for (let k = 0; k < kills; k++) {
      const cookie = await signIn()
      const { body: job } = await send('GET', '/api/jobs/DEMO-1')
      const asked = { id: id(100 + k), seen: job.entries, what: 'note', place: 'P04', text: `note ${k}` }
      const sending = send('POST', '/api/jobs/DEMO-1/statements', asked, cookie).catch(() => undefined)
      await sleep(4 * k)
      serving.child.kill('SIGKILL')
      await Promise.all([sending, serving.ended])
      serving = await served('serve', '--port', '0')
      const again = await send('POST', '/api/jobs/DEMO-1/statements', asked, await signIn())
      expect(again).toMatchObject({ status: 200, body: { entries: [{ kind: 'noted' }] } })
      expect(await send('POST', '/api/jobs/DEMO-1/statements', asked, await signIn())).toMatchObject({
        body: { recorded: 'already', entries: again.body.entries }
      })
    }
    serving.child.kill('SIGINT')
    await serving.ended
    const added = (await entries()).slice(before)
    const noted = added.map(({ kind, body }) => [kind, JSON.parse(body).text])
    expect(noted).toEqual(Array.from({ length: kills }, (_, k) => ['noted', `note ${k}`]))
    const { intact } = got(await beside((archive) => checkJob(archive, 'DEMO-1', {})))
    expect(intact.faults).toEqual([])
    serving = await served('serve', '--port', '0')
  }, 240_000)
})
