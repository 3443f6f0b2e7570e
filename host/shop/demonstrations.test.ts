/** Oracles: the rule that a failed trial stands, 29 of 29 as every table prints it, and times set by hand. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { signerOf } from '../keys/testing/index.ts'
import { checkShop, demonstrationsOf, judgeStored, readShop, registerRows, storedPlan, storePlan } from './index.ts'

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

let folder = ''
let archive: Archive
const level3 = signerOf('C. Level', 'III')
const on = (time: string) => ({
  ...{ archive, signer: level3 },
  clock: () => ({ time: `2026-03-14T${time}:00+01:00`, known: 'clock of this computer' as const })
})

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-demonstrations-'))
  archive = got(await openArchive(folder))
  got(await registerRows([level3.row], on('08:00')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true, force: true })
})

const plan = (name: string, letter: string, over: object = {}) => ({
  ...{ kind: 'demonstration-plan', version: 1, name, technique: 'T1', conditions: 'invented', flaws_are: 'real' },
  ...{ share: 0.9, confidence: 0.95, trials: 29, misses: 0, smallest_m: 0.0012, largest_m: 0.0013 },
  flaws: Array.from({ length: 29 }, (_, i) => ({ site: `${letter}${i}`, size_m: 0.00127 })),
  ...over
})
const looks = (letter: string, misses: number, hour = '10') =>
  Array.from({ length: 29 }, (_, i) => ({
    ...{ site: `${letter}${i}`, hit: i >= misses, at: `2026-03-14T${hour}:${String(i + 10)}:00+01:00` }
  }))
const judge = (name: string, rows: ReturnType<typeof looks>, time = '11:00') =>
  judgeStored({ name, rows, program: 'test 1' }, on(time))

describe('a demonstration', () => {
  it('is stored before its trial, judged once, and both stand in the record', async () => {
    expect(got(await storePlan(plan('one', 'A'), on('09:00'))).shown).toBeCloseTo(0.9018554, 7)
    const { outcome } = got(await judge('one', looks('A', 0)))
    expect(outcome).toMatchObject({ verdict: 'demonstrated', hits: 29, examined: 29, program: 'test 1' })
    expect(codeOf(await judge('one', looks('A', 0), '12:00'))).toBe('prove/already-judged')
    const shop = got(await readShop(archive))
    expect(got(demonstrationsOf(shop))).toMatchObject([
      { by: 'C. Level', stored: '2026-03-14T09:00:00+01:00', outcome: { verdict: 'demonstrated' } }
    ])
    expect(got(await checkShop(archive))).toEqual([])
    expect(codeOf(demonstrationsOf({ ...shop, document: () => undefined }))).toBe('shop/plan-missing')
  })

  it('whose plan came after a look, or was never stored, is not judged; nothing is written', async () => {
    got(await storePlan(plan('one', 'A'), on('10:30')))
    const before = got(await readShop(archive)).rows
    expect(codeOf(await judge('one', looks('A', 0)))).toBe('prove/plan-after-trial')
    expect(codeOf(await judge('other', looks('A', 0)))).toBe('shop/no-such-plan')
    expect(codeOf(storedPlan('other', got(await readShop(archive))))).toBe('shop/no-such-plan')
    expect(got(await readShop(archive)).rows).toEqual(before)
  })

  it('that failed stands: no other plan without a change, none with its flaws, and luck is counted over all', async () => {
    got(await storePlan(plan('one', 'A'), on('09:00')))
    expect(got(await judge('one', looks('A', 1))).outcome.verdict).toBe('not demonstrated')
    expect(codeOf(await storePlan(plan('two', 'B'), on('12:00')))).toBe('prove/nothing-changed')
    const mended = { changed: 'another probe' }
    expect(codeOf(await storePlan(plan('two', 'A', mended), on('12:00')))).toBe('prove/flaws-used-before')
    const again = got(await storePlan(plan('two', 'B', mended), on('12:00')))
    expect(again.byLuck).toBeCloseTo(1 - (1 - 0.9 ** 29) ** 2, 9)
  })
})
