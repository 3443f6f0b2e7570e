import { homedir } from 'node:os'
import { join } from 'node:path'
import type { Refusal } from '@trueloop/ground/refusal'
import type { JobSummary } from '@trueloop/host/chain'
import { describe, expect, it } from 'vitest'
import { exitOf } from './exit.ts'
import { dataFolder, demoFolder, fileNameOf } from './home.ts'
import { refusalText, table } from './terminal/say.ts'
import { outcomeLines, summaryText } from './terminal/summary.ts'
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

describe('the summary', () => {
  const place = { of: 'hole' as const, provisional: false, relevant: 0, undecided: 0, aboveAlarm: 0 }
  const rest = { why: [], open: [] }
  const waits = 'W-03/1, false: not scanned again after cleaning'
  const summary: JobSummary = {
    ...{ job: 'J', component: 'spar', demonstration: false, confirmed: 'by B', setUpUnknown: ['gain'] },
    places: [
      { ...place, ...rest, name: 'W-01', state: 'relevant, not decided', zones: 6, zonesExamined: 0 },
      { ...place, ...rest, name: 'W-02', state: 'examined, no relevant indication', zones: 6, zonesExamined: 6 },
      { ...place, why: [], open: [waits], name: 'W-03', state: 'undecided', zones: 6, zonesExamined: 0 }
    ],
    ...{
      counts: [],
      drawings: [],
      rechecks: [],
      unjudged: [],
      counted: { listed: 1, scanned: 1, without: [] },
      redo: [],
      nonconformances: [],
      waiting: true,
      entries: 1,
      head: 'f'
    }
  }

  it('says before all else what of the set-up nobody knows', () => {
    const text = summaryText(summary)
    const at = text.indexOf('set-up NOT KNOWN: gain; sizes and proposals are withheld')
    expect(at).toBeGreaterThan(0)
    expect(at).toBeLessThan(text.findIndex((one) => one.includes('W-01')))
  })

  it('says where zones were not examined, whatever was found in the others', () => {
    expect(summaryText(summary)).toContain('NOT EXAMINED IN WHOLE: W-01 (0 of 6 zones), W-03 (0 of 6 zones)')
  })

  it('says what keeps a place open', () => {
    expect(summaryText(summary)).toContain(`  W-03: OPEN: ${waits}`)
  })

  it('gives every reason in three parts under its recording', () => {
    const reasons = [refusal('scan/all-zero')]
    const of = { of: 'hole' as const, name: 'W-01' }
    const rest = { did: 'examined' as const, examination: 'e', refusals: ['scan/all-zero'], reasons }
    expect(outcomeLines({ file: 'w-01.wav', of, recording: 'r', before: false, ...rest })).toEqual([
      'w-01.wav: examined, refused in part or whole: scan/all-zero',
      '  scan/all-zero: found: a; needed: b; what to do: c'
    ])
  })
})

describe('a browser', () => {
  it('is never opened without a terminal', () => {
    expect(process.stdout.isTTY ?? false).toBe(false)
    expect(isSeen({ DISPLAY: ':0' }, 'linux')).toBe(false)
  })
})
