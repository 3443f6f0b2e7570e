import {
  type ComplexColumns,
  cos,
  type FilterPlan,
  type PermutedSpectrum,
  PI,
  planFilter,
  sin
} from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import type { Revolution } from './angle-ruler.ts'
import { type Band, bandGains, elementsOf, type Gains, kernelSpectrum, UNIT } from './band.ts'
import { type HarmonicWeights, harmonicsOf } from './harmonics.kernel.ts'
import type { Signal, Turn } from './signal.ts'
import { slidingMeans } from './sliding.kernel.ts'

/** What a wall is scanned for: band, complex factor to standardized units, and the shape of the named notch. */
export interface ScanningRule {
  readonly band: Band
  readonly turn: Turn
  /** `[2·half + 1]` at all ruler points; its fit to the named notch has the size 1 */
  readonly shape: Float64Array
  /** ruler points from one element to the next */
  readonly step: number
}

/** Spectra of the kernels that do it, over two units, and what they are for. Made once for many scans. */
export interface ScanKernels {
  readonly step: number
  readonly signal: PermutedSpectrum
  readonly fitted: PermutedSpectrum
  readonly harmonics: HarmonicWeights
}

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

export function scanKernels({ band, turn, shape, step }: ScanningRule): ScanKernels {
  const points = elementsOf(step)
  const standardizing = product(bandGains(band, points), constant(points, turn))
  return {
    step,
    signal: ready(standardizing),
    fitted: ready(product(standardizing, shapeGains(shape, points))),
    harmonics: harmonicWeights(points, Math.sqrt(turn.x * turn.x + turn.y * turn.y))
  }
}

function ready(gains: Gains): PermutedSpectrum {
  const { re, im } = kernelSpectrum(gains)
  return planFilter(re.length).permute(re, im)
}

/**
 * One unit of wall, half a unit later than the first of the two revolutions it was made from: `[512 / step]` elements,
 * element i at ruler point `first + i · step`. Its columns are views that hold until the next unit comes.
 */
export interface ScannedUnit {
  readonly first: number
  readonly step: number
  readonly signal: Signal<'standardized', 'angle'>
  /** complex size of the notch's shape fitted at each place, 1 = the named notch */
  readonly fitted: Signal<'fitted', 'angle'>
  /** what was placed under it, and its mean over one revolution around each element, recorded units */
  readonly placed: { readonly x: Float64Array; readonly y: Float64Array }
  readonly mean: { readonly x: Float64Array; readonly y: Float64Array }
  /** content of the placed signal once, twice and three times a revolution: longer half axis, standardized, `[3]` */
  readonly harmonics: Float64Array
}

/** Elements of a revolution from which its first three harmonics are taken. */
const COARSE = 64

/**
 * Scans unit after unit: band, standardization and the notch's shape are kernels of ± half a revolution, applied
 * together, from one contiguous copy of two revolutions: one transform forward, two back.
 */
export class Scanning {
  readonly #kernels: ScanKernels
  readonly #sink: (unit: ScannedUnit) => Result<void>
  readonly #points: number
  readonly #plan: FilterPlan
  /** two revolutions as they were placed; the same filtered; and fitted: `[2 · points]` */
  readonly #placed: Columns
  readonly #signal: ComplexColumns
  readonly #fitted: ComplexColumns
  /** what of these is handed on */
  readonly #views: Omit<ScannedUnit, 'first' | 'step' | 'signal' | 'fitted'>
  readonly #signalView: Columns
  readonly #fittedView: Columns
  #first: number | undefined

  constructor(kernels: ScanKernels, sink: (unit: ScannedUnit) => Result<void>) {
    const points = elementsOf(kernels.step)
    this.#kernels = kernels
    this.#sink = sink
    this.#points = points
    this.#plan = planFilter(2 * points)
    const column = (length = 2 * points) => new Float64Array(length)
    this.#placed = { x: column(), y: column() }
    this.#signal = { re: column(), im: column() }
    this.#fitted = { re: column(), im: column() }
    const middle = (one: Float64Array, other: Float64Array): Columns => ({
      x: one.subarray(points / 2, points / 2 + points),
      y: other.subarray(points / 2, points / 2 + points)
    })
    const mean = { x: column(points), y: column(points) }
    this.#views = { placed: middle(this.#placed.x, this.#placed.y), mean, harmonics: new Float64Array(3) }
    this.#signalView = middle(this.#signal.re, this.#signal.im)
    this.#fittedView = middle(this.#fitted.re, this.#fitted.im)
  }

