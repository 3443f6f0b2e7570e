import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { planFft } from './fft.ts'
import { type ComplexColumns, type FilterPlan, planFilter } from './fft-filter.ts'
import reference from './reference/fft.json' with { type: 'json' }

const LENGTHS = [4, 8, 16, 32, 64, 128, 256, 512, 1024, 2048]

const pattern = (length: number): ComplexColumns => ({
  re: Float64Array.from({ length }, (_, t) => ((7 * t * t + 3 * t) % 101) / 101 - 0.5),
  im: Float64Array.from({ length }, (_, t) => ((5 * t * t + 11 * t) % 97) / 97 - 0.5)
})

const other = (length: number): ComplexColumns => ({
  re: Float64Array.from({ length }, (_, k) => ((3 * k * k + k) % 89) / 89 - 0.4),
  im: Float64Array.from({ length }, (_, k) => ((11 * k * k + 5 * k) % 83) / 83 - 0.6)
})

/** The definition, term by term, in natural order; sign -1 forward, +1 inverse times the length. */
function slowDft({ re, im }: ComplexColumns, sign: 1 | -1): ComplexColumns {
  const n = re.length
  const out = { re: new Float64Array(n), im: new Float64Array(n) }
  for (let k = 0; k < n; k++) {
    for (let t = 0; t < n; t++) {
      const angle = (sign * 2 * Math.PI * ((k * t) % n)) / n
      out.re[k]! += re[t]! * Math.cos(angle) - im[t]! * Math.sin(angle)
      out.im[k]! += re[t]! * Math.sin(angle) + im[t]! * Math.cos(angle)
    }
  }
  return out
}

/** sum over s of h[s] x[t - s], around the end, with h the inverse transform of the spectrum. */
function slowFilter(x: ComplexColumns, spectrum: ComplexColumns): ComplexColumns {
  const n = x.re.length
  const h = slowDft(spectrum, 1)
  const out = { re: new Float64Array(n), im: new Float64Array(n) }
  for (let t = 0; t < n; t++) {
    for (let s = 0; s < n; s++) {
      const from = (t - s + n) % n
      out.re[t]! += (h.re[s]! * x.re[from]! - h.im[s]! * x.im[from]!) / n
      out.im[t]! += (h.re[s]! * x.im[from]! + h.im[s]! * x.re[from]!) / n
    }
  }
  return out
}

function natural({ order }: FilterPlan, x: ComplexColumns): ComplexColumns {
  const out = { re: new Float64Array(x.re.length), im: new Float64Array(x.re.length) }
  order.forEach((frequency, place) => {
    out.re[frequency] = x.re[place]!
    out.im[frequency] = x.im[place]!
  })
  return out
}

const copyOf = ({ re, im }: ComplexColumns): ComplexColumns => ({ re: re.slice(), im: im.slice() })

const worst = (a: ComplexColumns, b: ComplexColumns): number =>
  a.re.reduce((most, v, i) => Math.max(most, Math.abs(v - b.re[i]!), Math.abs(a.im[i]! - b.im[i]!)), 0)

const energy = ({ re, im }: ComplexColumns): number => re.reduce((sum, v, i) => sum + v * v + im[i]! * im[i]!, 0)

const forward = (x: ComplexColumns): ComplexColumns => {
  const plan = planFilter(x.re.length)
  const out = copyOf(x)
  plan.forwardPermuted(out.re, out.im)
  return natural(plan, out)
}

const columns = fc
  .integer({ min: 2, max: 9 })
  .chain((bits) => {
    const column = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1 << bits, maxLength: 1 << bits })
    return fc.tuple(column, column)
  })
  .map(([re, im]) => ({ re: Float64Array.from(re), im: Float64Array.from(im) }))

