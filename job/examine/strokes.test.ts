/** Oracle: the feed that the test drew, and the mean of its definition over it (testing/strokes.ts). */
import { type Random, randomFrom } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { coveredByCounting, type HandFed, type Strokes, strokesOf } from './strokes.ts'
import { type Bore, depthOn, type Feed, legTo, traceOf } from './testing/strokes.ts'

const UNIT = 512
const bore: Bore = { grip_mm: 12, joints_mm: [4, 7.5], joint: 0.3, noise: 0 }
const fedIn = (strokes: HandFed['hand']['strokes'], fastest_to_mean: number, of = bore): HandFed => ({
  hole: { grip_mm: of.grip_mm, interfaces_mm: [...of.joints_mm] },
  hand: { strokes, fastest_to_mean }
})

interface Drawn {
  readonly feed: Feed
  /** ruler points of the tie points passed, in order */
  readonly ties: readonly number[]
}

/** Begins in air 3 mm before the entry face, passes the depths, ends in air; revolutions and feed of each leg drawn. */
function drawn(
  depths_mm: readonly number[],
  ratio: number,
  random: Random,
  revolutions = () => 8 + 20 * random.uniform()
): Drawn {
  let feed: Feed = [{ point: 0, z_mm: -3 }]
  const ties: number[] = []
  feed = legTo(feed, 0, { revolutions: 6, ratio: 1, random })
  ties.push(feed.at(-1)!.point)
  for (const depth of depths_mm.slice(1)) {
    feed = legTo(feed, depth, { revolutions: revolutions(), ratio, random })
    ties.push(feed.at(-1)!.point)
  }
  const end = depths_mm.at(-1)! > 1 ? bore.grip_mm + 3 : -3
  return { feed: legTo(feed, end, { revolutions: 6, ratio: 1, random }), ties }
}

const inward = [0, ...bore.joints_mm, bore.grip_mm]
const outward = [...inward].reverse()

function found(feed: Feed, fed: HandFed, of = bore, random = randomFrom('trace')): Strokes {
  const strokes = strokesOf(traceOf(feed, of, random), fed)
  if (isRefusal(strokes)) throw new Error(`${strokes.code}: ${strokes.found}`)
  return strokes
}

/** Out of the hole beyond the exit face, turned in air, and back. */
function throughAndBack(ratio: number, random: Random) {
  const going = drawn(inward, ratio, random)
  const last = going.feed.at(-1)!
  let feed = legTo(going.feed, bore.grip_mm, { revolutions: 6, ratio: 1, random })
  const ties = [feed.at(-1)!.point]
  for (const depth of outward.slice(1)) {
    feed = legTo(feed, depth, { revolutions: 8 + 20 * random.uniform(), ratio, random })
    ties.push(feed.at(-1)!.point)
  }
  feed = legTo(feed, -3, { revolutions: 6, ratio: 1, random })
  return { feed, ties: [going.ties, ties] as const, turned: last.point }
}

const clamped = (z: number) => Math.min(bore.grip_mm, Math.max(0, z)) * 1e-3

/** Nowhere outside the band, in nothing but air outside the strokes. */
function expectWithin(strokes: Strokes, feed: Feed) {
  const outside: string[] = []
  for (let point = 0; point < feed.at(-1)!.point; point += 37) {
    const z = depthOn(feed, point)
    const band = strokes.band.at(point)
    const air = z <= 0 || z >= bore.grip_mm
    const within = band !== undefined && clamped(z) >= band.least_m - 1e-9 && clamped(z) <= band.most_m + 1e-9
    if (band === undefined ? !air : !within) outside.push(`${point}: ${z} mm`)
  }
  expect(outside).toEqual([])
}

/** Largest advance in one revolution between two ruler points. */
function largestAdvance(feed: Feed, from: number, to: number): number {
  let most = 0
  for (let point = from; point + UNIT <= to; point += 16)
    most = Math.max(most, Math.abs(depthOn(feed, point + UNIT) - depthOn(feed, point)))
  return most * 1e-3
}

/** Strokes of one draw, or undefined where they are refused as untold: a hand that dwelt may leave it open what is metal. */
function toldOf(feed: Feed, fed: HandFed, noise: number, random: Random): Strokes | undefined {
  const strokes = strokesOf(traceOf(feed, { ...bore, noise }, random), fed)
  if (!isRefusal(strokes)) return strokes
  expect(strokes.code).toBe('examine/strokes-untold')
  return undefined
}