  take({ signal: { first: now, x, y } }: Revolution): Result<void> {
    const before = this.#first
    this.#first = now
    this.#append(x, y)
    if (before === undefined) return
    const { placed, mean, harmonics } = this.#views
    this.#filter()
    harmonicsOf(placed, this.#kernels.harmonics, harmonics)
    slidingMeans(this.#placed, mean)
    const first = before + UNIT / 2
    return this.#sink({
      first,
      step: this.#kernels.step,
      signal: { state: 'standardized', axis: 'angle', first, x: this.#signalView.x, y: this.#signalView.y },
      fitted: { state: 'fitted', axis: 'angle', first, x: this.#fittedView.x, y: this.#fittedView.y },
      placed,
      mean,
      harmonics
    })
  }

  /** A revolution behind the one before it. */
  #append(x: Float64Array, y: Float64Array): void {
    const points = this.#points
    this.#placed.x.copyWithin(0, points)
    this.#placed.y.copyWithin(0, points)
    this.#placed.x.set(x, points)
    this.#placed.y.set(y, points)
  }

  #filter(): void {
    this.#signal.re.set(this.#placed.x)
    this.#signal.im.set(this.#placed.y)
    const { signal, fitted } = this.#kernels
    this.#plan.filterTwice(this.#signal, [signal, fitted], this.#fitted)
  }
}

/** Gains of the fit of a shape: conj of its transform, Σ s(j) exp(+2πi·k·j/512). */
function shapeGains(shape: Float64Array, points: number): Gains {
  const turn = { x: Float64Array.from({ length: UNIT }, cosineAt), y: Float64Array.from({ length: UNIT }, sineAt) }
  const re = Float64Array.from({ length: points }, (_, k) => against(shape, turn.x, k <= points / 2 ? k : k - points))
  const im = Float64Array.from({ length: points }, (_, k) => against(shape, turn.y, k <= points / 2 ? k : k - points))
  return { re, im }
}

const cosineAt = (_: unknown, at: number): number => cos((2 * PI * at) / UNIT)
const sineAt = (_: unknown, at: number): number => sin((2 * PI * at) / UNIT)

/** Σ s(j) · turn at k·j, which goes around a whole number of times. */
function against(shape: Float64Array, turn: Float64Array, cycles: number): number {
  const half = (shape.length - 1) / 2
  let sum = 0
  for (let j = -half; j <= half; j++) sum += shape[j + half]! * turn[(cycles * j) & (UNIT - 1)]!
  return sum
}

const constant = (points: number, { x, y }: Turn): Gains => ({
  re: new Float64Array(points).fill(x),
  im: new Float64Array(points).fill(y)
})

const product = (a: Gains, b: Gains): Gains => ({
  re: a.re.map((value, k) => value * b.re[k]! - a.im[k]! * b.im[k]!),
  im: a.re.map((value, k) => value * b.im[k]! + a.im[k]! * b.re[k]!)
})

/** Cosines and sines of every `every`-th element of a turn, once, twice and three times around; half axes in standardized units. */
function harmonicWeights(points: number, gain: number): HarmonicWeights {
  const every = points / COARSE
  const cosine = (at: number) => cos((2 * PI * (at & (points - 1))) / points)
  const table = new Float64Array(6 * COARSE)
  for (let i = 0; i < COARSE; i++) {
    for (let k = 1; k <= 3; k++) {
      table[6 * i + 2 * k - 2] = cosine(k * i * every)
      table[6 * i + 2 * k - 1] = cosine(k * i * every + points - points / 4)
    }
  }
  return { every, table, gain: (gain * every) / points }
}
