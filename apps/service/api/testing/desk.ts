import { got } from '@trueloop/host/chain/testing'
import { makeKey } from '@trueloop/host/keys'
import { registerRows } from '@trueloop/host/shop'
import { keysFolder, openKey } from '@trueloop/host/signing'
import type { PersonRow } from '@trueloop/job/plan'
import type { Entry, EntryOf, EntryRow } from '@trueloop/job/record'
import { examined, indication, kept, opened, rechecked, standardized } from '@trueloop/job/record/testing'
import { type Served, serve } from './served.ts'

/** A service over a job with something to decide, and invented people whose keys lie on disk. */

export const passphrase = 'four invented words of a test'
const cheap = { N: 2 ** 14, r: 8, p: 1 }

export const people = [
  ['C. Three', 'III'],
  ['B. Two', 'II'],
  ['D. Other', 'II'],
  ['A. One', 'I']
] as const

export const personRow = (name: string, level: PersonRow['level'], key: string): PersonRow => ({
  ...{ register: 'person', version: 1, name, method: 'eddy current', level },
  certificate: { number: `K-${name}`, issued: '2020-01-01', expires: '2099-12-31' },
  near_vision: { examined: '2020-01-01', expires: '2099-12-31' },
  key: { kind: 'Ed25519', public: key }
})

export const past = { time: '2026-03-14T12:00:00.000Z', known: 'clock of this computer' } as const

/** Hole 1 with a crack and something doubtful, hole 2 with nothing, hole 3 never scanned. */
export const entries = (job: string, over: Partial<EntryOf<'job-opened'>> = {}): readonly Entry[] => {
  const crack = indication({ id: '1/1', angle_rad: 1, z_m: 4e-3, amplitude: 1.2 })
  const doubtful = indication({ id: '1/2', class: 'undecided', crossedAlarm: false, angle_rad: 4, z_m: 2e-3 })
  return [
    { ...opened(job, ['1', '2', '3']), signing: 'required', ...over },
    ...[kept(`ref ${job}`, { of: 'reference' }), standardized(`ref ${job}`)],
    ...[kept(`scan 1 ${job}`, { of: 'hole', name: '1' })],
    examined(`scan 1 ${job}`, '1', `ref ${job}`, { indications: [crack, doubtful] }),
    ...[kept(`scan 2 ${job}`, { of: 'hole', name: '2' }), examined(`scan 2 ${job}`, '2', `ref ${job}`)],
    ...[kept(`check ${job}`, { of: 'recheck' }), rechecked(`check ${job}`, `ref ${job}`, true)]
  ]
}

export interface Answer<Body = Record<string, unknown>> {
  readonly status: number
  readonly body: Body
  readonly cookie: string | undefined
}

export interface DeskServed extends Served {
  /** number of entries of the job J as it is made */
  readonly count: number
  send(method: 'POST' | 'DELETE' | 'PUT' | 'GET', url: string, body?: unknown, headers?: object): Promise<Answer>
  /** signs in, and gives the headers that bring the session */
  as(name: string): Promise<{ readonly cookie: string }>
  rows(job?: string): Promise<readonly EntryRow[]>
}

export async function serveDesk(asked: Parameters<typeof serve>[0] = {}): Promise<DeskServed> {
  const served = serve(asked)
  const home = served.folder
  const keys: string[] = []
  for (const [name] of people)
    keys.push(got(await makeKey({ folder: keysFolder(home), name }, passphrase, { cost: cheap })))
  const rows = people.map(([name, level], at) => personRow(name, level, keys[at] ?? ''))
  await served.withArchive(async (archive) => {
    const document = got(await archive.storeDocument('person', rows[0]))
    const signer = got(await openKey({ row: rows[0] as PersonRow, document }, { home, passphrase }))
    got(await registerRows(rows, { archive, signer }))
    got(await archive.append('J', 0, entries('J')))
  })
  const send: DeskServed['send'] = async (method, url, body, headers = {}) => {
    const sent = body === undefined ? {} : { payload: body as object }
    const answer = await served.service.inject({
      method,
      url,
      ...sent,
      headers: { host: '127.0.0.1:4270', ...headers }
    })
    const cookie = answer.headers['set-cookie']
    return {
      status: answer.statusCode,
      body: JSON.parse(answer.body),
      cookie: cookie === undefined ? undefined : String(cookie)
    }
  }
  return {
    ...served,
    count: entries('J').length,
    send,
    as: async (name) => {
      const { cookie, status, body } = await send('POST', '/api/session', { name, passphrase })
      if (status !== 200 || cookie === undefined) throw new Error(JSON.stringify(body))
      return { cookie: cookie.split(';')[0] ?? '' }
    },
    rows: (job = 'J') => served.withArchive(async (archive) => got(await archive.entries(job)))
  }
}