describe('planFilter', () => {
  for (const { length, bins, re, im } of reference.cases.filter((one) => one.length >= 4)) {
    it(`agrees with scipy.fft at ${length} points`, () => {
      const found = forward(pattern(length))
      const bound = reference.tolerance * Math.sqrt(length)
      bins.forEach((k, i) => {
        expect(Math.abs(found.re[k]! - re[i]!)).toBeLessThanOrEqual(bound)
        expect(Math.abs(found.im[k]! - im[i]!)).toBeLessThanOrEqual(bound)
      })
    })
  }

  for (const { length, bins, re, im } of reference.filters) {
    it(`filters as scipy.fft does at ${length} points`, () => {
      const plan = planFilter(length)
      const x = pattern(length)
      const h = other(length)
      plan.filter(x, plan.permute(h.re, h.im))
      bins.forEach((t, i) => {
        expect(Math.abs(x.re[t]! - re[i]!)).toBeLessThanOrEqual(reference.tolerance)
        expect(Math.abs(x.im[t]! - im[i]!)).toBeLessThanOrEqual(reference.tolerance)
      })
    })
  }

  it('agrees with the plain sum over all terms, and with planFft, for any columns', () => {
    fc.assert(
      fc.property(columns, (x) => {
        const n = x.re.length
        const bound = 2e-15 * n
        const found = forward(x)
        expect(worst(found, slowDft(x, -1))).toBeLessThanOrEqual(bound)
        const same = copyOf(x)
        planFft(n).forward(same.re, same.im)
        expect(worst(found, same)).toBeLessThanOrEqual(bound)
      }),
      { numRuns: 30 }
    )
  })

  it.each(LENGTHS)(
    'comes back, n times larger, through inverse at %i points; each frequency has one place',
    (length) => {
      const plan = planFilter(length)
      const x = pattern(length)
      plan.forwardPermuted(x.re, x.im)
      plan.inversePermuted(x.re, x.im)
      const back = { re: x.re.map((v) => v / length), im: x.im.map((v) => v / length) }
      expect(worst(back, pattern(length))).toBeLessThan(1e-15)
      expect([...plan.order].sort((a, b) => a - b)).toEqual(Array.from({ length }, (_, k) => k))
    }
  )

  it('is linear and keeps the energy', () => {
    fc.assert(
      fc.property(columns, fc.double({ min: -3, max: 3, noNaN: true }), (x, factor) => {
        const n = x.re.length
        const y = other(n)
        const sum = { re: x.re.map((v, i) => v + factor * y.re[i]!), im: x.im.map((v, i) => v + factor * y.im[i]!) }
        const [fx, fy] = [forward(x), forward(y)]
        const expected = {
          re: fx.re.map((v, i) => v + factor * fy.re[i]!),
          im: fx.im.map((v, i) => v + factor * fy.im[i]!)
        }
        expect(worst(forward(sum), expected)).toBeLessThan(1e-14 * n)
        expect(energy(fx)).toBeCloseTo(n * energy(x), 9)
      }),
      { numRuns: 50 }
    )
  })

  it.each(LENGTHS.slice(0, 8))(
    'filters at %i points as the plain circular sum does, in three steps, in one, and twice',
    (length) => {
      const plan = planFilter(length)
      const h = other(length)
      const [first, second] = [plan.permute(h.re, h.im), plan.permute(h.im)]
      const expected = slowFilter(pattern(length), h)
      const steps = pattern(length)
      plan.forwardPermuted(steps.re, steps.im)
      for (let p = 0; p < length; p++) {
        const [a, b] = [steps.re[p]!, steps.im[p]!]
        const [c, d] = [first.pairs[2 * p]!, first.pairs[2 * p + 1]!]
        steps.re[p] = a * c - b * d
        steps.im[p] = a * d + b * c
      }
      plan.inversePermuted(steps.re, steps.im)
      const [one, two] = [pattern(length), pattern(length)]
      const into = other(length)
      plan.filter(one, first)
      plan.filterTwice(two, [first, second], into)
      const bound = 1e-13 // the plain sum's own rounding: n terms of about 1/n
      for (const found of [steps, one, two]) expect(worst(found, expected)).toBeLessThan(bound)
      expect(two).toEqual(one)
      const real = { re: h.im, im: new Float64Array(length) }
      expect(worst(into, slowFilter(pattern(length), real))).toBeLessThan(bound)
    }
  )

  it('takes powers of two from 4, and columns and spectra of its own length', () => {
    for (const length of [0, 1, 2, 3, 12, -4, 4.5, Number.NaN]) expect(() => planFilter(length)).toThrow(RangeError)
    const plan = planFilter(8)
    const x = pattern(8)
    expect(() => plan.forwardPermuted(x.re, new Float64Array(4))).toThrow(/two columns of 8/)
    expect(() => plan.inversePermuted(x.re, x.re)).toThrow(RangeError)
    expect(() => plan.permute(new Float64Array(4))).toThrow(RangeError)
    const short = planFilter(4).permute(new Float64Array(4))
    expect(() => plan.filter(x, short)).toThrow(/a spectrum of 8/)
    const own = plan.permute(x.re)
    expect(() => plan.filterTwice(x, [own, short], pattern(8))).toThrow(/a spectrum of 8/)
    expect(() => plan.filterTwice(x, [own, own], pattern(4))).toThrow(/two columns of 8/)
  })
})
