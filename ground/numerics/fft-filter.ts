import { joinKernel, pairsKernel, type Stage, splitKernel } from './fft-filter.kernel.ts'
import { filterByEights, filterByQuads, filterTwiceByQuads } from './fft-middle.kernel.ts'
import { unitRoot } from './unit-root.ts'

/** A complex signal or spectrum as two columns of one length. */
export interface ComplexColumns {
  readonly re: Float64Array
  readonly im: Float64Array
}

/** A spectrum made ready for products by `permute` of one plan: in the plan's own order, divided by its length. */
export interface PermutedSpectrum {
  readonly length: number
  /** [place, re | im], `2 length` values. */
  readonly pairs: Float64Array
}

/**
 * Transforms of one length that never reorder, for signal → spectrum → product → signal. All but `permute` work in place
 * and allocate nothing, and give the same bits for the same input everywhere. RangeError for columns of another length.
 */
export interface FilterPlan {
  readonly length: number
  /** Place p of a permuted spectrum holds frequency `order[p]`. */
  readonly order: Uint32Array
  /** A fixed spectrum in natural order, as `planFft` gives it, made ready for products; `im` is left out where it is 0. */
  readonly permute: (re: Float64Array, im?: Float64Array) => PermutedSpectrum
  /** At p: sum over t of x[t] exp(-2 pi i order[p] t / n). */
  readonly forwardPermuted: (re: Float64Array, im: Float64Array) => void
  /** Undoes `forwardPermuted`, n times too large: the division by n is in what `permute` gives. */
  readonly inversePermuted: (re: Float64Array, im: Float64Array) => void
  /** Circular convolution: the signal becomes what the spectrum passes of it. Faster than its three steps. */
  readonly filter: (signal: ComplexColumns, spectrum: PermutedSpectrum) => void
  /** One forward, two products, two inverses: the signal becomes what `spectra[0]` passes, `second` what `spectra[1]` does. */
  readonly filterTwice: (signal: ComplexColumns, spectra: SpectrumPair, second: ComplexColumns) => void
}

export type SpectrumPair = readonly [PermutedSpectrum, PermutedSpectrum]

/**
 * Plans filters of `length` points, a power of two (4 … 2^28; RangeError for another): stages of four, and pairs as the
 * innermost where the logarithm is odd. source: gentleman-sande-1966
 */
export function planFilter(length: number): FilterPlan {
  const plan = known.get(length) ?? newPlan(length)
  if (length <= LONGEST_KEPT) known.set(length, plan)
  return plan
}

const LONGEST_KEPT = 4096
const known = new Map<number, FilterPlan>()

/** All stages, and apart those before the groups at which the product is made. */
interface Passes {
  readonly all: readonly Stage[]
  readonly outer: readonly Stage[]
  readonly odd: boolean
}

function newPlan(length: number): FilterPlan {
  const passes = passesOf(length)
  const order = orderOf(length, passes)
  return {
    length,
    order,
    permute: (re, im = new Float64Array(length)) => {
      checkColumns(length, { re, im })
      return permuted({ re, im }, order)
    },
    forwardPermuted: (re, im) => {
      checkColumns(length, { re, im })
      split(passes.all, re, im)
      if (passes.odd) pairsKernel(re, im)
    },
    inversePermuted: (re, im) => {
      checkColumns(length, { re, im })
      if (passes.odd) pairsKernel(re, im)
      join(passes.all, re, im)
    },
    ...filters(length, passes)
  }
}

function filters(length: number, { outer, odd }: Passes): Pick<FilterPlan, 'filter' | 'filterTwice'> {
  const product = odd ? filterByEights : filterByQuads
  const rest = ({ re, im }: ComplexColumns, { pairs }: PermutedSpectrum): void => {
    product(re, im, pairs)
    join(outer, re, im)
  }
  const begin = (signal: ComplexColumns): void => {
    checkColumns(length, signal)
    split(outer, signal.re, signal.im)
  }
  return {
    filter: (signal, spectrum) => {
      checkSpectrum(length, spectrum)
      begin(signal)
      rest(signal, spectrum)
    },
    filterTwice: (signal, spectra, second) => {
      for (const spectrum of spectra) checkSpectrum(length, spectrum)
      checkColumns(length, second)
      begin(signal)
      if (odd) {
        second.re.set(signal.re)
        second.im.set(signal.im)
        filterByEights(signal.re, signal.im, spectra[0].pairs)
        filterByEights(second.re, second.im, spectra[1].pairs)
      } else filterTwiceByQuads(signal, [spectra[0].pairs, spectra[1].pairs], second)
      join(outer, signal.re, signal.im)
      join(outer, second.re, second.im)
    }
  }
}

function checkColumns(length: number, { re, im }: ComplexColumns): void {
  if (re.length === length && im.length === length && re !== im) return
  throw new RangeError(`two columns of ${length} values are needed, not ${re.length} and ${im.length}`)
}

function checkSpectrum(length: number, spectrum: PermutedSpectrum): void {
  if (spectrum.length !== length) throw new RangeError(`a spectrum of ${length} is needed, not of ${spectrum.length}`)
}

function passesOf(length: number): Passes {
  const bits = 31 - Math.clz32(length)
  if (length < 4 || bits > 28 || length !== 1 << bits) {
    throw new RangeError(`a filter needs a power of two from 4 as its length, not ${length}`)
  }
  const all: Stage[] = []
  for (let size = length; size >= 4; size >>= 2) all.push({ twiddles: twiddlesOf(size), size })
  return { all, outer: all.slice(0, -1), odd: bits % 2 === 1 }
}

function twiddlesOf(size: number): Float64Array {
  const twiddles = new Float64Array(6 * (size / 4 - 1))
  for (let j = 1, at = 0; j < size / 4; j++) {
    for (let m = 1; m <= 3; m++) {
      const [c, s] = unitRoot(m * j, size)
      twiddles[at++] = c
      twiddles[at++] = -s
    }
  }
  return twiddles
}

function split(stages: readonly Stage[], re: Float64Array, im: Float64Array): void {
  for (let s = 0; s < stages.length; s++) splitKernel(stages[s]!, re, im)
}

function join(stages: readonly Stage[], re: Float64Array, im: Float64Array): void {
  for (let s = stages.length - 1; s >= 0; s--) joinKernel(stages[s]!, re, im)
}

/** The digits of a place, most significant first, are those of its frequency, least significant first. */
function orderOf(length: number, { all }: Passes): Uint32Array {
  return Uint32Array.from({ length }, (_, place) => {
    let frequency = 0
    let step = 1
    let rest = place
    for (const { size } of all) {
      const block = size / 4
      frequency += step * Math.floor(rest / block)
      rest %= block
      step *= 4
    }
    return frequency + step * rest
  })
}

function permuted({ re, im }: ComplexColumns, order: Uint32Array): PermutedSpectrum {
  const length = order.length
  const pairs = new Float64Array(2 * length)
  for (let p = 0; p < length; p++) {
    pairs[2 * p] = re[order[p]!]! / length
    pairs[2 * p + 1] = im[order[p]!]! / length
  }
  return { length, pairs }
}
