/** Oracle: a record with one hole of each kind (the invented report of job/record), and what a person must have said of each. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { JobState, PlaceState } from '../../record/index.ts'
import { inventedReport } from '../../record/testing/index.ts'
import { type RunningTrial, resultsOfJob } from './index.ts'

const { state } = inventedReport()
const sites = state.places.map(({ place }) => place.name)
const running: RunningTrial = {
  ...{ trueloop: 'running-trial/1', name: 'trial (invented)', procedure: { id: 'P', revision: 'A' }, size_is: 'depth' },
  ...{ specimens: 'simulated', analysis: { corner: 'hit/miss' }, answers_sha256: 'a'.repeat(64) },
  orders: [{ inspector: 'A. Sample', sites }]
}
const of = (one: JobState, inspector = 'A. Sample', trial = running) => {
  const found = resultsOfJob(one, { running: trial, inspector })
  if (isRefusal(found)) return found.code
  return found
}
const changed = (name: string, over: (place: PlaceState) => Partial<PlaceState>): JobState => ({
  ...state,
  places: state.places.map((place) => (place.place.name === name ? { ...place, ...over(place) } : place))
})
const decided = (name: string, cls: string) =>
  changed(name, ({ joined }) => ({
    joined: joined.map((one) => ({ ...one, decided: { class: cls } as never }))
  }))

describe('results from the record of a job', () => {
  it('are of places examined whole, under a set-up that held, in which nothing waits; all others say why they have none', () => {
    const found = of(state)
    if (typeof found === 'string') throw new Error(found)
    expect(found.results).toEqual([expect.objectContaining({ inspector: 'A. Sample', site: 'W-1', called: false })])
    expect(Object.fromEntries(found.open.map(({ site, why }) => [site, why]))).toEqual({
      'W-2': 'waits for a person: what the program proposes is no call',
      'W-3': 'not examined, or not whole',
      'W-4': 'waits for a person: what the program proposes is no call',
      'W-5': 'voided by a recheck',
      'W-6': 'not examined, or not whole',
      'W-7': 'no good recheck after its scan',
      'W-8': 'not examined, or not whole'
    })
    expect(found.from).toEqual({ job: 'INV-7', head: state.head, inspector: 'A. Sample' })
  })

  it('are calls where a person took something for relevant or sent the place away, with the strongest signal', () => {
    const amplitude = state.places[1]!.joined[0]!.seen[0]!.amplitude
    const call = (one: JobState, site: string) => {
      const found = of(one)
      return typeof found === 'string' ? undefined : found.results.find((result) => result.site === site)
    }
    expect(call(decided('W-2', 'relevant'), 'W-2')).toMatchObject({ called: true, signal: amplitude })
    expect(call(decided('W-2', 'nonrelevant'), 'W-2')).toMatchObject({ called: false, signal: amplitude })
    const sent = changed('W-3', () => ({ disposition: { disposition: 'refer' } as never }))
    expect(call(sent, 'W-3')).toMatchObject({ called: true })
    expect(call(decided('W-5', 'relevant'), 'W-5')).toBeUndefined()
  })

  it('are refused from a demonstration in a trial of real specimens, and for a person who is no inspector of it', () => {
    expect(of(state, 'A. Sample', { ...running, specimens: 'real' })).toBe('prove/not-real')
    expect(of(state, 'B. Two')).toBe('prove/no-such-inspector')
  })

  it('are of the places of the trial alone', () => {
    const found = of(state, 'A. Sample', { ...running, orders: [{ inspector: 'A. Sample', sites: ['W-1', 'S-9'] }] })
    expect(typeof found === 'string' ? found : [found.results.length, found.open.length]).toEqual([1, 0])
  })
})
