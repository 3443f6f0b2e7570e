import { giveBack, outgrown } from '@trueloop/ground/numerics'
import type { ScannedUnit } from '../signal/index.ts'

/**
 * The wall of one pass as it is judged, on the ruler: element i of every column lies at ruler point `first + i · step`
 * (512 ruler points a revolution), element i + perTurn one revolution further on. There is no seam at the index pulse: a
 * row is only a view. Bounded: a pass longer than can be placed in depth is not kept.
 */
export interface Sheet {
  readonly first: number
  readonly step: number
  readonly perTurn: number
  readonly length: number
  /** standardized signal in the band: 1 = peak-to-peak of the named notch, lift-off along −x */
  readonly x: Float64Array
  readonly y: Float64Array
  /** complex size of the named notch's shape fitted at each place; the named notch itself has the size 1 */
  readonly cx: Float64Array
  readonly cy: Float64Array
  /** content of the placed signal once, twice and three times a revolution, standardized, `[length / perTurn, 3]` */
  readonly harmonics: Float64Array
}

const LEAST_UNITS = 128

/**
 * Gathers a sheet unit by unit. Of a pass longer than `most` units the older half is given up again and again: `lost`
 * tells that; what is left always is the newest part.
 */
export class SheetBuilder {
  lost = false
  units = 0
  first = 0
  x = new Float64Array(0)
  y = new Float64Array(0)
  cx = new Float64Array(0)
  cy = new Float64Array(0)
  harmonics = new Float64Array(0)
  readonly step: number
  readonly perTurn: number
  readonly #most: number

  constructor({ step, perTurn, most }: { readonly step: number; readonly perTurn: number; readonly most: number }) {
    this.step = step
    this.perTurn = perTurn
    this.#most = most
  }

  /** Elements that are there. */
  get length(): number {
    return this.units * this.perTurn
  }

  /** @returns how many units at the beginning were given up for it */
  append({ first, signal, fitted, harmonics }: ScannedUnit): number {
    const dropped = this.#makeRoom()
    if (this.units === 0) this.first = first
    const at = this.length
    this.x.set(signal.x, at)
    this.y.set(signal.y, at)
    this.cx.set(fitted.x, at)
    this.cy.set(fitted.y, at)
    this.harmonics.set(harmonics, 3 * this.units)
    this.units++
    return dropped
  }

  build(): Sheet {
    const { first, step, perTurn, length, units } = this
    const to = (column: Float64Array, n = length) => column.subarray(0, n)
    return {
      first,
      step,
      perTurn,
      length,
      x: to(this.x),
      y: to(this.y),
      cx: to(this.cx),
      cy: to(this.cy),
      harmonics: to(this.harmonics, 3 * units)
    }
  }

  #makeRoom(): number {
    const room = this.harmonics.length / 3
    if (this.units < room) return 0
    if (room < this.#most) {
      this.#resize(Math.min(this.#most, Math.max(LEAST_UNITS, 2 * room)))
      return 0
    }
    return this.#giveUp(Math.floor(this.units / 2))
  }

  /** What was built holds no longer. */
  release(): void {
    for (const column of [this.x, this.y, this.cx, this.cy, this.harmonics]) giveBack(column)
    this.x = this.y = this.cx = this.cy = this.harmonics = new Float64Array(0)
    this.units = 0
  }

  #resize(units: number): void {
    const size = units * this.perTurn
    this.x = outgrown(this.x, size)
    this.y = outgrown(this.y, size)
    this.cx = outgrown(this.cx, size)
    this.cy = outgrown(this.cy, size)
    this.harmonics = outgrown(this.harmonics, 3 * units)
  }

  #giveUp(units: number): number {
    const n = units * this.perTurn
    for (const column of [this.x, this.y, this.cx, this.cy]) column.copyWithin(0, n, this.length)
    this.harmonics.copyWithin(0, 3 * units, 3 * this.units)
    this.first += n * this.step
    this.units -= units
    this.lost = true
    return units
  }
}
