import type { ConditionedRevolution } from '../signal/index.ts'
import { UNIT } from '../signal/index.ts'
import { type MeanTrace, TRACE_STEP } from './edges.ts'

/**
 * A whole reference scan on its ruler: columns `[512·units]`, element i at ruler point `first + i`. Only a reference scan
 * is ever held whole; its length is bounded.
 */
export interface Wall {
  readonly first: number
  readonly length: number
  /** conditioned */
  readonly x: Float64Array
  readonly y: Float64Array
  /** sliding mean over a revolution */
  readonly meanX: Float64Array
  readonly meanY: Float64Array
  /** placed, less the sliding mean */
  readonly restX: Float64Array
  readonly restY: Float64Array
}

export const MOST_UNITS = 4096

/** Gathers conditioned revolutions into a wall. */
export class WallBuilder {
  readonly #units: ConditionedRevolution[] = []

  add(unit: ConditionedRevolution): void {
    this.#units.push(unit)
  }

  get units(): number {
    return this.#units.length
  }

  build(): Wall {
    const length = this.#units.length * UNIT
    const column = (of: (unit: ConditionedRevolution) => Float64Array) => {
      const whole = new Float64Array(length)
      this.#units.forEach((unit, i) => {
        whole.set(of(unit), i * UNIT)
      })
      return whole
    }
    const meanX = column((unit) => unit.mean.x)
    const meanY = column((unit) => unit.mean.y)
    return {
      first: this.#units[0]?.signal.first ?? 0,
      length,
      x: column((unit) => unit.signal.x),
      y: column((unit) => unit.signal.y),
      meanX,
      meanY,
      restX: column((unit) => unit.placed.x).map((value, i) => value - meanX[i]!),
      restY: column((unit) => unit.placed.y).map((value, i) => value - meanY[i]!)
    }
  }
}

/** The sliding mean of a wall, thinned. */
export function traceOf(wall: Wall): MeanTrace {
  const count = Math.floor(wall.length / TRACE_STEP)
  const every = (column: Float64Array) => Float64Array.from({ length: count }, (_, i) => column[i * TRACE_STEP]!)
  const at = Float64Array.from({ length: count }, (_, i) => wall.first + i * TRACE_STEP)
  return { at, x: every(wall.meanX), y: every(wall.meanY) }
}
