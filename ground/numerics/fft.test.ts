import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planFft } from './fft.ts'
import reference from './reference/fft.json' with { type: 'json' }

interface Columns {
  readonly re: Float64Array
  readonly im: Float64Array
}

const pattern = (length: number): Columns => ({
  re: Float64Array.from({ length }, (_, t) => ((7 * t * t + 3 * t) % 101) / 101 - 0.5),
  im: Float64Array.from({ length }, (_, t) => ((5 * t * t + 11 * t) % 97) / 97 - 0.5)
})

/** The definition, term by term. */
function slowDft({ re, im }: Columns): Columns {
  const n = re.length
  const out = { re: new Float64Array(n), im: new Float64Array(n) }
  for (let k = 0; k < n; k++) {
    for (let t = 0; t < n; t++) {
      const angle = (-2 * Math.PI * ((k * t) % n)) / n
      out.re[k]! += re[t]! * Math.cos(angle) - im[t]! * Math.sin(angle)
      out.im[k]! += re[t]! * Math.sin(angle) + im[t]! * Math.cos(angle)
    }
  }
  return out
}

const largestDifference = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Array.from(a).reduce((worst, value, i) => Math.max(worst, Math.abs(value - b[i]!)), 0)

describe('planFft', () => {
  for (const { length, bins, re, im } of reference.cases) {
    it(`agrees with scipy.fft at ${length} points`, () => {
      const x = pattern(length)
      planFft(length).forward(x.re, x.im)
      const bound = reference.tolerance * Math.sqrt(length)
      expect(
        largestDifference(
          re,
          bins.map((k) => x.re[k]!)
        )
      ).toBeLessThanOrEqual(bound)
      expect(
        largestDifference(
          im,
          bins.map((k) => x.im[k]!)
        )
      ).toBeLessThanOrEqual(bound)
    })
  }

  it('agrees with the plain sum over all terms, for any columns', () => {
    const column = (length: number) =>
      fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: length, maxLength: length })
    const columns = fc.integer({ min: 0, max: 7 }).chain((bits) => fc.tuple(column(1 << bits), column(1 << bits)))
    fc.assert(
      fc.property(columns, ([a, b]) => {
        const x = { re: Float64Array.from(a), im: Float64Array.from(b) }
        const slow = slowDft(x)
        planFft(a.length).forward(x.re, x.im)
        expect(largestDifference(x.re, slow.re)).toBeLessThanOrEqual(2e-15 * a.length)
        expect(largestDifference(x.im, slow.im)).toBeLessThanOrEqual(2e-15 * a.length)
      })
    )
  })

  it.each([1, 2, 8, 256, 2048, 16384])('comes back through inverse at %i points', (length) => {
    const x = pattern(length)
    const plan = planFft(length)
    plan.forward(x.re, x.im)
    plan.inverse(x.re, x.im)
    const was = pattern(length)
    expect(largestDifference(x.re, was.re)).toBeLessThan(2e-15)
    expect(largestDifference(x.im, was.im)).toBeLessThan(2e-15)
  })

  it('gives one exact line for a constant and an exact comb for an impulse', () => {
    const plan = planFft(64)
    const constant = { re: new Float64Array(64).fill(1), im: new Float64Array(64) }
    plan.forward(constant.re, constant.im)
    expect(constant.re[0]).toBe(64)
    expect(constant.re.subarray(1).every((v) => v === 0)).toBe(true)
    const impulse = { re: new Float64Array(64), im: new Float64Array(64) }
    impulse.re[0] = 1
    plan.forward(impulse.re, impulse.im)
    expect(impulse.re.every((v) => v === 1)).toBe(true)
  })

  it('takes powers of two only, and columns of its own length', () => {
    for (const length of [0, 3, 12, -4, 2.5, Number.NaN]) expect(() => planFft(length)).toThrow(RangeError)
    expect(() => planFft(8).forward(new Float64Array(8), new Float64Array(4))).toThrow(/two columns of 8/)
  })
})
