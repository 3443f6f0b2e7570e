/** Oracles: a record with one hole of each kind (the invented report of job/record); exact bounds as every table of counts prints them. */
import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import type { JobState, PlaceState } from '../record/index.ts'
import { inventedReport } from '../record/testing/index.ts'
import { type MonitoredPlace, monitor, monitoredIn, practiceAnswersOf } from './index.ts'

const by = { hash: (text: string) => createHash('sha256').update(text).digest('hex'), program: 'test 1' }

describe('practice in a job', () => {
  const { state } = inventedReport()
  const practice = (place: PlaceState, flawed: boolean): PlaceState => ({
    ...place,
    practice: { name: place.place.name, flawed, what: 'invented' }
  })
  const marked = (places: readonly PlaceState[]): JobState => ({ ...state, places, practice: { places: [] } as never })

  it('is told place by place: called by a person, not called, or without a call and why', () => {
    const [clean, relevant] = state.places as [PlaceState, PlaceState]
    const decided = {
      ...relevant,
      joined: relevant.joined.map((one) => ({
        ...one,
        decided: { class: 'relevant', by: { name: 'B. Two' } } as never
      }))
    }
    const told = monitoredIn(marked([practice(clean, false), practice(decided, true), practice(relevant, true), clean]))
    expect(told).toEqual([
      { job: 'INV-7', place: 'W-1', inspector: 'A. Invented', flawed: false, called: false },
      { job: 'INV-7', place: 'W-2', inspector: 'B. Two', flawed: true, called: true },
      expect.objectContaining({ place: 'W-2', flawed: true, why: expect.stringContaining('waits for a person') })
    ])
    expect(monitoredIn(state)).toEqual([])
  })
})

describe('monitoring', () => {
  const places = (count: number, flawed: boolean, called: number): readonly MonitoredPlace[] =>
    Array.from({ length: count }, (_, i) => ({
      ...{ job: 'J', place: `${flawed} ${i}`, inspector: 'A. Sample', flawed, called: i < called }
    }))

  it('has exact bounds: 29 of 29 found is at least 90.19 %, none of 40 called at most 7.22 %', () => {
    const { inspectors, data } = monitor([...places(29, true, 29), ...places(40, false, 0)], 0.95, by)
    expect(inspectors).toHaveLength(1)
    expect(inspectors[0]?.found).toMatchObject({ called: 29, of: 29 })
    expect(inspectors[0]?.found?.bound).toBeCloseTo(0.05 ** (1 / 29), 12)
    expect(inspectors[0]?.falselyCalled?.bound).toBeCloseTo(1 - 0.05 ** (1 / 40), 12)
    expect(data.places).toBe(69)
  })

  it('counts what has no call for neither', () => {
    const open: MonitoredPlace = { job: 'J', place: 'P', inspector: 'A. Sample', flawed: true, why: 'not examined' }
    expect(monitor([open], 0.95, by).inspectors).toEqual([{ inspector: 'A. Sample', without: 1 }])
  })
})

describe('answers of practice', () => {
  const answers = {
    trueloop: 'mixed-practice/1',
    job: 'J',
    seed: 1,
    places: [{ name: 'P', flawed: true, what: 'a crack' }]
  }
  it('are read, or refused with the place', () => {
    expect(practiceAnswersOf(answers)).toEqual(answers)
    expect(practiceAnswersOf({ ...answers, places: [] })).toMatchObject({ code: 'prove/bad-question' })
  })
})
