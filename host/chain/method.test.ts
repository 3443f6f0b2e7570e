import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { HOLE_METHOD } from '@trueloop/job/examine'
import { type Entry, validationsIn } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { signersDocument } from '../decide/index.ts'
import { signedEntry } from '../keys/index.ts'
import { appendStated, readShop, type ShopDraft } from '../shop/index.ts'
import { openJob, runChain } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { dayOf, equipmentRows, got, register, signedSheet, signerOf } from './testing/shop.ts'

/** Oracle: the rule that no method examines for a technique before a Level III has accepted it after a validation that held. */

const clock = dayOf('2026-03-03T08:00:00Z')
const three = signerOf('C. Level', 'III')
const four = signerOf('D. Level', 'III')
const methods = { 'fastener hole': HOLE_METHOD, weld: 1, loop: 1 }

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-method-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true, force: true })
})

async function state(signer: typeof three, draft: ShopDraft) {
  return appendStated(got(await readShop(archive)), [draft], { archive, clock, signer })
}

async function validated(): Promise<string> {
  const [program, platform] = [{ name: 'Trueloop', version: '0.1.0' }, 'a system']
  const record = { kind: 'validation', program, machine: { system: platform }, methods, holds: true }
  const document = got(await archive.storeDocument('validation', record))
  got(await state(three, { kind: 'installation-validated', document, program, platform, methods, passed: true }))
  return validationsIn(got(await readShop(archive)).rows)[0]!.id
}

/** A job whose technique was approved with a method that this program does not have. */
async function approvedWithOther() {
  const sheet = signedSheet(demoJob(folder, ['reference-start.wav']))
  const two = signerOf('B. Two', 'II')
  await register({ archive, folder, clock, three }, [three.row, four.row, two.row, ...equipmentRows(sheet)])
  const { technique } = got(await openJob({ sheet, folder, archive, clock }))
  const rows = got(await archive.entries(sheet.job.id))
  const person = got(await signersDocument(rows, { archive, clock, signer: three }))
  const approval = {
    kind: 'technique-confirmed',
    technique,
    name: 'C. Level',
    level: 'III',
    on: '2026-03-01',
    method: 999
  }
  const signed = signedEntry<Entry>(approval, { chain: sheet.job.id, rows, signer: three, clock })
  got(await archive.append(sheet.job.id, rows.length, [...person, signed]))
  return sheet
}

describe('a technique approved with another method', () => {
  it('is examined only once the Level III it names has accepted the method of this program', async () => {
    const sheet = await approvedWithOther()
    const codes = async () => (await runChain({ sheet, folder, archive, clock })).refusals.map(({ code }) => code)
    expect(await codes()).toEqual(['chain/another-method'])
    const draft = { kind: 'method-accepted', application: 'fastener hole', method: HOLE_METHOD } as const
    const early = await state(three, { ...draft, validation: 'none' })
    expect(isRefusal(early) && early.code).toBe('shop/not-validated')
    const validation = await validated()
    expect(await codes()).toEqual(['chain/another-method'])
    got(await state(four, { ...draft, validation }))
    expect(await codes()).toEqual(['chain/another-method'])
    got(await state(three, { ...draft, validation }))
    expect(await codes()).toEqual([])
  })
})