const DRAWS = 16
const draws = Array.from({ length: DRAWS }, (_, k) => ({
  k,
  ratio: [1, 1.3, 2, 3.5][k % 4]!,
  noise: k % 3 === 2 ? 0.002 : 0
}))

describe('whatever feed within the ratio the hand drew', () => {
  it('one way: the true depth lies in the band, no advance is larger than said', () => {
    let told = 0
    for (const { k, ratio, noise } of draws) {
      const random = randomFrom(`one way ${k}`)
      const { feed, ties } = drawn(inward, ratio, random)
      const strokes = toldOf(feed, fedIn('one way', ratio), noise, random)
      if (strokes === undefined) continue
      told++
      expect(strokes.strokes.map(({ sense }) => sense)).toEqual(['in'])
      expectWithin(strokes, feed)
      for (const [i, stretch] of strokes.strokes[0]!.stretches.entries())
        expect(stretch.largestAdvance_m).toBeGreaterThanOrEqual(largestAdvance(feed, ties[i]!, ties[i + 1]!) - 1e-12)
    }
    expect(told).toBeGreaterThan(0.75 * DRAWS)
  })

  it('through and back: both strokes, each with its own band', () => {
    let told = 0
    for (const { k, ratio, noise } of draws) {
      const random = randomFrom(`back ${k}`)
      const { feed, ties } = throughAndBack(ratio, random)
      const strokes = toldOf(feed, fedIn('through and back', ratio), noise, random)
      if (strokes === undefined) continue
      told++
      expect(strokes.strokes.map(({ sense }) => sense)).toEqual(['in', 'out'])
      expectWithin(strokes, feed)
      for (const [s, stroke] of strokes.strokes.entries()) {
        expect(stroke.ties.map(({ depth_m }) => depth_m * 1e3)).toEqual(s === 0 ? inward : outward)
        for (const [i, stretch] of stroke.stretches.entries())
          expect(stretch.largestAdvance_m).toBeGreaterThanOrEqual(
            largestAdvance(feed, ties[s]![i]!, ties[s]![i + 1]!) - 1e-12
          )
      }
    }
    expect(told).toBeGreaterThan(0.75 * DRAWS)
  })

  it('turned inside: behind the last joint the depth is known to lie before the next', () => {
    let told = 0
    for (const { k, ratio, noise } of draws) {
      const random = randomFrom(`inside ${k}`)
      const met = k % 3
      // 1.5 mm from the joints, where their bells are nothing
      const before = met === 0 ? 1.5 : bore.joints_mm[met - 1]! + 1.5
      const deepest = before + random.uniform() * (inward[met + 1]! - 1.5 - before)
      const there = [...inward.slice(0, met + 1), deepest]
      const { feed } = drawn([...there, ...[...there].reverse().slice(1)], ratio, random)
      const strokes = toldOf(feed, fedIn('turned inside', ratio), noise, random)
      if (strokes === undefined) continue
      told++
      expectWithin(strokes, feed)
      expect(strokes.turn).toMatchObject({ least_m: inward[met]! * 1e-3, most_m: inward[met + 1]! * 1e-3 })
      expect(strokes.strokes.map(({ ties }) => ties.length)).toEqual([met + 1, met + 1])
      // what was not reached for certain is not covered, at any pitch
      const zone = { z0_m: inward[met]! * 1e-3, z1_m: inward[met + 1]! * 1e-3 }
      expect(coveredByCounting(strokes.strokes, { zone, maxPitch_m: 1, unusable: [] })).toBe(0)
    }
    expect(told).toBeGreaterThan(0.75 * DRAWS)
  })

  it('turned at a joint, or through other joints than the hole has: not taken for another way', () => {
    for (const { k, ratio, noise } of draws) {
      const random = randomFrom(`wrong ${k}`)
      const turned = drawn([0, 4, 7.5, 4, 0], ratio, random)
      expect(toldOf(turned.feed, fedIn('turned inside', ratio), noise, random)).toBeUndefined()
      const through = drawn(inward, ratio, random)
      for (const joints_mm of [[], [4], [2, 4, 7.5]])
        expect(toldOf(through.feed, fedIn('one way', ratio, { ...bore, joints_mm }), noise, random)).toBeUndefined()
    }
  })
})

