/** Oracle: stretches that the test drew along the track. */
import { describe, expect, it } from 'vitest'
import { StretchTracker } from './track.ts'

const y = Float64Array.from({ length: 300 }, (_, i) =>
  i >= 40 && i < 60 ? 2 - Math.abs(i - 47) / 20 : i >= 200 && i < 203 ? 1 : 0.2
)
const x = y.map((v) => -2 * v)

function track(length: number) {
  const tracker = new StretchTracker(1)
  const events = []
  for (let at = 0; at < y.length; at += length)
    events.push(...tracker.take(1000 + at, x.slice(at, at + length), y.slice(at, at + length)))
  const closed = tracker.close()
  return { events: [...events, ...closed.events], stretches: closed.stretches, overflow: tracker.overflow }
}

describe('StretchTracker', () => {
  const whole = track(300)

  it('follows each stretch at or above the screen, its peak and its signal', () => {
    expect(whole.stretches.map(({ from, to, peak, level }) => [from, to, peak, level])).toEqual([
      [1040, 1059, 1047, 2],
      [1200, 1202, 1200, 1]
    ])
    expect(whole.stretches[0]!.y).toEqual(Array.from(y.slice(40, 60)))
    expect(whole.stretches[0]!.x).toEqual(Array.from(x.slice(40, 60)))
    expect(whole.events.map(({ kind, id }) => `${kind} ${id}`)).toEqual([
      'opened c1',
      'settled c1',
      'opened c2',
      'settled c2'
    ])
    expect(whole.overflow).toBe(false)
  })

  it('is the same for any cutting', () => {
    for (const length of [1, 7, 50]) expect(track(length)).toEqual(whole)
  })

  it('settles what is open when the track ends', () => {
    const tracker = new StretchTracker(1)
    tracker.take(0, Float64Array.of(0, 1), Float64Array.of(0, 3))
    expect(tracker.close().stretches).toEqual([{ id: 'c1', from: 1, to: 1, peak: 1, level: 3, x: [1], y: [3] }])
  })

  it('tells when there are more than can be kept', () => {
    const tracker = new StretchTracker(1)
    const comb = Float64Array.from({ length: 8010 }, (_, i) => (i % 2 === 0 ? 2 : 0))
    tracker.take(0, comb, comb)
    expect(tracker.close().stretches).toHaveLength(4000)
    expect(tracker.overflow).toBe(true)
  })
})
