/** Oracles: the rules of the registers and of the record, which let in or refuse what the invented people do. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { openJob } from '@trueloop/host/chain'
import { today } from '@trueloop/host/clock'
import { unlock } from '@trueloop/host/keys'
import { checkShop, readShop } from '@trueloop/host/shop'
import { keysFolder } from '@trueloop/host/signing'
import { heldOn, type WrittenRow } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { demoPassphrase, demoPeople, demoSheet } from '@trueloop/job/rehearse'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { withArchive } from './work/archive.ts'
import { makeDemoShop } from './work/demo-shop.ts'
import { registerFile } from './work/registering.ts'

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}

let home = ''
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-demo-shop-'))
})
afterEach(() => rmSync(home, { recursive: true, force: true }))

const input = () => ({ sheet: demoSheet(), folder: home })
const make = () => makeDemoShop(home, input())
const entries = async () =>
  got(await withArchive(async (archive) => got(await archive.entries('DEMO-1')).map(({ id }) => id), home))

describe('the shop of the demonstration', () => {
  it('is made once: people with keys, registers that are whole, a technique approved by signing', async () => {
    expect(got(await make())).toBe('people')
    const first = await entries()
    const state = got(await withArchive(async (archive) => replay(got(await archive.entries('DEMO-1'))), home))
    expect(state.opened.signing).toBe('required')
    expect(state.confirmed).toMatchObject({
      name: demoPeople[0].name,
      level: 'III',
      signed: { over: expect.anything() }
    })
    expect(got(await withArchive(checkShop, home))).toEqual([])
    for (const { name } of demoPeople)
      expect(isRefusal(await unlock({ folder: keysFolder(home), name }, demoPassphrase))).toBe(false)
    const keys = readdirSync(keysFolder(home))
    expect(keys).toHaveLength(3)
    expect(got(await make())).toBe('people')
    expect([await entries(), readdirSync(keysFolder(home))]).toEqual([first, keys])
  })

  it('comes to a demonstration that was opened without people, whose record stays as it is', async () => {
    got(await withArchive(async (archive) => openJob({ ...input(), archive }), home))
    const before = await entries()
    expect(got(await make())).toBe('people')
    expect(await entries()).toEqual(before)
    const shop = got(await withArchive(readShop, home))
    expect(heldOn(shop.registers, { what: 'person', name: demoPeople[1].name }, today()).state).toBe('in force')
  })

  it('stays away from the jobs of other people', async () => {
    const { job, ...rest } = demoSheet()
    const sheet = { ...rest, job: { ...job, id: 'OWN-1' } }
    got(await withArchive(async (archive) => openJob({ sheet, folder: home, archive }), home))
    expect(got(await make())).toBe('no people')
    expect(got(await withArchive(readShop, home)).rows).toEqual([])
  })

  it('and cli/own-registers from the registers of a shop', async () => {
    const row: WrittenRow = {
      ...{ register: 'person', version: 1, name: 'C. Level', method: 'eddy current', level: 'III' },
      certificate: { number: 'K', issued: '2020-01-01', expires: '2099-12-31' },
      near_vision: { examined: '2020-01-01', expires: '2099-12-31' }
    }
    process.env.TRUELOOP_PASSPHRASE = 'three level words of an invented person'
    const rows = [{ row, steps: ['people', 0] }]
    got(await registerFile({ home, as: 'C. Level', rows, place: (one) => one }))
    delete process.env.TRUELOOP_PASSPHRASE
    expect(await make()).toMatchObject({ code: 'cli/own-registers' })
  })
})