describe('an even feed', () => {
  const even = (revolutions: number) => drawn(inward, 1, randomFrom('even'), () => revolutions).feed

  it('has a band as narrow as the blur of the mean allows', () => {
    const strokes = found(even(16), fedIn('one way', 1))
    for (const { from, to, z0_m, z1_m } of strokes.strokes[0]!.stretches) {
      const { least_m, most_m } = strokes.band.at(0.5 * (from + to))!
      // the ends of n revolutions are known to ±272 points: (n + 1.07)/(n − 1.07) − 1, and a little of rounding
      expect((most_m - least_m) / (z1_m - z0_m)).toBeLessThan(1.2 * ((16 + 1.07) / (16 - 1.07) - 1))
    }
  })

  it('is counted: R d/n, n without the blur', () => {
    const strokes = found(even(16), fedIn('one way', 1.5))
    for (const { largestAdvance_m, revolutions, z0_m, z1_m } of strokes.strokes[0]!.stretches) {
      expect(Math.abs(revolutions - (16 - 1.07))).toBeLessThan(0.3)
      expect(largestAdvance_m).toBeCloseTo((1.5 * (z1_m - z0_m)) / revolutions, 9)
    }
  })

  it('of fewer revolutions than the blur says nothing but the joints, and covers nothing', () => {
    // the whole hole in three revolutions and less a layer
    const { feed } = drawn([0, 12], 1, randomFrom('fast'), () => 1.2)
    const plain = { ...bore, joints_mm: [] }
    const strokes = found(feed, fedIn('one way', 1, plain), plain)
    expect(strokes.strokes[0]!.stretches[0]!.largestAdvance_m).toBeGreaterThanOrEqual(10e-3)
    expectWithin(strokes, feed)
  })
})

describe('coverage by counting', () => {
  const ratio = 1.5
  const revolutions = [40, 10, 30]
  const { feed } = drawn(inward, ratio, randomFrom('counted'), () => revolutions.shift()!)
  const strokes = found(feed, fedIn('one way', ratio))
  const covered = (z0_mm: number, z1_mm: number, maxPitch_mm: number, unusable: { from: number; to: number }[] = []) =>
    coveredByCounting(strokes.strokes, {
      zone: { z0_m: z0_mm * 1e-3, z1_m: z1_mm * 1e-3 },
      maxPitch_m: maxPitch_mm * 1e-3,
      unusable
    })

  it('is that of whole stretches', () => {
    // R d/n without the blur of 1.07: 1.5 · 4/38.9 = 0.154, 1.5 · 3.5/8.9 = 0.59, 1.5 · 4.5/28.9 = 0.233
    expect(covered(0, 4, 0.2)).toBe(1)
    expect(covered(0, 4, 0.14)).toBe(0)
    expect(covered(4, 7.5, 0.5)).toBe(0)
    expect(covered(4, 7.5, 0.62)).toBeCloseTo(1, 12)
    expect(covered(0, 12, 0.25)).toBeCloseTo(8.5 / 12, 12)
    expect(covered(3, 5, 0.2)).toBeCloseTo(0.5, 12)
  })

  it('adds the advance over revolutions that don’t count', () => {
    // two of them on the first layer: three advances of 0.154
    const gap = [
      { from: 20, to: 21 },
      { from: 21, to: 22 }
    ]
    expect(covered(0, 4, 0.45, gap)).toBe(0)
    expect(covered(0, 4, 0.48, gap)).toBe(1)
    expect(covered(7.5, 12, 0.25, gap)).toBeCloseTo(1, 12)
  })

  it('never claims what was not passed: every length of the largest pitch holds a pass, at every angle', () => {
    for (let k = 0; k < 8; k++) {
      const one = drawn(inward, 2, randomFrom(`passes ${k}`))
      const seen = found(one.feed, fedIn('one way', 2))
      for (const maxPitch_mm of [0.2, 0.3, 0.5, 0.8]) {
        for (const { z0_m, z1_m } of seen.strokes[0]!.stretches) {
          const zone = { z0_m, z1_m }
          if (coveredByCounting(seen.strokes, { zone, maxPitch_m: maxPitch_mm * 1e-3, unusable: [] }) < 1) continue
          for (let angle = 0; angle < UNIT; angle += 61) {
            const passes = [z0_m * 1e3, z1_m * 1e3]
            for (let point = angle; point < one.feed.at(-1)!.point; point += UNIT) {
              const z = depthOn(one.feed, point)
              if (z > z0_m * 1e3 && z < z1_m * 1e3) passes.push(z)
            }
            passes.sort((a, b) => a - b)
            for (const [i, z] of passes.slice(1).entries()) expect(z - passes[i]!).toBeLessThan(maxPitch_mm + 1e-9)
          }
        }
      }
    }
  })

  it('takes the better of two strokes', () => {
    const random = randomFrom('better')
    const both = found(throughAndBack(2, random).feed, fedIn('through and back', 2))
    const zone = { z0_m: 0, z1_m: 12e-3 }
    const alone = both.strokes.map((stroke) => coveredByCounting([stroke], { zone, maxPitch_m: 0.5e-3, unusable: [] }))
    const together = coveredByCounting(both.strokes, { zone, maxPitch_m: 0.5e-3, unusable: [] })
    expect(together).toBeGreaterThanOrEqual(Math.max(...alone))
    expect(together).toBeLessThanOrEqual(Math.min(1, alone[0]! + alone[1]!) + 1e-12)
  })
})

