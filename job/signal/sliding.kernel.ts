interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/**
 * Means over one unit around each element of the middle of two units; the two end elements count half each. Both columns
 * in one pass: each is a chain of sums that leaves room for the other. A unit is a power of two long, so that its share is exact.
 * @param two columns `[2n]`
 * @param out columns `[n]`, where the first is the mean around element n/2
 */
export function slidingMeans({ x, y }: Columns, { x: outX, y: outY }: Columns): void {
  const unit = outX.length
  const share = 1 / unit
  let sx = 0.5 * (x[0]! + x[unit]!)
  let sy = 0.5 * (y[0]! + y[unit]!)
  for (let i = 1; i < unit; i++) {
    sx += x[i]!
    sy += y[i]!
  }
  outX[0] = sx * share
  outY[0] = sy * share
  let xa = x[0]!
  let xb = x[unit]!
  let ya = y[0]!
  let yb = y[unit]!
  for (let i = 1, k = (unit + 1) & 0x3ffffff; i < unit; i++, k = (k + 1) & 0x3ffffff) {
    const xc = x[i]!
    const xd = x[k]!
    const yc = y[i]!
    const yd = y[k]!
    sx += 0.5 * (xb + xd - xa - xc)
    sy += 0.5 * (yb + yd - ya - yc)
    outX[i] = sx * share
    outY[i] = sy * share
    xa = xc
    xb = xd
    ya = yc
    yb = yd
  }
}
