import { exp, log } from '@trueloop/ground/numerics'

/** What the absolute channel read over a coating of known thickness. */
export interface AbsoluteReading {
  readonly shim_mm: number
  readonly level: number
}

/** A thickness, or on which side of the shims a reading lies. */
export type CoatingRead = number | 'thinner than the shims' | 'thicker than the shims' | 'not read'

const STEPS = 512
const HALVINGS = 60
const LEAST_DECAY = 0.1
const MOST_DECAY = 20

/**
 * Coating thickness from the absolute channel. Coupling between coil and metal falls nearly as exp(−h/λ) with lift-off h
 * (common practice, no source: one term of the coil's integral), so the curve is level + k·exp(−h/λ) by least squares
 * over the shims, and what the shims themselves differ from it is added in straight lines: at a shim the scale is exact.
 * With two shims it is a straight line. It holds between the thinnest and the thickest shim and refuses beyond.
 */
export class CoatingScale {
  readonly least_mm: number
  readonly most_mm: number
  readonly #levels: Float64Array
  readonly #rising: boolean
  readonly #margin: number

  /** @param margin share of the range by which a reading may lie beyond an end shim and still be that shim */
  constructor(readings: readonly AbsoluteReading[], margin: number) {
    const sorted = [...readings].sort((a, b) => a.shim_mm - b.shim_mm)
    this.least_mm = sorted[0]!.shim_mm
    this.most_mm = sorted.at(-1)!.shim_mm
    const of = curveOf(sorted)
    const span = this.most_mm - this.least_mm
    this.#levels = Float64Array.from({ length: STEPS + 1 }, (_, k) => of(this.least_mm + (span * k) / STEPS))
    this.#rising = this.#levels[STEPS]! > this.#levels[0]!
    this.#margin = margin
  }

  /** Level of the absolute channel over so much coating. */
  levelAt(mm: number): number {
    const place = (STEPS * (mm - this.least_mm)) / (this.most_mm - this.least_mm)
    const k = Math.max(0, Math.min(STEPS - 1, Math.floor(place)))
    return this.#levels[k]! + (place - k) * (this.#levels[k + 1]! - this.#levels[k]!)
  }

  read(level: number): CoatingRead {
    if (!Number.isFinite(level)) return 'not read'
    const levels = this.#levels
    const sign = this.#rising ? 1 : -1
    const past = (k: number) => sign * (level - levels[k]!)
    const slack = (k: number, next: number) => this.#margin * STEPS * Math.abs(levels[next]! - levels[k]!)
    if (past(0) < 0) return -past(0) <= slack(0, 1) ? this.least_mm : 'thinner than the shims'
    if (past(STEPS) > 0) return past(STEPS) <= slack(STEPS, STEPS - 1) ? this.most_mm : 'thicker than the shims'
    let [low, high] = [0, STEPS]
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (past(middle) >= 0) low = middle
      else high = middle
    }
    const rise = levels[low + 1]! - levels[low]!
    const part = rise === 0 ? 0 : (level - levels[low]!) / rise
    return this.least_mm + ((this.most_mm - this.least_mm) * (low + part)) / STEPS
  }
}

function curveOf(readings: readonly AbsoluteReading[]): (mm: number) => number {
  const decay = readings.length > 2 ? bestDecay(readings) : undefined
  const fit = decay === undefined ? () => 0 : fitted(readings, decay).at
  const off = readings.map(({ shim_mm, level }) => level - fit(shim_mm))
  return (mm) => fit(mm) + between(readings, off, mm)
}

function between(readings: readonly AbsoluteReading[], values: readonly number[], mm: number): number {
  let k = 0
  while (k < readings.length - 2 && readings[k + 1]!.shim_mm <= mm) k++
  const [a, b] = [readings[k]!.shim_mm, readings[k + 1]!.shim_mm]
  return values[k]! + ((mm - a) / (b - a)) * (values[k + 1]! - values[k]!)
}

/** The decay length of least squares, by golden section over its logarithm. */
function bestDecay(readings: readonly AbsoluteReading[]): number {
  const span = readings.at(-1)!.shim_mm - readings[0]!.shim_mm
  const miss = (place: number) => fitted(readings, exp(place)).miss
  let [low, high] = [log(LEAST_DECAY * span), log(MOST_DECAY * span)]
  const golden = 0.6180339887498949
  for (let k = 0; k < HALVINGS; k++) {
    const a = high - golden * (high - low)
    const b = low + golden * (high - low)
    if (miss(a) <= miss(b)) high = b
    else low = a
  }
  return exp(0.5 * (low + high))
}

/** Straight line of the level over exp(−h/decay). */
function fitted(readings: readonly AbsoluteReading[], decay: number) {
  const u = readings.map(({ shim_mm }) => exp(-shim_mm / decay))
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length
  const [um, lm] = [mean(u), mean(readings.map(({ level }) => level))]
  let [uu, ul] = [0, 0]
  readings.forEach(({ level }, i) => {
    uu += (u[i]! - um) * (u[i]! - um)
    ul += (u[i]! - um) * (level - lm)
  })
  const slope = ul / uu
  const at = (mm: number) => lm + slope * (exp(-mm / decay) - um)
  const miss = readings.reduce((sum, { shim_mm, level }) => sum + (level - at(shim_mm)) * (level - at(shim_mm)), 0)
  return { at, miss }
}
