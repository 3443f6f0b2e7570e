/** Oracles: spikes put in by the test, at known samples; smooth pulses of known width; laws of the plane. */
import { randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { markSpikes, spikeMargin } from './despike.kernel.ts'
import { spikeRule } from './sample-line.ts'

const rule = spikeRule(25_600)
const N = 2000

const marked = (x: Float64Array, y: Float64Array): readonly number[] => {
  const ok = new Uint8Array(x.length)
  markSpikes(x, y, ok, rule)
  return [...ok.keys()].filter((i) => ok[i] === 2)
}

const noise = (seed: string, size: number): Float64Array => {
  const random = randomFrom(seed)
  return Float64Array.from({ length: N }, () => size * random.normal())
}

/** A wall that turns: slow, smooth, with noise on it. */
const wall = (seed: string, size = 0.01) => ({
  x: noise(`${seed} x`, size).map((v, i) => v + Math.sin(0.01 * i)),
  y: noise(`${seed} y`, size).map((v, i) => v + Math.cos(0.007 * i))
})

describe('the rule', () => {
  it('is a tenth of a millisecond, at least one sample and at most twelve', () => {
    expect([1000, 10_000, 25_600, 60_000, 1e6].map((rate) => spikeRule(rate).width)).toEqual([1, 1, 3, 6, 12])
  })
  it('looks no farther than its margin', () => {
    const { x, y } = wall('margin')
    x[1000]! += 5
    const far = 1000 + spikeMargin(rule) + rule.width
    const changed = x.slice()
    changed[far + 1]! += 0.02
    expect(marked(changed, y)).toEqual(marked(x, y))
  })
})

describe('spikes', () => {
  it.each([1, 2, 3])('of %i samples are found whole', (width) => {
    const { x, y } = wall('found')
    const at = [301, 702, 1103, 1404]
    for (const [k, first] of at.entries()) {
      for (let i = first; i < first + width; i++) (k % 2 === 0 ? x : y)[i]! += k < 2 ? 1 : -1
    }
    const found = marked(x, y)
    for (const first of at) for (let i = first; i < first + width; i++) expect(found).toContain(i)
    const beside = found.filter((i) => !at.some((first) => i >= first - rule.width && i < first + width + rule.width))
    expect(beside).toEqual([])
    expect(found.length).toBeLessThanOrEqual(at.length * (width + 2 * (rule.width - 1)))
  })

  it('are few where there is only noise', () => {
    // a normal cloud passes twelve times its median step with exp(-0.5·(12·1.18)²): never
    const { x, y } = wall('nothing')
    expect(marked(x, y)).toEqual([])
  })

  it('are left alone when the sample cannot be read', () => {
    const { x, y } = wall('unread')
    x[500] = Number.NaN
    y[500] = Number.NaN
    y[900] = Number.NaN
    const ok = new Uint8Array(N)
    markSpikes(x, y, ok, rule)
    expect([...ok.keys()].filter((i) => ok[i] !== 1)).toEqual([500, 900])
    expect([ok[500], ok[900]]).toEqual([0, 0])
  })
})

describe('a flaw', () => {
  /** The narrowest pulse met in practice: lobes 0.8 mm apart past a probe at 3000 rpm in Ø 12.7 mm: 10 samples. */
  const pulse = (i: number, sigma: number) => {
    const t = (i - 1000) / sigma
    return -t * Math.exp(0.5 - 0.5 * t * t)
  }

  it.each([5, 8, 12, 30, 80])('with lobes at ± %i samples is never taken, noise or not', (sigma) => {
    const still = new Float64Array(N)
    for (const size of [0.1, 1, 100]) {
      const flaw = Float64Array.from({ length: N }, (_, i) => size * pulse(i, sigma))
      expect(marked(flaw, still)).toEqual([])
      const { x, y } = wall('flaw')
      expect(
        marked(
          x.map((v, i) => v + flaw[i]!),
          y.map((v, i) => v - 0.5 * flaw[i]!)
        )
      ).toEqual([])
    }
  })

  it('nor a step from air to metal', () => {
    const step = Float64Array.from({ length: N }, (_, i) => 20 / (1 + Math.exp((i - 1000) / 40)))
    expect(marked(step, new Float64Array(N))).toEqual([])
  })
})

describe('turning, scaling and shifting the plane', () => {
  it('change nothing in what is taken for a spike', () => {
    const { x, y } = wall('plane')
    for (const [k, i] of [111, 350, 351, 720, 1500, 1501, 1502].entries()) x[i]! += 0.15 * (k + 1)
    const before = marked(x, y)
    expect(before.length).toBeGreaterThan(5)
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: -50, max: 50, noNaN: true }),
        (angle, gain, offset) => {
          const [c, s] = [gain * Math.cos(angle), gain * Math.sin(angle)]
          const turned = (a: Float64Array, b: Float64Array, shift: number) =>
            a.map((v, i) => c * v - s * b[i]! + shift * gain)
          const minus = x.map((v) => -v)
          expect(marked(turned(x, y, offset), turned(y, minus, -offset))).toEqual(before)
        }
      ),
      { numRuns: 30 }
    )
  })
})
