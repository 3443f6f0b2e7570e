import { expect, it } from 'vitest'
import type { PlaceRow } from '../asking/client.ts'
import { nextOpen, wantedPlaces } from './wanted.ts'

const row = (name: string, state: PlaceRow['state'], open: readonly string[] = []): PlaceRow => ({
  ...{ of: 'hole', name, state, open, provisional: false, zonesExamined: 1, zones: 1 },
  ...{ relevant: 0, undecided: 0, aboveAlarm: 0, why: [] }
})
const places = [
  row('W-01', 'examined, no relevant indication'),
  row('W-02', 'undecided', ['W-02/1: loose particle']),
  row('W-03', 'not examined'),
  row('W-04', 'relevant, not decided', ['W-04/1: crack'])
]
const names = (some: readonly PlaceRow[]) => some.map(({ name }) => name)
const all = { states: [], text: '', waiting: false }

it('shows all, those of some states, those that say something, those that wait', () => {
  expect(names(wantedPlaces(places, all))).toEqual(['W-01', 'W-02', 'W-03', 'W-04'])
  expect(names(wantedPlaces(places, { ...all, states: ['undecided', 'not examined'] }))).toEqual(['W-02', 'W-03'])
  expect(names(wantedPlaces(places, { ...all, text: ' CRACK ' }))).toEqual(['W-04'])
  expect(names(wantedPlaces(places, { ...all, waiting: true }))).toEqual(['W-02', 'W-04'])
  expect(names(wantedPlaces(places, { ...all, waiting: true, text: '03' }))).toEqual([])
})

it('goes around to the next one that waits', () => {
  expect(nextOpen(places, 'W-01')?.name).toBe('W-02')
  expect(nextOpen(places, 'W-02')?.name).toBe('W-04')
  expect(nextOpen(places, 'W-04')?.name).toBe('W-02')
  expect(nextOpen(places.slice(0, 2), 'W-02')).toBeUndefined()
  expect(nextOpen(places, 'elsewhere')?.name).toBe('W-02')
})
