/** Oracles: the definition of a hand feed; the depth at which a notch is met on each stroke. */
import { randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { generate } from './generate.ts'
import { handFeed } from './hand-feed.ts'
import { depthsOf, passesOf } from './motion.ts'
import { quiet } from './testing/scenes.ts'

const form = {
  ...{ grip_m: 0.006, pitch_m: 0.0002, before_m: 0.0015, beyond_m: 0.0012 },
  ...{ dwell_turn: 3, reversal_m: 0.0007, unevenness: 2.5, out: true }
}

describe('a hand feed', () => {
  it('goes in, rests, goes back a little, in to the end, rests, and out', () => {
    fc.assert(
      fc.property(fc.integer(), (seed) => {
        const { points } = handFeed(form, randomFrom(`hand ${seed}`))
        const steps = points.slice(1).map((to, k) => ({ turns: to.turn - points[k]!.turn, z: to.z_m - points[k]!.z_m }))
        expect(steps.every(({ turns }) => turns > 0)).toBe(true)
        const advances = steps.filter(({ z }) => z !== 0).map(({ turns, z }) => Math.abs(z) / turns)
        expect(Math.min(...advances)).toBeGreaterThan(0.0002 / Math.sqrt(2.5) - 1e-12)
        expect(Math.max(...advances)).toBeLessThan(0.0002 * Math.sqrt(2.5) + 1e-12)
        const senses = steps.map(({ z }) => Math.sign(Math.round(z * 1e12)))
        const runs = senses.filter((sense, k) => k === 0 || sense !== senses[k - 1])
        expect(runs).toEqual([1, 0, -1, 1, 0, -1])
        const rests = steps.filter(({ z }) => z === 0).map(({ turns }) => turns)
        expect(rests).toHaveLength(2)
        for (const rest of rests) expect(rest).toBeCloseTo(3, 9)
        expect([points[0]!.z_m, points.at(-1)!.z_m]).toEqual([-0.0015, -0.0015])
        expect(Math.max(...points.map(({ z_m }) => z_m))).toBeCloseTo(0.0072, 12)
      }),
      { numRuns: 50 }
    )
  })

  it('is the same for the same stream', () =>
    expect(handFeed(form, randomFrom('a'))).toEqual(handFeed(form, randomFrom('a'))))

  it('without a way out ends beyond the exit face', () =>
    expect(handFeed({ ...form, out: false }, randomFrom('a')).points.at(-1)!.z_m).toBeCloseTo(0.0072, 12))

  it('that does not go on is none', () => {
    expect(() => handFeed({ ...form, pitch_m: 0 }, randomFrom('a'))).toThrow(RangeError)
    expect(() => handFeed({ ...form, unevenness: 0.5 }, randomFrom('a'))).toThrow(RangeError)
  })

  it('meets a notch wherever it passes it', () => {
    const feed = handFeed(form, randomFrom('notch'))
    const scene = { ...quiet, motion: { ...quiet.motion, feed } }
    const { y, rate_Hz } = generate(scene, 1)
    const [notch] = quiet.flaws
    const middle = (notch!.z0_m + notch!.z1_m) / 2
    const passes = passesOf(scene, middle)
    expect(passes.length === 2 || passes.length === 4).toBe(true)
    const depth = depthsOf(feed)
    const perTurn = (60 * rate_Hz) / quiet.motion.rpm
    for (const turn of passes) {
      expect(depth(turn)).toBeCloseTo(middle, 12)
      const part = y.subarray(Math.round((turn - 0.5) * perTurn), Math.round((turn + 0.5) * perTurn))
      expect(Math.max(...part) - Math.min(...part)).toBeGreaterThan(0.8)
    }
  })

  it('is read the same forward and anywhere', () => {
    const feed = handFeed(form, randomFrom('any'))
    const forward = depthsOf(feed)
    const turns = Array.from({ length: 400 }, (_, k) => (k * feed.points.at(-1)!.turn) / 399)
    const inOrder = turns.map((turn) => forward(turn))
    const backward = depthsOf(feed)
    expect([...turns].reverse().map((turn) => backward(turn))).toEqual([...inOrder].reverse())
    expect(turns.map((turn) => depthsOf(feed)(turn))).toEqual(inOrder)
  })
})
