import { homedir } from 'node:os'
import { join } from 'node:path'
import type { Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { exitOf } from './exit.ts'
import { dataFolder, demoFolder, fileNameOf } from './home.ts'
import { refusalText, table } from './terminal/say.ts'
import { isSeen } from './work/serving.ts'

const refusal = (code: string): Refusal => ({
  ...{ refused: true, code, found: 'a', needed: 'b', remedy: 'c' },
  where: { file: 'job.yaml', line: 3, column: 5, path: 'job.id' }
})

describe('the data folder', () => {
  it('is where TRUELOOP_HOME says, for the demonstration too', () => {
    expect(dataFolder({ TRUELOOP_HOME: 'here' }, 'linux')).toBe('here')
    expect(demoFolder({ TRUELOOP_HOME: 'here' })).toBe('here')
  })

  // XDG Base Directory Specification; Apple File System Programming Guide; Windows known folder RoamingAppData
  it('is else where the platform keeps the data of programs', () => {
    expect(dataFolder({ XDG_DATA_HOME: 'x' }, 'linux')).toBe(join('x', 'trueloop'))
    expect(dataFolder({}, 'linux')).toBe(join(homedir(), '.local', 'share', 'trueloop'))
    expect(dataFolder({}, 'darwin')).toBe(join(homedir(), 'Library', 'Application Support', 'Trueloop'))
    expect(dataFolder({ APPDATA: 'a' }, 'win32')).toBe(join('a', 'Trueloop'))
  })

  it('keeps the demonstration away from own jobs', () => expect(demoFolder({})).not.toBe(dataFolder({})))

  it('takes no path from the number of a job', () => {
    expect(['A/B 7', '../..', '', 'Ø 6.35'].map(fileNameOf)).toEqual(['A-B-7', 'job', 'job', 'Ø-6.35'])
  })
})

describe('exit codes', () => {
  it('follow from the rooms of the refusals, the archive first', () => {
    expect(exitOf([])).toBe(0)
    expect(exitOf([refusal('plan/bad-value')])).toBe(2)
    expect(exitOf([refusal('plan/bad-value'), refusal('archive/locked')])).toBe(3)
    expect(exitOf([refusal('record/sequence-taken')])).toBe(3)
  })
})

describe('what is said', () => {
  it('of a refusal has three parts and the place', () => {
    expect(refusalText(refusal('plan/bad-value')).split('\n')).toEqual([
      ...['refused: plan/bad-value', '  where:      job.yaml:3:5, job.id', '  found:      a'],
      ...['  needed:     b', '  what to do: c']
    ])
  })

  it('in a table stands in columns, figures to the right', () => {
    const rows = [
      ['name', 'count'],
      ['W-01', '7'],
      ['a longer one', '12']
    ]
    expect(table(rows)).toEqual(['name          count', 'W-01              7', 'a longer one     12'])
    expect(table([])).toEqual([])
  })
})

describe('a browser', () => {
  it('is never opened without a terminal', () => {
    expect(process.stdout.isTTY ?? false).toBe(false)
    expect(isSeen({ DISPLAY: ':0' }, 'linux')).toBe(false)
  })
})
