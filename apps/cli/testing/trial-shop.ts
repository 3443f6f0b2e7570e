import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect } from 'vitest'
import { fileIn } from '../trial/run.ts'
import type { TrialSetup } from '../trial/setup.ts'
import { trialSheet } from '../trial/sheet.ts'
import { addressOf } from './browser.ts'
import { type Started, start } from './bundle.ts'
import { passphrases, person, registers, used } from './people.ts'

/** A trial job in a shop with invented people, examined once; each walk is served a copy of its own. */
export interface TrialShop {
  readonly job: string
  /** serves a copy until `end` is called */
  serve(): Promise<{ readonly address: string; end(): Promise<void> }>
}

interface Asked {
  readonly trial: string
  readonly folder: string
  /** what the technique says beside the trial's own */
  readonly technique?: object
}

/** The trial's technique and equipment as they are; people to sign for it are invented, the trial has none. */
export function trialShop({ trial, folder, technique = {} }: Asked): TrialShop {
  const job = `TRIAL ${trial}`
  let base = ''
  beforeAll(async () => {
    base = mkdtempSync(join(tmpdir(), 'trueloop-trial-shop-'))
    const setup = JSON.parse(readFileSync(join(folder, trial, 'setup.json'), 'utf8')) as TrialSetup
    const { confirmed: _, ...stated } = trialSheet({
      name: trial,
      setup,
      fileOf: (one) => fileIn(join(folder, trial), one)
    })
    const sheet = {
      ...stated,
      people: [{ name: 'B. Two', level: 'II' }],
      examined_by: 'B. Two',
      technique: { ...(stated.technique as object), approver: 'C. Level', ...technique }
    }
    await open(base, sheet as unknown as Parameters<typeof used>[0])
  }, 240_000)
  afterAll(() => rmSync(base, { recursive: true, force: true }))
  return { job, serve: () => served(base) }
}

async function open(base: string, sheet: Parameters<typeof used>[0]): Promise<void> {
  const home = join(base, 'home')
  const written = (name: string, value: unknown): string => {
    const path = join(base, name)
    writeFileSync(path, JSON.stringify(value))
    return path
  }
  const run = async (args: readonly string[], as?: string) =>
    start(home, [...args, ...(as === undefined ? [] : ['--as', as])], {
      TRUELOOP_PASSPHRASE: as === undefined ? '' : (passphrases[as] ?? '')
    }).ended
  const made = await start(home, ['key', 'new', 'B. Two'], { TRUELOOP_PASSPHRASE: passphrases['B. Two'] ?? '' }).ended
  expect(made).toMatchObject({ code: 0 })
  const people = registers(person('C. Level', 'III'), person('B. Two', 'II'))
  const path = written('job.json', sheet)
  const { id } = (sheet as unknown as { job: { id: string } }).job
  expect(await run(['register', written('people.json', people)], 'C. Level')).toMatchObject({ code: 0 })
  expect(await run(['register', written('used.json', used(sheet))], 'C. Level')).toMatchObject({ code: 0 })
  expect((await run(['plan', path])).err).toBe('')
  expect(await run(['approve', id], 'C. Level')).toMatchObject({ code: 0 })
  // 1: something waits for a person
  expect(await run(['examine', path])).toMatchObject({ code: 1, err: '' })
}

async function served(base: string): ReturnType<TrialShop['serve']> {
  const home = mkdtempSync(join(tmpdir(), 'trueloop-trial-walk-'))
  cpSync(join(base, 'home'), home, { recursive: true })
  const serving: Started = start(home, ['serve', '--port', '0'])
  const address = await addressOf(serving)
  return {
    address,
    end: async () => {
      serving.child.kill('SIGINT')
      await serving.ended
      rmSync(home, { recursive: true, force: true })
    }
  }
}
