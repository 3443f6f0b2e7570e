import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { heldOn, type RegisterRow, shopChain } from '@trueloop/job/plan'
import { canonical } from '@trueloop/job/record'
import Database from 'libsql'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import type { Signer } from '../keys/index.ts'
import { signerOf } from '../keys/testing/index.ts'
import { checkShop, readShop, registerRows, registersIn, replaceKey, strikeOff } from './index.ts'

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-shop-'))
  archive = got(await openArchive(folder))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true, force: true })
})

const day = '2026-03-14'
const clock = () => ({ time: `${day}T08:00:00+01:00`, known: 'clock of this computer' as const })

const probe: RegisterRow = {
  ...{ register: 'probe', version: 1, serial: 'P-1', type: 'differential' },
  coil: { width_mm: 1.5, frequency_kHz: { least: 100, most: 1000 } }
}
const [first, second] = [signerOf('C. Level', 'III'), signerOf('D. Level', 'III')]
const by = (signer: Signer) => ({ archive, signer, clock })
const probeOn = async (on = day) =>
  heldOn(got(await readShop(archive)).registers, { what: 'probe', name: 'P-1' }, on).state

describe('the registers in an archive', () => {
  it('are none before anybody was registered', async () => {
    expect(got(await registersIn(archive))).toBeUndefined()
    expect(got(await checkShop(archive))).toEqual([])
  })

  it('begin with the person who signs, and are no job', async () => {
    const rows = [probe, second.row, first.row]
    expect(got(await registerRows(rows, by(first))).added).toHaveLength(3)
    expect(got(await readShop(archive)).rows.map(({ kind }) => kind)).toEqual([
      'shop-opened',
      'registered',
      'registered'
    ])
    expect(got(await archive.jobs())).toEqual([])
    expect(got(await archive.end(shopChain)).count).toBe(3)
    expect(got(await checkShop(archive))).toEqual([])
    expect(await probeOn()).toBe('in force')
  })

  it('add nothing for rows that stand there word for word', async () => {
    got(await registerRows([first.row, probe], by(first)))
    expect(got(await registerRows([probe, first.row], by(first)))).toEqual({
      added: [],
      unchanged: [
        { what: 'probe', name: 'P-1' },
        { what: 'person', name: 'C. Level' }
      ]
    })
    const taped = { ...probe, tape: 'new' }
    expect(got(await registerRows([taped], by(first))).added).toHaveLength(1)
    expect(got(await registerRows([probe], by(first))).added).toHaveLength(1)
  })

  it('outlive the program', async () => {
    got(await registerRows([first.row, probe], by(first)))
    await archive.close()
    archive = got(await openArchive(folder))
    expect(await probeOn()).toBe('in force')
  })

  it('strike off, and take back what is registered again', async () => {
    got(await registerRows([first.row, probe], by(first)))
    const out = { what: 'probe', name: 'P-1', from: day, reason: 'worn' } as const
    got(await strikeOff(out, by(first)))
    expect(await probeOn()).toBe('struck off')
    expect(codeOf(await strikeOff(out, by(first)))).toBe('shop/not-registered')
    expect(got(await registerRows([probe], by(first))).added).toHaveLength(1)
    expect(await probeOn()).toBe('in force')
  })

  it('replace a key by a second person', async () => {
    got(await registerRows([first.row, second.row], by(first)))
    const fresh = signerOf('C. Level', 'III')
    const replacing = { old: { document: first.person, row: first.row }, public: fresh.row.key.public, reason: 'lost' }
    expect(codeOf(await replaceKey(replacing, by(first)))).toBe('shop/same-person')
    got(await replaceKey(replacing, by(second)))
    expect(codeOf(await registerRows([probe], by(first)))).toBe('shop/unknown-signer')
    const row = { ...first.row, key: fresh.row.key }
    got(await registerRows([probe], by({ ...fresh, row, person: sha256(canonical(row)) })))
    expect(got(await checkShop(archive))).toEqual([])
  })
})

describe('refusals leave the registers as they were', () => {
  it('rows without the first person', async () => {
    expect(codeOf(await registerRows([probe], by(first)))).toBe('shop/first-person-missing')
    expect(got(await registersIn(archive))).toBeUndefined()
  })

  it('one row of several', async () => {
    got(await registerRows([first.row], by(first)))
    const stolen = { ...second.row, name: 'Twin', key: first.row.key }
    expect(codeOf(await registerRows([probe, stolen], by(first)))).toBe('shop/key-differs')
    expect(await probeOn()).toBe('not registered')
  })

  it('a job under the reserved name, and a shop entry as a job entry', async () => {
    expect(codeOf(await archive.append(shopChain, 0, []))).toBe('record/reserved-name')
  })

  it('a clock that was set back', async () => {
    got(await registerRows([first.row], by(first)))
    const back = () => ({ ...clock(), time: '2026-03-13T08:00:00+01:00' })
    expect(codeOf(await registerRows([probe], { ...by(first), clock: back }))).toBe('record/clock-set-back')
    expect(await probeOn()).toBe('not registered')
  })
})

describe('a record of the shop that was changed', () => {
  async function spoiled(statement: string): Promise<readonly string[]> {
    got(await registerRows([first.row, probe], by(first)))
    await archive.close()
    const database = new Database(join(folder, 'archive.db'))
    database.exec(statement)
    database.close()
    archive = got(await openArchive(folder))
    return got(await checkShop(archive)).map(({ place }) => place)
  }

  it('shows where a body was changed', async () =>
    expect(await spoiled(`update entry set body = replace(body, 'P-1', 'P-2') where seq = 1`)).toContain('entry 1'))

  it('shows where a body is no JSON', async () =>
    expect(await spoiled(`update entry set body = 'x' where seq = 1`)).toContain('entry 1'))

  it('shows where a row was cut off', async () =>
    expect(await spoiled('delete from entry where seq = 1')).toEqual(['after entry 0']))

  it('shows where a document was changed', async () =>
    expect((await spoiled(`update document set body = '{}' where kind = 'probe'`))[0]).toMatch(/^document .*entry 1$/))
})
