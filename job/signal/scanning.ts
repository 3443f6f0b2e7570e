import { cos, type FilterPlan, type PermutedSpectrum, PI, planFilter, sin } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import type { Revolution } from './angle-ruler.ts'
import { type Band, bandGains, type Gains, kernelSpectrum, UNIT } from './band.ts'
import { slidingMeanInto } from './condition.ts'
import type { Signal, Turn } from './signal.ts'

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
  readonly gain: number
  readonly signal: PermutedSpectrum
  readonly fitted: PermutedSpectrum
}

export function scanKernels({ band, turn, shape, step }: ScanningRule): ScanKernels {
  const points = UNIT / step
  const standardizing = product(bandGains(band, points), constant(points, turn))
  return {
    step,
    gain: Math.sqrt(turn.x * turn.x + turn.y * turn.y),
    signal: ready(standardizing),
    fitted: ready(product(standardizing, shapeGains(shape, points)))
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
  readonly #x: Float64Array
  readonly #y: Float64Array
  readonly #re: Float64Array
  readonly #im: Float64Array
  readonly #zRe: Float64Array
  readonly #zIm: Float64Array
  readonly #mean: { readonly x: Float64Array; readonly y: Float64Array }
  readonly #harmonics = new Float64Array(3)
  /** elements of which one is taken for the harmonics, and a turn of cosines */
  readonly #coarse: number
  readonly #cosines: Float64Array
  #before: Revolution | undefined

  constructor(kernels: ScanKernels, sink: (unit: ScannedUnit) => Result<void>) {
    const points = UNIT / kernels.step
    this.#kernels = kernels
    this.#sink = sink
    this.#points = points
    this.#plan = planFilter(2 * points)
    this.#coarse = points / COARSE
    this.#cosines = Float64Array.from({ length: points }, (_, i) => cos((2 * PI * i) / points))
    const column = () => new Float64Array(2 * points)
    this.#x = column()
    this.#y = column()
    this.#re = column()
    this.#im = column()
    this.#zRe = column()
    this.#zIm = column()
    this.#mean = { x: new Float64Array(points), y: new Float64Array(points) }
  }

  take(revolution: Revolution): Result<void> {
    const a = this.#before
    this.#before = revolution
    if (a === undefined) return
    const points = this.#points
    this.#x.set(a.signal.x, 0)
    this.#x.set(revolution.signal.x, points)
    this.#y.set(a.signal.y, 0)
    this.#y.set(revolution.signal.y, points)
    this.#filter()
    this.#measureHarmonics()
    slidingMeanInto(this.#x, this.#mean.x)
    slidingMeanInto(this.#y, this.#mean.y)
    const first = a.signal.first + UNIT / 2
    const { step } = this.#kernels
    const middle = (column: Float64Array) => column.subarray(points / 2, points / 2 + points)
    return this.#sink({
      first,
      step,
      signal: { state: 'standardized', axis: 'angle', first, x: middle(this.#zRe), y: middle(this.#zIm) },
      fitted: { state: 'fitted', axis: 'angle', first, x: middle(this.#re), y: middle(this.#im) },
      placed: { x: middle(this.#x), y: middle(this.#y) },
      mean: this.#mean,
      harmonics: this.#harmonics
    })
  }

  #filter(): void {
    this.#zRe.set(this.#x)
    this.#zIm.set(this.#y)
    const { signal, fitted } = this.#kernels
    this.#plan.filterTwice({ re: this.#zRe, im: this.#zIm }, [signal, fitted], { re: this.#re, im: this.#im })
  }

  /**
   * Once, twice and three times a revolution, over the unit itself: both senses of a cycle make an
   * ellipse; its longer half axis is the sum of their sizes.
   */
  #measureHarmonics(): void {
    const x = this.#x
    const y = this.#y
    const n = this.#points
    for (let k = 1; k <= 3; k++) {
      let xc = 0
      let xs = 0
      let yc = 0
      let ys = 0
      for (let i = 0, at = 0; i < n; i += this.#coarse) {
        const c = this.#cosines[at]!
        const s = this.#cosines[(at + n - n / 4) & (n - 1)]!
        const u = x[n / 2 + i]!
        const v = y[n / 2 + i]!
        xc += u * c
        xs += u * s
        yc += v * c
        ys += v * s
        at = (at + k * this.#coarse) & (n - 1)
      }
      const forth = Math.sqrt((xc + ys) * (xc + ys) + (yc - xs) * (yc - xs))
      const back = Math.sqrt((xc - ys) * (xc - ys) + (yc + xs) * (yc + xs))
      this.#harmonics[k - 1] = (this.#kernels.gain * this.#coarse * (forth + back)) / n
    }
  }
}

/** Gains of the fit of a shape: conj of its transform, Σ s(j) exp(+2πi·k·j/512). */
function shapeGains(shape: Float64Array, points: number): Gains {
  const half = (shape.length - 1) / 2
  const re = new Float64Array(points)
  const im = new Float64Array(points)
  for (let k = 0; k < points; k++) {
    const cycles = k <= points / 2 ? k : k - points
    for (let j = -half; j <= half; j++) {
      const turns = (cycles * j) / UNIT
      const angle = 2 * PI * (turns - Math.floor(turns))
      re[k] = re[k]! + shape[j + half]! * cos(angle)
      im[k] = im[k]! + shape[j + half]! * sin(angle)
    }
  }
  return { re, im }
}

const constant = (points: number, { x, y }: Turn): Gains => ({
  re: new Float64Array(points).fill(x),
  im: new Float64Array(points).fill(y)
})

const product = (a: Gains, b: Gains): Gains => ({
  re: a.re.map((value, k) => value * b.re[k]! - a.im[k]! * b.im[k]!),
  im: a.re.map((value, k) => value * b.im[k]! + a.im[k]! * b.re[k]!)
})
