import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { notApplicableMark } from '../../house/outside.ts'
import { missingMark } from '../../house/tools.ts'
import { root } from './places.mjs'
import { closingTable } from './table.mjs'
import { lastLine, sum, tallyOf } from './tally.mjs'

const test = (status: string, ...names: string[]) => ({
  status,
  ancestorTitles: names.slice(0, -1),
  title: names.at(-1) ?? ''
})
const file = (name: string, status: string, assertionResults: ReturnType<typeof test>[]) => ({
  name: join(root, name),
  status,
  assertionResults
})

const mixed = {
  testResults: [
    file('job/a.test.ts', 'failed', [
      test('passed', 'a'),
      test('failed', 'b'),
      test('skipped', `page ${missingMark('chromium')}`, 'opens'),
      test('pending', `sweeps ${notApplicableMark('outside/quirk_files')}`, 'reads'),
      test('skipped', 'later')
    ])
  ]
}

describe('tally', () => {
  it('counts and names by reason', () => {
    const tally = tallyOf(mixed, 1)
    expect(lastLine(tally)).toBe('1 passed, 1 failed, 2 skipped')
    expect(tally.skipped.map(({ reason }) => reason)).toEqual(['chromium', undefined])
    expect(tally.notApplicable).toEqual([
      { file: 'job/a.test.ts', name: expect.stringContaining('sweeps'), reason: 'outside/quirk_files' }
    ])
  })

  it('counts a file that could not be loaded, a run without a report and a fault outside tests as failures', () => {
    expect(tallyOf({ testResults: [file('job/b.test.ts', 'failed', [])] }, 1).failed).toBe(1)
    expect(tallyOf(undefined, 0).failed).toBe(1)
    expect(tallyOf({ testResults: [file('job/c.test.ts', 'passed', [test('passed', 'a')])] }, 1)).toMatchObject({
      passed: 1,
      failed: 1
    })
    expect(tallyOf({ testResults: [] }, 0)).toMatchObject({ passed: 0, failed: 0 })
  })

  it('names in the closing table what did not run and why, with the one command', () => {
    const total = sum([tallyOf(mixed, 1)])
    const lines = closingTable([{ name: 'unit', tally: total, ms: 1234 }], total)
    const table = lines.join('\n')
    expect(table).toMatch(/unit +1 +1 +2 +1 +1\.2 s/)
    expect(table).toMatch(/npm run outside\n +chromium +1 +job\/a\.test\.ts/)
    expect(table).toMatch(/not applicable[^\n]*TRUELOOP_SHARED[^\n]*\n +outside\/quirk_files +1/)
    expect(table).toContain('job/a.test.ts: later')
  })
})
