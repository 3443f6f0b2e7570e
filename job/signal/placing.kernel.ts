/** Samples with their ruler coordinates, ascending; only the part [from, to) is looked at. */
export interface Placeable {
  readonly at: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
  readonly from: number
  readonly to: number
}

/** Elements on the ruler: element n lies at `origin + n·step`; those from number `from` to `to` are meant. */
export interface Elements {
  readonly origin: number
  readonly step: number
  readonly from: number
  readonly to: number
}

/** A stretch of ruler: values, and for each element the effective number of samples that made it (0 where there were none). */
export interface Placed {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly weight: Float64Array
  /** elements from this number on all have one weight; all elements may differ where it is absent */
  alike?: number
}

/** Room for so many placed elements. */
export function placedRoom(elements: number): Placed {
  const all = new Float64Array(3 * elements)
  return {
    x: all.subarray(0, elements),
    y: all.subarray(elements, 2 * elements),
    weight: all.subarray(2 * elements)
  }
}

/**
 * Places samples, however they lie, on elements of the ruler: at each the mean of the samples weighted by a cubic B-spline
 * of fixed width on the ruler. A constant stays that constant exactly in weight; where no sample is near, weight is 0 and
 * the value NaN.
 *
 * @param samples ruler coordinates in points, columns `[n]`
 * @param knot distance between the spline's knots, points
 * @param out written at the elements' own numbers
 */
export function placeUneven(samples: Placeable, elements: Elements & { readonly knot: number }, out: Placed): void {
  const { at, x, y, to } = samples
  const { origin, step, knot } = elements
  const { x: outX, y: outY, weight } = out
  const reach = 2 * knot
  const perKnot = 1 / knot
  let lo = samples.from
  for (let n = elements.from; n < elements.to; n++) {
    const center = origin + n * step
    while (lo < to && at[lo]! <= center - reach) lo++
    let sum = 0
    let square = 0
    let sx = 0
    let sy = 0
    // the four pieces of the spline one after the other, each with a loop of its own: no branch within
    let i = lo
    for (; i < to; i++) {
      const u = (center - at[i]!) * perKnot
      if (u < 1) break
      const v = 2 - u
      const w = v * v * v
      sum += w
      square += w * w
      sx += w * x[i]!
      sy += w * y[i]!
    }
    for (; i < to; i++) {
      const u = (center - at[i]!) * perKnot
      if (u < 0) break
      const w = 4 + u * u * (3 * u - 6)
      sum += w
      square += w * w
      sx += w * x[i]!
      sy += w * y[i]!
    }
    for (; i < to; i++) {
      const u = (at[i]! - center) * perKnot
      if (u >= 1) break
      const w = 4 + u * u * (3 * u - 6)
      sum += w
      square += w * w
      sx += w * x[i]!
      sy += w * y[i]!
    }
    for (; i < to; i++) {
      const d = at[i]! - center
      if (d >= reach) break
      const v = 2 - d * perKnot
      const w = v * v * v
      sum += w
      square += w * w
      sx += w * x[i]!
      sy += w * y[i]!
    }
    outX[n] = sx / sum
    outY[n] = sy / sum
    weight[n] = square > 0 ? (sum * sum) / square : 0
  }
}
