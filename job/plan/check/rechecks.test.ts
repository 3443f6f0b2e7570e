import { describe, expect, it } from 'vitest'
import { sheetOf } from '../read.ts'
import { sampleSheet } from '../testing/sample.ts'

/** Oracle: what has to be known to keep an interval, and who is named; on a sheet written out by hand. */

const codesOf = (rechecks: object | undefined, change: (recordings: Record<string, unknown>[]) => void = () => {}) => {
  const sheet = sampleSheet()
  if (rechecks !== undefined) Object.assign(sheet.technique, { rechecks })
  change(sheet.recordings)
  const reading = sheetOf(sheet)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : []
}

describe('the rules of rechecks', () => {
  it('with an interval ask for the time of every recording', () => {
    const times = (all: Record<string, unknown>[]) => {
      for (const [at, one] of all.entries()) one.taken = `2026-03-14T09:${10 + at}:00`
    }
    expect(codesOf({ interval_min: 60 }, times)).toEqual([])
    const without = (all: Record<string, unknown>[]) => {
      times(all)
      delete all[1]?.taken
    }
    expect(codesOf({ interval_min: 60 }, without)).toEqual([['plan/missing-value', 'recordings[1]']])
    expect(codesOf({ after: ['tape'] }, without)).toEqual([])
  })

  it('know the people who took a recording, and what can happen', () => {
    const said = (over: object) => codesOf(undefined, (all) => Object.assign(all[1] ?? {}, over))
    expect(said({ examined_by: 'B', since: ['person', 'tape'], order: 'not sure' })).toEqual([])
    expect(said({ examined_by: 'Nobody' })).toEqual([['plan/unknown-person', 'recordings[1].examined_by']])
    expect(said({ since: ['weather'] }).map(([code]) => code)).toEqual(['plan/bad-value'])
    expect(codesOf({ interval_min: 0 }).map(([code]) => code)).toEqual(['plan/bad-value'])
  })
})
