import { planFft } from '@trueloop/ground/numerics'
import { type Band, bandSpectrum, UNIT } from './band.ts'
import type { Axis, Signal } from './signal.ts'
import { slidingMeans } from './sliding.kernel.ts'

/** Two neighboring units of placed signal in one contiguous copy `[1024]`. */
export type TwoUnits<A extends Axis> = Signal<'placed', A>

/** One conditioned unit and the sliding mean that was under it, both `[512]`, half a unit after the copy's beginning. */
export interface Conditioned<A extends Axis> {
  readonly signal: Signal<'conditioned', A>
  readonly mean: Signal<'placed', A>
}

/**
 * Makes the conditioner of one band: from two contiguous units the 512 points in their middle, filtered by the symmetric
 * kernel of ± half a unit (zero phase). Each output is computed once from one contiguous copy.
 */
export function conditioner<A extends Axis>(band: Band): (two: TwoUnits<A>) => Conditioned<A> {
  const spectrum = bandSpectrum(band)
  const fft = planFft(2 * UNIT)
  const re = new Float64Array(2 * UNIT)
  const im = new Float64Array(2 * UNIT)
  return (two) => {
    if (two.x.length !== 2 * UNIT) throw new RangeError(`two units of ${UNIT} points are needed`)
    re.set(two.x)
    im.set(two.y)
    fft.forward(re, im)
    for (let k = 0; k < 2 * UNIT; k++) {
      re[k] = re[k]! * spectrum[k]!
      im[k] = im[k]! * spectrum[k]!
    }
    fft.inverse(re, im)
    const first = two.first + UNIT / 2
    const middle = (column: Float64Array) => column.slice(UNIT / 2, UNIT / 2 + UNIT)
    const mean = { x: new Float64Array(UNIT), y: new Float64Array(UNIT) }
    slidingMeans(two, mean)
    return {
      signal: { state: 'conditioned', axis: two.axis, first, x: middle(re), y: middle(im) },
      mean: { state: 'placed', axis: two.axis, first, ...mean }
    }
  }
}

/** Mean over one unit around each of the middle 512 points of two units; the two end points count half each. */
export function slidingMean(two: Float64Array): Float64Array {
  const out = new Float64Array(two.length / 2)
  slidingMeans({ x: two, y: two }, { x: out, y: out })
  return out
}