describe('the recorded plane', () => {
  it('turned, scaled and shifted gives the same strokes', () => {
    const { feed } = throughAndBack(2, randomFrom('plane'))
    const trace = traceOf(feed, bore, randomFrom('trace'))
    const other = {
      at: trace.at,
      x: trace.x.map((x, i) => 3 + 2 * x - 5 * trace.y[i]!),
      y: trace.x.map((x, i) => -9 + 5 * x + 2 * trace.y[i]!)
    }
    const ties = (of: typeof trace) => {
      const strokes = strokesOf(of, fedIn('through and back', 2))
      if (isRefusal(strokes)) throw new Error(strokes.found)
      return strokes.strokes.flatMap((stroke) => stroke.ties.map(({ from, to }) => [from, to]))
    }
    expect(ties(other)).toEqual(ties(trace))
  })
})

describe('refusals', () => {
  const codeOf = (feed: Feed, fed: HandFed, of = bore) => {
    const strokes = strokesOf(traceOf(feed, of, randomFrom('trace')), fed)
    return isRefusal(strokes) ? strokes.code : 'found'
  }
  const oneWay = drawn(inward, 2, randomFrom('refused')).feed
  const back = throughAndBack(2, randomFrom('refused')).feed

  it('examine/no-strokes without air and metal, in order', () => {
    const still: Feed = [
      { point: 0, z_mm: -3 },
      { point: 40 * UNIT, z_mm: -2 }
    ]
    expect(codeOf(still, fedIn('one way', 2))).toBe('examine/no-strokes')
    expect(codeOf(oneWay.slice(0, -8), fedIn('one way', 2))).toBe('examine/no-strokes')
    expect(codeOf([...still.slice(0, 1), { point: 4 * UNIT, z_mm: -3 }], fedIn('one way', 2))).toBe(
      'examine/no-strokes'
    )
  })

  it('examine/strokes-untold where the way is not the technique’s', () => {
    expect(codeOf(oneWay, fedIn('through and back', 2))).toBe('examine/strokes-untold')
    expect(codeOf(back, fedIn('one way', 2))).toBe('examine/strokes-untold')
    expect(codeOf(back, fedIn('turned inside', 2))).toBe('examine/strokes-untold')
  })

  it('examine/strokes-untold where joints are not those of the hole', () => {
    expect(codeOf(oneWay, fedIn('one way', 2, { ...bore, joints_mm: [4] }))).toBe('examine/strokes-untold')
    expect(codeOf(oneWay, fedIn('one way', 2), { ...bore, joints_mm: [4] })).toBe('examine/strokes-untold')
    expect(codeOf(oneWay, fedIn('one way', 2), { ...bore, joint: 0.001 })).toBe('examine/strokes-untold')
  })

  it('examine/strokes-untold when turned at a joint', () => {
    const { feed } = drawn([0, 4, 7.5, 4, 0], 2, randomFrom('at a joint'))
    expect(codeOf(feed, fedIn('turned inside', 2))).toBe('examine/strokes-untold')
  })
})
