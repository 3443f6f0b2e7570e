import type { Result } from '@trueloop/ground/refusal'
import type { Revolution } from './angle-ruler.ts'
import { type Band, UNIT } from './band.ts'
import { type Conditioned, conditioner } from './condition.ts'
import type { Axis } from './signal.ts'
import type { Unit } from './unit.ts'

/** A conditioned unit with what it was made from. It lies half a unit later than unit `a`. */
export interface ConditionedUnit<A extends Axis, U extends Unit<A>> extends Conditioned<A> {
  /** placed values under it, `[512]` */
  readonly placed: { readonly x: Float64Array; readonly y: Float64Array }
  readonly a: U
  readonly b: U
}

/** Conditions unit after unit: whatever comes in order of ruler number gives one conditioned unit for each neighbor pair. */
export class Conditioning<A extends Axis, U extends Unit<A>> {
  readonly #condition: (two: Conditioned<A>['mean']) => Conditioned<A>
  readonly #sink: (unit: ConditionedUnit<A, U>) => Result<void>
  #before: U | undefined

  constructor(band: Band, sink: (unit: ConditionedUnit<A, U>) => Result<void>) {
    this.#condition = conditioner<A>(band)
    this.#sink = sink
  }

  take(unit: U): Result<void> {
    const a = this.#before
    this.#before = unit
    if (a === undefined) return
    const both = new Float64Array(4 * UNIT)
    const x = joined(both.subarray(0, 2 * UNIT), a.signal.x, unit.signal.x)
    const y = joined(both.subarray(2 * UNIT), a.signal.y, unit.signal.y)
    const conditioned = this.#condition({ state: 'placed', axis: unit.signal.axis, first: a.signal.first, x, y })
    const middle = (two: Float64Array) => two.subarray(UNIT / 2, UNIT / 2 + UNIT)
    return this.#sink({ ...conditioned, placed: { x: middle(x), y: middle(y) }, a, b: unit })
  }
}

function joined(two: Float64Array, a: Float64Array, b: Float64Array): Float64Array {
  two.set(a, 0)
  two.set(b, UNIT)
  return two
}

export type ConditionedRevolution = ConditionedUnit<'angle', Revolution>
