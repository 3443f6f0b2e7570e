/** What the record keeps of the coating along a track: apparent, told by the absolute channel. */
export interface CoatingMet {
  readonly least_mm?: number
  readonly median_mm?: number
  readonly greatest_mm?: number
  /** median over the samples instead of the places: a run that is slower in one place counts that place for more */
  readonly medianOfSamples_mm?: number
  /** share of the places where it lies above the thickest shim: there no number is stated */
  readonly aboveShims: number
  readonly points: readonly { readonly at_m: number; readonly mean_mm: number }[]
}

/** A place along the track, m, and how many samples fell there. */
interface Place {
  readonly at_m: number
  readonly samples: number
}

const BINS = 8192
const POINTS = 200

/** Gathers the coating along a track in fixed memory: counts in bins of thickness and means in bins of place. */
export class CoatingProfile {
  readonly #most: number
  readonly #perBin: number
  readonly #places: Float64Array
  readonly #samples: Float64Array
  readonly #bins: { readonly sum: Float64Array; readonly count: Float64Array; readonly length_m: number }
  #least = Number.POSITIVE_INFINITY
  #greatest = Number.NEGATIVE_INFINITY
  #read = 0
  #above = 0

  constructor({ most_mm, length_mm }: { readonly most_mm: number; readonly length_mm: number }) {
    this.#most = Math.max(most_mm, 1e-3)
    this.#perBin = BINS / this.#most
    this.#places = new Float64Array(BINS + 1)
    this.#samples = new Float64Array(BINS + 1)
    this.#bins = {
      sum: new Float64Array(POINTS),
      count: new Float64Array(POINTS),
      length_m: length_mm * 1e-3
    }
  }

  /** An apparent coating above the thickest shim. */
  above({ samples }: Place): void {
    this.#read++
    this.#above++
    this.#count(BINS, samples)
  }

  /** @param mm apparent coating */
  take({ at_m, samples }: Place, mm: number): void {
    this.#read++
    this.#count(Math.max(0, Math.min(BINS - 1, Math.floor(mm * this.#perBin))), samples)
    this.#least = Math.min(this.#least, mm)
    this.#greatest = Math.max(this.#greatest, mm)
    const bin = Math.floor((POINTS * at_m) / this.#bins.length_m)
    if (bin < 0 || bin >= POINTS) return
    this.#bins.sum[bin]! += mm
    this.#bins.count[bin]!++
  }

  #count(bin: number, samples: number): void {
    this.#places[bin]!++
    this.#samples[bin]! += samples
  }

  met(): CoatingMet {
    const median_mm = this.#medianOf(this.#places)
    const medianOfSamples_mm = this.#medianOf(this.#samples)
    const { sum, count, length_m } = this.#bins
    const points = [...count.keys()].flatMap((k) =>
      count[k]! > 0 ? [{ at_m: ((k + 0.5) * length_m) / POINTS, mean_mm: sum[k]! / count[k]! }] : []
    )
    return {
      ...(Number.isFinite(this.#least) ? { least_mm: this.#least } : {}),
      ...(median_mm === undefined ? {} : { median_mm }),
      ...(this.#above === 0 && Number.isFinite(this.#greatest) ? { greatest_mm: this.#greatest } : {}),
      ...(medianOfSamples_mm === undefined ? {} : { medianOfSamples_mm }),
      aboveShims: this.#read > 0 ? this.#above / this.#read : 0,
      points
    }
  }

  #medianOf(counts: Float64Array): number | undefined {
    const half = counts.reduce((sum, count) => sum + count, 0) / 2
    if (half === 0) return undefined
    let before = 0
    for (let i = 0; i < BINS; i++) {
      const count = counts[i]!
      if (count > 0 && before + count >= half) return (i + (half - before) / count) / this.#perBin
      before += count
    }
    return undefined
  }
}
