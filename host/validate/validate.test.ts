import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { HOLE_METHOD } from '@trueloop/job/examine'
import { beforeAll, describe, expect, it } from 'vitest'
import shipped from './expected.json' with { type: 'json' }
import { publishedChecks } from './figures.ts'
import { validate, validationBlocks } from './index.ts'
import { findingChecks, runSet, type SetRun } from './set.ts'

/**
 * The set is the oracle of every other machine: its findings are equal to the bit, or this machine is not the one that was
 * released. Here it is looked at that the shipped names are those of this very version, and that a wrong one is told.
 */

let run: SetRun
const folder = mkdtempSync(join(tmpdir(), 'trueloop-set-'))

beforeAll(async () => {
  run = await runSet(join(folder, 'set'))
  rmSync(folder, { recursive: true })
  if (process.env.UPDATE_GOLDEN === '1') {
    const { source, license, kept } = shipped as unknown as Record<string, unknown>
    const expected = { ...{ source, license, kept }, method: HOLE_METHOD, examinations: run.examinations }
    writeFileSync(new URL('./expected.json', import.meta.url), `${JSON.stringify(expected, null, 2)}\n`)
  }
}, 300_000)

describe('the shipped set', () => {
  it('gives on this machine what it gave when this version was made', () => {
    expect(run.examinations).toEqual(shipped.examinations)
    expect(shipped.method).toBe(HOLE_METHOD)
  })

  it('tells another finding, and one that is missing', () => {
    const [first, second] = Object.keys(shipped.examinations) as [string, string]
    const { [second]: _, ...rest } = run.examinations
    const checks = findingChecks({ ...rest, [first]: '0'.repeat(64) }, shipped)
    expect(checks.filter(({ holds }) => !holds).map(({ name }) => name)).toEqual([
      `findings of ${first}`,
      `findings of ${second}`
    ])
  })

  it('has its record looked at, and one changed byte told', () =>
    expect(run.checks.map(({ found, holds }) => [found, holds])).toEqual([
      ['intact', true],
      ['told of it alone', true]
    ]))
})

describe('published figures', () => {
  it('come out as they were printed', () => expect(publishedChecks().filter(({ holds }) => !holds)).toEqual([]))
})

describe('the record of a validation', () => {
  it('says what is on this machine, what was looked at, and whether all of it holds', async () => {
    const at = { time: '2026-03-14T12:00:00.000Z', known: 'clock of this computer' } as const
    const made = await validate(at, import.meta.dirname)
    expect(made.holds).toBe(true)
    expect(made.files.map(({ file }) => file)).toContain('validate.ts')
    const wrong = { ...made, holds: false, checks: made.checks.map((one) => ({ ...one, holds: false })) }
    expect(JSON.stringify(validationBlocks(wrong))).toContain('Do not examine with it')
    expect(JSON.stringify(validationBlocks(made, 'Signed by C. Level'))).toContain('Signed by C. Level')
  }, 300_000)
})
