/** Oracle: scipy.signal.resample_poly and scipy.signal.resample (reference/resample.py), and the signal itself. */
import { describe, expect, it } from 'vitest'
import { generate } from './generate.ts'
import reference from './reference/resample.json' with { type: 'json' }
import { type SincPlan, sincInterpolate } from './resample.kernel.ts'
import { atRate, atSpeed, resample } from './resample.ts'
import { full } from './testing/scenes.ts'

const { length, parts, every, tolerance } = reference

const signalAt = (t: number): number => {
  const taper = Math.sin((Math.PI * t) / length) ** 6
  return taper * parts.reduce((sum, [f, a, p]) => sum + a! * Math.sin(2 * Math.PI * f! * t + p!), 0)
}
const input = Float64Array.from({ length }, (_, t) => signalAt(t))

const farthest = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  const n = Math.min(a.length, b.length)
  let most = 0
  for (let i = 0; i < n; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!))
  return most
}

describe('resample', () => {
  for (const { up, down, poly, ...rest } of reference.cases) {
    const out = resample(input, up / down)
    const some = out.filter((_, j) => j % every === 0)
    it(`${up}/${down} agrees with resample_poly`, () => {
      expect(Math.abs(some.length - poly.length)).toBeLessThanOrEqual(1)
      expect(farthest(some, poly)).toBeLessThan(tolerance)
    })
    if ('fourier' in rest)
      it(`${up}/${down} agrees with resample by Fourier`, () => {
        expect(farthest(some, rest.fourier as number[])).toBeLessThan(tolerance)
      })
  }

  it('agrees with the signal itself at any factor', () => {
    for (const factor of [0.5, 0.77, 1, 1.31, Math.PI, 4]) {
      const out = resample(input, factor)
      const own = out.map((_, j) => signalAt(j / factor))
      expect(out.length).toBe(Math.floor((length - 1) * factor) + 1)
      expect(farthest(out, own)).toBeLessThan(tolerance)
    }
  })

  it('removes what the lower rate cannot hold', () => {
    const high = Float64Array.from({ length: 2000 }, (_, t) => Math.sin(2 * Math.PI * 0.31 * t))
    const out = resample(high, 0.5).subarray(100, 900)
    expect(Math.max(...out.map(Math.abs))).toBeLessThan(1e-3)
  })

  it.each([
    [0.86, 0.5, 1],
    [1, 0.5, 0],
    [0.86, 2, 1],
    [0.93, 1, 0.5]
  ])('a tone at %f of the lower Nyquist frequency, factor %f, comes out as %f of itself', (share, factor, height) => {
    const frequency = (share * Math.min(1, factor)) / 2
    const tone = Float64Array.from({ length: 3000 }, (_, t) => Math.cos(2 * Math.PI * frequency * t))
    const out = resample(tone, factor)
    const wanted = out.map((_, j) => height * Math.cos((2 * Math.PI * frequency * j) / factor))
    const inside = (column: Float64Array) => column.subarray(column.length / 4, (3 * column.length) / 4)
    expect(farthest(inside(out), inside(wanted))).toBeLessThan(height === 0.5 ? 2e-3 : 2e-4)
  })

  it('keeps a constant to rounding', () => {
    expect(farthest(resample(new Float64Array(300).fill(2.5), 1.7), new Float64Array(600).fill(2.5))).toBeLessThan(
      1e-14
    )
  })

  it('refuses other factors', () => expect(() => resample(input, 0)).toThrow(RangeError))
})

describe('a recording', () => {
  const smooth = { ...full, motion: { ...full.motion, drift: [] } }
  const still = { ...smooth, disturbances: { ...full.disturbances, hum: { ...full.disturbances.hum, size: 0 } } }
  const slow = generate(still, 1)

  it('at twice the speed is what the generator makes at twice the speed', () => {
    const fast = generate({ ...still, motion: { ...still.motion, rpm: 2200 } }, 1)
    const made = atSpeed(slow, 2)
    expect(made.rate_Hz).toBe(fast.rate_Hz)
    expect(Math.abs(made.x.length - fast.x.length)).toBeLessThanOrEqual(1)
    const inside = (column: Float64Array) => column.subarray(100, 7400)
    expect(farthest(inside(made.x), inside(fast.x))).toBeLessThan(1e-3)
    expect(farthest(inside(made.y), inside(fast.y))).toBeLessThan(1e-3)
    expect(farthest(inside(made.index), inside(fast.index))).toBeLessThan(1e-9)
  })

  it('at another rate is what the generator makes at that rate', () => {
    const fine = generate({ ...still, recorder: { ...still.recorder, rate_Hz: 27_000 } }, 1)
    const made = atRate(slow, 3)
    const inside = (column: Float64Array) => column.subarray(300, 45_000)
    expect(farthest(inside(made.x), inside(fine.x))).toBeLessThan(1e-3)
  })
})

describe('the kernel', () => {
  it('is the plain weighted mean', () => {
    const table = Float64Array.from({ length: 50 }, (_, k) => Math.cos(k / 20))
    const plan = { table, perSample: 8, reach: 5.9, step: 0.61 }
    const values = input.subarray(500, 540)
    const out = new Float64Array(60)
    sincInterpolate(values, plan, out)
    const slow = out.map((_, j) => slowMean(values, plan, j * plan.step))
    expect(farthest(out, slow)).toBeLessThan(1e-13)
  })
})

function slowMean(values: Float64Array, { table, perSample, reach }: SincPlan, at: number): number {
  const near = Array.from({ length: 200 }, (_, k) => k - 80).filter((i) => Math.abs(at - i) <= reach)
  const weight = (i: number) => {
    const d = Math.abs(at - i) * perSample
    return table[Math.floor(d)]! * (1 - (d % 1)) + table[Math.floor(d) + 1]! * (d % 1)
  }
  const value = (i: number) => values.at(i < 0 ? 0 : i >= values.length ? -1 : i)!
  return near.reduce((sum, i) => sum + weight(i) * value(i), 0) / near.reduce((sum, i) => sum + weight(i), 0)
}
