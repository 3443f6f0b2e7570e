/**
 * Number of the first element in [from, to) that is `level` or more; `to` where there is none. NaN is not. Four elements
 * at a time: what the compiler asks of the array once a round is shared.
 */
export function firstFrom(level: number, values: Float64Array, { from, to }: Range): number {
  let i = from & 0x3ffffff
  for (; i < to - 3; i = (i + 4) & 0x3ffffff) {
    if (values[i]! >= level) return i
    if (values[i + 1]! >= level) return i + 1
    if (values[i + 2]! >= level) return i + 2
    if (values[i + 3]! >= level) return i + 3
  }
  for (; i < to; i++) if (values[i]! >= level) return i
  return to
}

/** Number of the first element in [from, to) that is less than `level`; `to` where there is none. NaN is not. */
export function firstBelow(level: number, values: Float64Array, { from, to }: Range): number {
  let i = from & 0x3ffffff
  for (; i < to - 3; i = (i + 4) & 0x3ffffff) {
    if (values[i]! < level) return i
    if (values[i + 1]! < level) return i + 1
    if (values[i + 2]! < level) return i + 2
    if (values[i + 3]! < level) return i + 3
  }
  for (; i < to; i++) if (values[i]! < level) return i
  return to
}

export interface Range {
  readonly from: number
  readonly to: number
}
