/** The line through time stamps. */

export interface Line {
  /** seconds a sample */
  readonly step_s: number
  /** relative uncertainty of the step (three standard deviations of the slope, not below 1e-9) */
  readonly tolerance: number
}

/**
 * Least squares of stamp (s) against sample number, one point a plateau: where several rows share a stamp the point is
 * at their middle, and the first and last plateau, which may be cut, are left out. So one rule serves stamps that are
 * fine, coarse (rounded to nearest), or given by the block. Sums only: memory does not grow. Textbook simple regression.
 */
export class Trend {
  private readonly sum = new Float64Array(6)
  private readonly origin = new Float64Array(2)
  private start = 0
  private last = 0
  private value = Number.NaN
  private plateaus = 0
  private longest = 0
  private readonly ends = new Float64Array(4)

  add(sample: number, stamp: number): void {
    if (stamp === this.value) {
      this.last = sample
      return
    }
    this.closePlateau()
    if (this.plateaus === 0) {
      this.ends[0] = sample
      this.ends[1] = stamp
    }
    this.ends[2] = sample
    this.ends[3] = stamp
    this.start = sample
    this.last = sample
    this.value = stamp
    this.plateaus++
  }

  private closePlateau(): void {
    const length = this.last - this.start
    if (this.plateaus > 0 && length > this.longest) this.longest = length
    if (this.plateaus > 1) this.point((this.start + this.last) / 2, this.value)
  }

  private point(sample: number, stamp: number): void {
    const { sum, origin } = this
    if (sum[0] === 0) {
      origin[0] = sample
      origin[1] = stamp
    }
    const k = sample - origin[0]!
    const t = stamp - origin[1]!
    sum[0]!++
    sum[1]! += k
    sum[2]! += t
    sum[3]! += k * k
    sum[4]! += k * t
    sum[5]! += t * t
  }

  /** The line, or undefined where the stamps do not advance. */
  line(): Line | undefined {
    const [n, k, t, kk, kt, tt] = this.sum as unknown as [number, number, number, number, number, number]
    if (n < 3) return this.chord()
    const varK = kk - (k * k) / n
    const cov = kt - (k * t) / n
    const step = cov / varK
    if (!(varK > 0) || !(step > 0)) return undefined
    const scatter = Math.max(0, (tt - (t * t) / n - step * cov) / n)
    return { step_s: step, tolerance: Math.max(1e-9, (3 * Math.sqrt(scatter / varK)) / step) }
  }

  /** Too few points for a fit: the two ends, sound only where no two rows share a stamp. */
  private chord(): Line | undefined {
    const step = (this.ends[3]! - this.ends[1]!) / (this.ends[2]! - this.ends[0]!)
    return this.plateaus > 1 && this.longest === 0 && step > 0 ? { step_s: step, tolerance: 1e-6 } : undefined
  }
}

/** The number with the fewest digits that lies within the uncertainty: a rate of 25600.00003 ± 0.0001 is 25600. */
export function roundest(value: number, tolerance: number): number {
  for (let digits = 1; digits <= 12; digits++) {
    const round = Number(value.toPrecision(digits))
    if (Math.abs(round - value) <= tolerance * value) return round
  }
  return value
}
